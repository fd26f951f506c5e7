"""Pin connections after ASME BTH-1-2020 section 3-3.3 (equations 3-45 to 3-54, from memory; D. Duerr, Pinned connection
strength and behavior, J. Struct. Eng. 132(2) (2006) 182-194). Forces in N, lengths in mm."""

from __future__ import annotations

import numpy as np

from analysis.clauses.clause import Number, Outcome, clause
from params.steps.arrays import Floats

REFERENCE = "ASME BTH-1-2020, "
PLATE: dict[str, tuple[str, str]] = {
    "P": ("resultant force of the pin", "force"),
    "Fu": ("specified tensile strength of the plate", "stress"),
    "Nd": ("design factor", "-"),
    "t": ("width of the boss less its chamfers", "length"),
    "Dh": ("bore", "length"),
    "Dp": ("pin diameter", "length"),
    "Cr": ("strength reduction for a loose pin", "-"),
}
EDGE = {
    "be": ("wall beside the bore, square to the force", "length"),
    "R": ("radius of the boss ahead of the pin", "length"),
}
LIMITS = "one bore on the axis of a round boss; 0.5 <= Dp/Dh <= 1.01"


def loose_pin(Dp: Number, Dh: Number) -> Floats:
    """Cr: 1 where the pin fills more than 0.90 of the bore, else 1 - 0.275 sqrt(1 - (Dp/Dh)^2)."""
    ratio = np.minimum(np.asarray(Dp, dtype=float) / Dh, 1.0)
    return np.where(ratio > 0.90, 1.0, 1.0 - 0.275 * np.sqrt(1.0 - ratio**2))


def fits(Dp: Number, Dh: Number) -> Number:
    """Whether the pin and bore are within the range of the tests behind the equations."""
    ratio = np.asarray(Dp, dtype=float) / Dh
    return (ratio >= 0.5) & (ratio <= 1.01)


@clause(
    check="pin plate tension",
    what="tension across the bore, both sides",
    equation="Pt = Cr Fu/(1.20 Nd) 2 t beff, beff = min(be, 4 t, 0.6 be (Fu/Fy) sqrt(Dh/be))",
    kind="force",
    symbols={
        **PLATE,
        "Fy": ("specified yield strength of the plate", "stress"),
        **EDGE,
        "beff": ("effective wall", "length"),
    },
    limits=LIMITS + "; beff <= 4 t keeps the plate from dishing",
    reference=REFERENCE + "3-3.3.1, equations (3-45) to (3-48)",
    working=(
        "Cr = 1 if Dp/Dh > 0.9",
        "Cr = 1 - 0.275*sqrt(1 - (Dp/Dh)^2) if Dp/Dh <= 0.9",
        "beff = min(be, 4*t, 0.6*be*(Fu/Fy)*sqrt(Dh/be))",
        "demand = P",
        "capacity = Cr*Fu/(1.20*Nd)*2*t*beff",
    ),
)
def tension(
    *, P: Floats, Fy: float, Fu: float, Nd: float, t: float, be: Floats, Dh: float, Dp: float
) -> Outcome:
    """Allowable tensile force through the pin hole.

    Plate of 345/450 MPa, t 40, be 60, bore 80, pin 60, Nd 2: 665.4 kN (case C16).

    >>> out = tension(P=500e3, Fy=345.0, Fu=450.0, Nd=2.0, t=40.0, be=60.0, Dh=80.0, Dp=60.0)
    >>> round(float(out.capacity) / 1e3, 1)
    665.4
    """
    Cr = loose_pin(Dp, Dh)
    beff = np.minimum(np.minimum(be, 4.0 * t), 0.6 * be * (Fu / Fy) * np.sqrt(Dh / np.asarray(be)))
    return Outcome(
        P,
        Cr * Fu / (1.20 * Nd) * 2.0 * t * beff,
        {"Cr": Cr, "beff": beff},
        fits(Dp, Dh),
        "pin does not fit the bore",
    )


@clause(
    check="pin plate fracture",
    what="single plane ahead of the pin",
    equation="Pb = Cr Fu/(1.20 Nd) [1.13 (R - Dh/2) + 0.92 be/(1 + be/Dh)] t",
    kind="force",
    symbols={**PLATE, **EDGE},
    limits=LIMITS,
    reference=REFERENCE + "3-3.3.1, equation (3-49)",
    working=(
        "Cr = 1 if Dp/Dh > 0.9",
        "Cr = 1 - 0.275*sqrt(1 - (Dp/Dh)^2) if Dp/Dh <= 0.9",
        "demand = P",
        "capacity = Cr*Fu/(1.20*Nd)*(1.13*(R - Dh/2) + 0.92*be/(1 + be/Dh))*t",
    ),
)
def fracture(
    *, P: Floats, Fu: float, Nd: float, t: float, R: Floats, be: Floats, Dh: float, Dp: float
) -> Outcome:
    """Allowable force for fracture on one plane beyond the hole.

    >>> out = fracture(P=500e3, Fu=450.0, Nd=2.0, t=40.0, R=100.0, be=60.0, Dh=80.0, Dp=60.0)
    >>> round(float(out.capacity) / 1e3, 1)  # case C17
    609.5
    """
    Cr = loose_pin(Dp, Dh)
    width = 1.13 * (R - Dh / 2.0) + 0.92 * be / (1.0 + be / Dh)
    return Outcome(
        P, Cr * Fu / (1.20 * Nd) * width * t, {"Cr": Cr}, fits(Dp, Dh), "pin does not fit the bore"
    )


@clause(
    check="pin plate shear",
    what="two shear planes ahead of the pin",
    equation="Pv = 0.70 Fu/(1.20 Nd) Av, Av = 2 [a + Dp/2 (1 - cos phi)] t, phi = 55 deg Dp/Dh",
    kind="force",
    symbols={
        **{name: PLATE[name] for name in ("P", "Fu", "Nd", "t", "Dh", "Dp")},
        "R": EDGE["R"],
        "a": ("R - Dh/2, wall ahead of the pin", "length"),
        "phi": ("shear plane locating angle", "angle"),
        "Av": ("area of both planes", "area"),
    },
    limits=LIMITS,
    reference=REFERENCE + "3-3.3.1, equations (3-50) to (3-52)",
    working=(
        "phi = 55*Dp/Dh",
        "a = R - Dh/2",
        "Av = 2*(a + Dp/2*(1 - cos(phi)))*t",
        "demand = P",
        "capacity = 0.70*Fu/(1.20*Nd)*Av",
    ),
)
def double_shear(*, P: Floats, Fu: float, Nd: float, t: float, R: Floats, Dh: float, Dp: float) -> Outcome:
    """Allowable force for double-plane shear.

    >>> out = double_shear(P=500e3, Fu=450.0, Nd=2.0, t=40.0, R=100.0, Dh=80.0, Dp=60.0)
    >>> round(float(out.capacity) / 1e3, 1)  # case C19
    708.2
    """
    phi = np.radians(55.0) * Dp / Dh
    a = R - Dh / 2.0
    Av = 2.0 * (a + Dp / 2.0 * (1.0 - np.cos(phi))) * t
    return Outcome(
        P,
        0.70 * Fu / (1.20 * Nd) * Av,
        {"a": a, "phi": phi, "Av": Av},
        fits(Dp, Dh),
        "pin does not fit the bore",
    )


@clause(
    check="pin bearing",
    what="bearing of the pin on the bore",
    equation="Pp = Fp Dp t, Fp = 1.25 Fy/Nd, or 0.63 Fy/Nd where the pin turns under load for many cycles",
    kind="force",
    symbols={
        **{name: PLATE[name] for name in ("P", "Nd", "t", "Dp")},
        "Fy": ("lesser yield strength of pin and plate", "stress"),
        "Fp": ("allowable bearing stress", "stress"),
        "turns": ("1 where the pin turns under load", "-"),
    },
    limits="bearing on the projected area; no bush",
    reference=REFERENCE + "3-3.3.4, equations (3-53) and (3-54)",
    working=(
        "Fp = 0.63*Fy/Nd if turns > 0",
        "Fp = 1.25*Fy/Nd if turns <= 0",
        "demand = P",
        "capacity = Fp*Dp*t",
    ),
)
def bearing(*, P: Floats, Fy: float, Nd: float, t: float, Dp: float, turns: bool) -> Outcome:
    """Allowable bearing force.

    >>> out = bearing(P=500e3, Fy=345.0, Nd=2.0, t=40.0, Dp=75.0, turns=False)
    >>> round(float(out.capacity) / 1e3, 3)  # case C27
    646.875
    """
    Fp = (0.63 if turns else 1.25) * Fy / Nd
    return Outcome(P, Fp * Dp * t, {"Fp": Fp})


PIN: dict[str, tuple[str, str]] = {
    "P": PLATE["P"],
    "d": ("pin diameter", "length"),
    "Fy": ("specified yield strength of the pin", "stress"),
    "Nd": ("design factor", "-"),
    "share": ("greatest share of the force in one plane, eccentricity included", "-"),
}


@clause(
    check="pin shear",
    what="shear of the pin on its more loaded plane",
    equation="fv = share P / (pi d^2/4) <= Fy/(Nd sqrt(3))",
    kind="stress",
    symbols=PIN,
    limits="solid round pin in double shear",
    reference=REFERENCE + "3-2.3.6",
    working=(
        "demand = share*P/(pi*d^2/4)",
        "capacity = Fy/(Nd*sqrt(3))",
    ),
)
def pin_shear(*, P: Floats, share: Floats, d: float, Fy: float, Nd: float) -> Outcome:
    """Average shear stress of the pin.

    >>> out = pin_shear(P=200e3, share=0.5, d=50.0, Fy=345.0, Nd=3.0)
    >>> round(float(out.demand), 2), round(float(out.capacity), 2)
    (50.93, 66.4)
    """
    return Outcome(share * P / (np.pi / 4.0 * d**2), Fy / (Nd * np.sqrt(3.0)))


@clause(
    check="pin bending",
    what="bending of the pin between its supports, loads spread evenly",
    equation="fb = (P/8)(b + 4 c + 2 a) / (pi d^3/32) <= 1.25 Fy/Nd",
    kind="stress",
    symbols={
        **{name: PIN[name] for name in ("P", "d", "Fy", "Nd")},
        "b": ("width of the boss", "length"),
        "c": ("gap to each support", "length"),
        "a": ("thickness of each support", "length"),
    },
    limits="solid round pin; supports and boss bear evenly",
    reference=REFERENCE + "3-2.3.4 (solid round bars, 1.25 Fy/Nd); moment as EN 1993-1-8:2005 figure 3.11",
    working=(
        "demand = P/8*(b + 4*c + 2*a)/(pi*d^3/32)",
        "capacity = 1.25*Fy/Nd",
    ),
)
def pin_bending(*, P: Floats, b: float, c: float, a: float, d: float, Fy: float, Nd: float) -> Outcome:
    """Bending stress of the pin; the moment of 600 kN over 40 + 4*2 + 2*25 mm is 7.35 kN m (case C33).

    >>> out = pin_bending(P=600e3, b=40.0, c=2.0, a=25.0, d=80.0, Fy=500.0, Nd=3.0)
    >>> round(float(out.demand) * 3.141592653589793 * 80.0**3 / 32.0 / 1e6, 6)
    7.35
    """
    return Outcome(P / 8.0 * (b + 4.0 * c + 2.0 * a) / (np.pi * d**3 / 32.0), 1.25 * Fy / Nd)
