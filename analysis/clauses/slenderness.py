"""Width to thickness of plates: AISC 360-22 table B4.1b, limits of non-compact sections in flexure (from memory)."""

from __future__ import annotations

import numpy as np

from analysis.clauses.clause import Outcome, clause
from params.steps.arrays import Floats

AISC = "ANSI/AISC 360-22, table B4.1b "
FY_E = {"Fy": ("specified yield strength", "stress"), "E": ("modulus of elasticity", "stress")}


@clause(
    check="flange slenderness",
    what="half flange of an I over its thickness",
    equation="b/(2 tf) <= 0.95 sqrt(kc E / (0.7 Fy)), kc = 4/sqrt(h/tw) between 0.35 and 0.76",
    kind="-",
    symbols={
        "b": ("flange width", "length"),
        "tf": ("flange thickness", "length"),
        "h": ("clear depth of the web", "length"),
        "tw": ("web thickness", "length"),
        "kc": ("restraint by the web", "-"),
        **FY_E,
    },
    limits="flanges of built-up I sections; taken for cast and deposited ones too",
    reference=AISC + "case 11",
    working=(
        "kc = max(0.35, min(0.76, 4/sqrt(h/tw)))",
        "demand = b/(2*tf)",
        "capacity = 0.95*sqrt(kc*E/(0.7*Fy))",
    ),
)
def flange_outstand(*, b: Floats, tf: Floats, h: Floats, tw: Floats, Fy: float, E: float) -> Outcome:
    """Outstanding flange of an I.

    >>> out = flange_outstand(b=240.0, tf=45.0, h=510.0, tw=40.0, Fy=345.0, E=200e3)
    >>> round(float(out.demand), 4), round(float(out.symbols["kc"]), 2)
    (2.6667, 0.76)
    """
    kc = np.clip(4.0 / np.sqrt(h / tw), 0.35, 0.76)
    return Outcome(b / (2.0 * tf), 0.95 * np.sqrt(kc * E / (0.7 * Fy)), {"kc": kc})


@clause(
    check="web slenderness",
    what="clear depth of a web over its thickness, in-plane bending",
    equation="h/tw <= 5.70 sqrt(E / Fy)",
    kind="-",
    symbols={"h": ("clear depth of the web", "length"), "tw": ("web thickness", "length"), **FY_E},
    limits="webs of doubly symmetric I sections and boxes; small axial force",
    reference=AISC + "cases 15 and 19",
    working=(
        "demand = h/tw",
        "capacity = 5.70*sqrt(E/Fy)",
    ),
)
def web_depth(*, h: Floats, tw: Floats, Fy: float, E: float) -> Outcome:
    """Web between flanges; 137 for Fy = 50 ksi and E = 29 000 ksi (the figure of the manual's tables, from memory).

    >>> out = web_depth(h=510.0, tw=40.0, Fy=50.0, E=29000.0)
    >>> round(float(out.demand), 2), round(float(out.capacity))
    (12.75, 137)
    """
    return Outcome(h / tw, 5.70 * np.sqrt(E / Fy))


@clause(
    check="flange slenderness",
    what="flange of a box between its webs over the thickness",
    equation="b/tf <= 1.40 sqrt(E / Fy)",
    kind="-",
    symbols={"b": ("clear width between webs", "length"), "tf": ("flange thickness", "length"), **FY_E},
    limits="flanges of boxes in uniform compression, supported along both edges",
    reference=AISC + "case 17",
    working=(
        "demand = b/tf",
        "capacity = 1.40*sqrt(E/Fy)",
    ),
)
def flange_between_webs(*, b: Floats, tf: Floats, Fy: float, E: float) -> Outcome:
    """Flange of a box; 33.7 for Fy = 50 ksi and E = 29 000 ksi.

    >>> round(float(flange_between_webs(b=10.0, tf=1.0, Fy=50.0, E=29000.0).capacity), 1)
    33.7
    """
    return Outcome(b / tf, 1.40 * np.sqrt(E / Fy))
