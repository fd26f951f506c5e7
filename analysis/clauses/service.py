"""Stiffness of the arms and what the hydraulics can do."""

from __future__ import annotations

import numpy as np

from analysis.clauses.clause import Outcome, clause
from params.steps.arrays import Floats


@clause(
    check="tip deflection",
    what="movement of the pin relative to the hub",
    equation="sqrt(d2^2 + d3^2) <= L / ratio",
    kind="length",
    symbols={
        "d2": ("movement in the arm's plane", "length"),
        "d3": ("movement sideways", "length"),
        "L": ("pivot centre to pin centre", "length"),
        "ratio": ("length over allowed movement", "-"),
    },
    limits="elastic, small; hub and boss rigid",
    reference="unit-load method; the ratio is a criterion of the parameter file",
    working=(
        "demand = sqrt(d2^2 + d3^2)",
        "capacity = L/ratio",
    ),
)
def deflection(*, d2: Floats, d3: Floats, L: float, ratio: float) -> Outcome:
    """Tip movement against the criterion.

    >>> out = deflection(d2=3.0, d3=4.0, L=1500.0, ratio=300.0)
    >>> float(out.demand), float(out.capacity)
    (5.0, 5.0)
    """
    return Outcome(np.hypot(d2, d3), L / ratio)


@clause(
    check="cylinder pressure",
    what="pressure in the cylinder needed for the load",
    equation="p = F/Abore pushing, |F|/Aannulus pulling, <= relief pressure",
    kind="stress",
    symbols={
        "F": ("cylinder force, pushing positive", "force"),
        "Abore": ("piston area pushing", "area"),
        "Aannulus": ("piston area pulling", "area"),
        "relief": ("relief pressure", "stress"),
    },
    limits="no back pressure, no friction of the seals; cases at relief pressure are left out",
    reference="statics",
    working=(
        "demand = F/Abore if F >= 0",
        "demand = -F/Aannulus if F < 0",
        "capacity = relief",
    ),
    drive=True,
)
def pressure(*, F: Floats, Abore: float, Aannulus: float, relief: float) -> Outcome:
    """Pressure needed; 20 MPa on a piston of 100 mm push 157.08 kN.

    >>> from math import pi
    >>> round(float(pressure(F=157079.633, Abore=pi / 4 * 100**2, Aannulus=1.0, relief=21.0).demand), 6)
    20.0
    """
    return Outcome(np.where(np.asarray(F) >= 0.0, F / Abore, -np.asarray(F) / Aannulus), relief)
