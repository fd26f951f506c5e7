"""Pin connections after EN 1993-1-8:2005 section 3.13, tables 3.9 and 3.10. Partial factors of the recommended values:
gM0 = 1.0, gM2 = 1.25, gM6,ser = 1.0; `F` is the design load, `Fser` the service load."""

from __future__ import annotations

import numpy as np

from analysis.clauses.clause import Outcome, clause
from params.steps.arrays import Floats

M0, M2, M6 = 1.0, 1.25, 1.0
TABLE = "EN 1993-1-8:2005, table 3.10"
COMMON: dict[str, tuple[str, str]] = {
    "F": ("design force of the pin", "force"),
    "d": ("pin diameter", "length"),
    "fup": ("tensile strength of the pin", "stress"),
    "fyp": ("yield strength of the pin", "stress"),
    "fy": ("lesser yield strength of pin and plate", "stress"),
    "t": ("width of the boss less its chamfers", "length"),
    "share": ("greatest share of the force in one plane, eccentricity included", "-"),
}
PLATES: dict[str, tuple[str, str]] = {
    "b": ("width of the boss", "length"),
    "c": ("gap to each support", "length"),
    "a": ("thickness of each support", "length"),
}
LIMITS = "solid round pin in double shear"


def pick(*names: str) -> dict[str, tuple[str, str]]:
    return {name: COMMON[name] for name in names}


def moment(F: Floats, b: float, c: float, a: float) -> Floats:
    """Bending moment of a pin, figure 3.11: F/8 (b + 4c + 2a)."""
    return np.asarray(F) / 8.0 * (b + 4.0 * c + 2.0 * a)


def modulus(d: float) -> float:
    """Elastic modulus of a round pin, mm3."""
    return np.pi * d**3 / 32.0


@clause(
    check="pin shear",
    what="shear resistance of the pin, one plane",
    equation="share F <= Fv,Rd = 0.6 A fup / gM2",
    kind="force",
    symbols={**pick("F", "share", "d", "fup"), "A": ("area of the pin", "area")},
    limits=LIMITS,
    reference=TABLE + ", row 1",
    working=(
        "A = pi/4*d^2",
        "demand = share*F",
        "capacity = 0.6*A*fup/1.25",
    ),
)
def pin_shear(*, F: Floats, share: Floats, d: float, fup: float) -> Outcome:
    """Shear of the pin.

    >>> round(float(pin_shear(F=600e3, share=0.5, d=80.0, fup=700.0).capacity) / 1e3, 2)  # case C28
    1688.92
    """
    A = np.pi / 4.0 * d**2
    return Outcome(share * F, 0.6 * A * fup / M2, {"A": A})


@clause(
    check="pin bearing",
    what="bearing resistance of plate and pin",
    equation="F <= Fb,Rd = 1.5 t d fy / gM0",
    kind="force",
    symbols=pick("F", "t", "d", "fy"),
    limits=LIMITS,
    reference=TABLE + ", row 2",
    working=(
        "demand = F",
        "capacity = 1.5*t*d*fy/1.0",
    ),
)
def bearing(*, F: Floats, t: float, d: float, fy: float) -> Outcome:
    """Bearing at the limit state.

    >>> float(bearing(F=600e3, t=40.0, d=80.0, fy=345.0).capacity) / 1e3  # case C29
    1656.0
    """
    return Outcome(F, 1.5 * t * d * fy / M0)


@clause(
    check="pin bearing in service",
    what="bearing of a pin that shall stay replaceable or turn",
    equation="Fser <= Fb,Rd,ser = 0.6 t d fy / gM6,ser",
    kind="force",
    symbols={"Fser": ("service force of the pin", "force"), **pick("t", "d", "fy")},
    limits=LIMITS,
    reference=TABLE + ", row 2, replaceable pins",
    working=(
        "demand = Fser",
        "capacity = 0.6*t*d*fy/1.0",
    ),
)
def bearing_service(*, Fser: Floats, t: float, d: float, fy: float) -> Outcome:
    """Bearing in service.

    >>> round(float(bearing_service(Fser=400e3, t=40.0, d=80.0, fy=345.0).capacity) / 1e3, 6)  # case C32
    662.4
    """
    return Outcome(Fser, 0.6 * t * d * fy / M6)


@clause(
    check="pin bending",
    what="bending resistance of the pin",
    equation="M = F/8 (b + 4c + 2a) <= MRd = 1.5 Wel fyp / gM0",
    kind="moment",
    symbols={**pick("F", "d", "fyp"), **PLATES, "Wel": ("elastic modulus of the pin", "mm3")},
    limits=LIMITS,
    reference=TABLE + ", row 3; figure 3.11",
    working=(
        "Wel = pi*d^3/32",
        "demand = F/8*(b + 4*c + 2*a)",
        "capacity = 1.5*Wel*fyp/1.0",
    ),
)
def pin_bending(*, F: Floats, b: float, c: float, a: float, d: float, fyp: float) -> Outcome:
    """Bending of the pin.

    >>> round(float(pin_bending(F=600e3, b=40.0, c=2.0, a=25.0, d=80.0, fyp=500.0).demand) / 1e6, 6)  # case C33
    7.35
    """
    return Outcome(moment(F, b, c, a), 1.5 * modulus(d) * fyp / M0, {"Wel": modulus(d)})


@clause(
    check="pin bending in service",
    what="bending of a pin that shall stay replaceable or turn",
    equation="Mser <= MRd,ser = 0.8 Wel fyp / gM6,ser",
    kind="moment",
    symbols={
        "Fser": ("service force of the pin", "force"),
        **pick("d", "fyp"),
        **PLATES,
        "Wel": ("elastic modulus of the pin", "mm3"),
    },
    limits=LIMITS,
    reference=TABLE + ", row 3, replaceable pins",
    working=(
        "Wel = pi*d^3/32",
        "demand = Fser/8*(b + 4*c + 2*a)",
        "capacity = 0.8*Wel*fyp/1.0",
    ),
)
def pin_bending_service(*, Fser: Floats, b: float, c: float, a: float, d: float, fyp: float) -> Outcome:
    """Bending in service.

    >>> out = pin_bending_service(Fser=400e3, b=40.0, c=2.0, a=25.0, d=80.0, fyp=500.0)
    >>> round(float(out.capacity) / 1e6, 3)  # case C31
    20.106
    """
    return Outcome(moment(Fser, b, c, a), 0.8 * modulus(d) * fyp / M6, {"Wel": modulus(d)})


@clause(
    check="pin bending with shear",
    what="bending and shear of the pin together",
    equation="(M/MRd)^2 + (share F/Fv,Rd)^2 <= 1",
    kind="-",
    symbols={
        **pick("F", "share", "d", "fup", "fyp"),
        **PLATES,
        "M": ("bending moment of the pin", "moment"),
        "MRd": ("bending resistance", "moment"),
        "FvRd": ("shear resistance of one plane", "force"),
    },
    limits=LIMITS,
    reference=TABLE + ", row 4",
    working=(
        "M = F/8*(b + 4*c + 2*a)",
        "MRd = 1.5*(pi*d^3/32)*fyp/1.0",
        "FvRd = 0.6*(pi/4*d^2)*fup/1.25",
        "demand = (M/MRd)^2 + (share*F/FvRd)^2",
        "capacity = 1",
    ),
)
def pin_combined(
    *, F: Floats, share: Floats, b: float, c: float, a: float, d: float, fup: float, fyp: float
) -> Outcome:
    """Combined bending and shear.

    >>> out = pin_combined(F=600e3, share=0.5, b=40.0, c=2.0, a=25.0, d=80.0, fup=700.0, fyp=500.0)
    >>> round(float(out.demand), 6)  # case C34
    0.069563
    """
    bend = pin_bending(F=F, b=b, c=c, a=a, d=d, fyp=fyp)
    shear = pin_shear(F=F, share=share, d=d, fup=fup)
    used = (bend.demand / bend.capacity) ** 2 + (shear.demand / shear.capacity) ** 2
    return Outcome(used, 1.0, {"M": bend.demand, "MRd": bend.capacity, "FvRd": shear.capacity})


def least_edges(F: Floats, t: float, fy: float, d0: float) -> tuple[Floats, Floats]:
    """Type A: least wall ahead of the hole (a) and beside it (c), mm, for a given thickness.

    >>> [round(float(edge), 3) for edge in least_edges(600e3, 40.0, 345.0, 81.0)]  # cases C36 and C37
    [75.739, 48.739]
    """
    wall = np.asarray(F) * M0 / (2.0 * t * fy)
    return wall + 2.0 * d0 / 3.0, wall + d0 / 3.0


def least_thickness(F: Floats, fy: float) -> Floats:
    """Type B: least thickness, mm, for given proportions.

    >>> round(float(least_thickness(600e3, 345.0)), 3)  # case C38
    29.192
    """
    return 0.7 * np.sqrt(np.asarray(F) * M0 / fy)


@clause(
    check="pin plate geometry",
    what="walls about the bore: type A (edges for the thickness) or type B (thickness for the proportions), whichever is satisfied",
    equation="A: a >= F gM0/(2 t fy) + 2 d0/3 and c >= F gM0/(2 t fy) + d0/3; "
    "B: t >= 0.7 sqrt(F gM0/fy), d0 <= 2.5 t, a >= 1.1 d0, c >= 0.75 d0",
    kind="-",
    symbols={
        **pick("F", "t", "fy"),
        "d0": ("bore", "length"),
        "a": ("wall ahead of the bore", "length"),
        "c": ("wall beside the bore", "length"),
        "amin": ("least a, type A", "length"),
        "cmin": ("least c, type A", "length"),
        "tmin": ("least t, type B", "length"),
        "uA": ("used share, type A", "-"),
        "uB": ("used share, type B", "-"),
    },
    limits="round boss: the same wall ahead and beside",
    reference="EN 1993-1-8:2005, table 3.9",
    working=(
        "amin = F*1.0/(2*t*fy) + 2*d0/3",
        "cmin = F*1.0/(2*t*fy) + d0/3",
        "tmin = 0.7*sqrt(F*1.0/fy)",
        "uA = max(amin/a, cmin/c)",
        "uB = max(tmin/t, d0/(2.5*t), 1.1*d0/a, 0.75*d0/c)",
        "demand = min(uA, uB)",
        "capacity = 1",
    ),
)
def plate_geometry(*, F: Floats, t: float, fy: float, d0: float, a: Floats, c: Floats) -> Outcome:
    """Used share of the needed walls, 1 is just enough.

    >>> out = plate_geometry(F=600e3, t=40.0, fy=345.0, d0=81.0, a=75.73913, c=60.0)
    >>> round(float(out.demand), 4)
    1.0
    """
    amin, cmin = least_edges(F, t, fy, d0)
    tmin = least_thickness(F, fy)
    by_edges = np.maximum(amin / a, cmin / c)
    # Proportions of table 3.9: 1.6 d0 from the hole's centre to the end, so 1.1 d0 of wall; 0.75 d0 beside.
    shape = np.maximum(np.maximum(d0 / (2.5 * t), 1.1 * d0 / np.asarray(a)), 0.75 * d0 / np.asarray(c))
    return Outcome(
        np.minimum(by_edges, np.maximum(tmin / t, shape)), 1.0, {"amin": amin, "cmin": cmin, "tmin": tmin}
    )
