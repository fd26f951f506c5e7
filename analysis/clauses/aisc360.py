"""Pin-connected members after ANSI/AISC 360-22 sections D2, D5, J7 and G, F for the pin, by ASD; forces in N, lengths in mm."""

from __future__ import annotations

import numpy as np

from analysis.clauses.clause import Number, Outcome, clause
from params.steps.arrays import Floats

SPEC = "ANSI/AISC 360-22, "
OMEGA_RUPTURE, OMEGA_BEARING, OMEGA_YIELD = 2.00, 2.00, 1.67
ROOM = 16.0  # mm; 0.63 in. of equation D5-1 in customary units

COMMON: dict[str, tuple[str, str]] = {
    "Pa": ("required force (ASD) of the pin", "force"),
    "Fy": ("specified yield strength", "stress"),
    "Fu": ("specified tensile strength", "stress"),
    "t": ("width of the boss less its chamfers", "length"),
    "w": ("outside of the boss", "length"),
    "a": ("wall ahead of the bore", "length"),
    "d": ("pin diameter", "length"),
    "dh": ("bore", "length"),
    "room": ("16 mm (0.63 in.) of equation D5-1", "length"),
    "be": ("effective wall", "length"),
    "Pn": ("nominal strength", "force"),
}
FIT = "bore more than 1 mm larger than the pin (D5.2)"


def pick(*names: str) -> dict[str, tuple[str, str]]:
    return {name: COMMON[name] for name in names}


def effective_wall(t: Number, w: Number, dh: Number, a: Number, room: float = ROOM) -> Floats:
    """be = 2 t + 16 mm (0.63 in.), at most the wall beside the hole and at most a/1.33 (D5.2).

    >>> round(float(effective_wall(0.5, 4.25, 1.0 + 1.0 / 32.0, a=2.25, room=0.63)), 2)  # case C01, inches
    1.61
    """
    beside = np.minimum(2.0 * np.asarray(t) + room, (np.asarray(w) - dh) / 2.0)
    return np.minimum(beside, np.asarray(a) / 1.33)


def least_dimensions(be: Number, d: Number) -> tuple[Floats, Floats]:
    """Least wall ahead of the hole and least width of the plate, D5.2.

    >>> [round(float(size), 2) for size in least_dimensions(1.61, 1.0)]  # cases C12 and C13, inches
    [2.14, 4.22]
    """
    return 1.33 * np.asarray(be), 2.0 * np.asarray(be) + d


def close_fit(d: Number, dh: Number) -> Number:
    """Whether the bore is at most 1 mm larger than the pin (D5.2)."""
    return np.asarray(dh) - d <= 1.0 + 1e-9


@clause(
    check="pin plate tension",
    what="tensile rupture of the net section",
    equation="Pa <= Pn/2.00, Pn = Fu (2 t be), be = min(2 t + 16 mm, wall, a/1.33)",
    kind="force",
    symbols=pick("Pa", "Fu", "t", "w", "a", "d", "dh", "room", "be", "Pn"),
    limits="bore at most 1 mm larger than the pin, a >= 1.33 be, w >= 2 be + d (D5.2)",
    reference=SPEC + "D5.1(a), equation D5-1",
    working=(
        "be = min(2*t + room, (w - dh)/2, a/1.33)",
        "Pn = Fu*2*t*be",
        "demand = Pa",
        "capacity = Pn/2.00",
    ),
)
def tension(
    *, Pa: Floats, Fu: float, t: float, w: Floats, a: Floats, d: float, dh: float, room: float = ROOM
) -> Outcome:
    """Tensile rupture.

    Example D.7 of the AISC design examples in kip and inches: Pn = 93.4 kip from be rounded to 1.61 in. (case C02).

    >>> out = tension(Pa=16.0, Fu=58.0, t=0.5, w=4.25, a=2.25, d=1.0, dh=1.03125, room=0.63)
    >>> round(float(out.symbols["Pn"]), 1), bool(out.in_range)
    (93.3, True)
    """
    be = effective_wall(t, w, dh, a, room)
    ahead, across = least_dimensions(be, d)
    fit = close_fit(d, dh) & (np.asarray(a) >= ahead * (1.0 - 1e-9)) & (np.asarray(w) >= across)
    Pn = Fu * 2.0 * t * be
    return Outcome(Pa, Pn / OMEGA_RUPTURE, {"room": room, "be": be, "Pn": Pn}, fit, FIT)


@clause(
    check="pin plate shear",
    what="shear rupture on the effective area",
    equation="Pa <= Pn/2.00, Pn = 0.6 Fu Asf, Asf = 2 t (a + d/2)",
    kind="force",
    symbols={**pick("Pa", "Fu", "t", "a", "d", "dh", "Pn"), "Asf": ("area of the shear planes", "area")},
    limits="bore at most 1 mm larger than the pin (D5.2)",
    reference=SPEC + "D5.1(b), equation D5-2",
    working=(
        "Asf = 2*t*(a + d/2)",
        "Pn = 0.6*Fu*Asf",
        "demand = Pa",
        "capacity = Pn/2.00",
    ),
)
def shear(*, Pa: Floats, Fu: float, t: float, a: Floats, d: float, dh: float) -> Outcome:
    """Shear rupture; example D.7: 95.7 kip (case C03).

    >>> round(float(shear(Pa=16.0, Fu=58.0, t=0.5, a=2.25, d=1.0, dh=1.03125).symbols["Pn"]), 1)
    95.7
    """
    Asf = 2.0 * t * (a + d / 2.0)
    Pn = 0.6 * Fu * Asf
    return Outcome(Pa, Pn / OMEGA_RUPTURE, {"Asf": Asf, "Pn": Pn}, close_fit(d, dh), FIT)


@clause(
    check="pin bearing",
    what="bearing on the projected area",
    equation="Pa <= Rn/2.00, Rn = 1.8 Fy d t",
    kind="force",
    symbols=pick("Pa", "Fy", "t", "d", "Pn"),
    limits="finished surface; pins that turn little (the specification gives no lower value for turning pins)",
    reference=SPEC + "J7, equation J7-1",
    working=(
        "Pn = 1.8*Fy*d*t",
        "demand = Pa",
        "capacity = Pn/2.00",
    ),
)
def bearing(*, Pa: Floats, Fy: float, t: float, d: float) -> Outcome:
    """Bearing; example D.7: 32.4 kip (case C04), allowable 16.2 kip (case C09).

    >>> out = bearing(Pa=16.0, Fy=36.0, t=0.5, d=1.0)
    >>> round(float(out.symbols["Pn"]), 6), round(float(out.capacity), 6)
    (32.4, 16.2)
    """
    Pn = 1.8 * Fy * d * t
    return Outcome(Pa, Pn / OMEGA_BEARING, {"Pn": Pn})


@clause(
    check="pin plate yielding",
    what="tensile yielding of the gross section",
    equation="Pa <= Pn/1.67, Pn = Fy w t",
    kind="force",
    symbols=pick("Pa", "Fy", "t", "w", "Pn"),
    limits="",
    reference=SPEC + "D2(a), equation D2-1",
    working=(
        "Pn = Fy*w*t",
        "demand = Pa",
        "capacity = Pn/1.67",
    ),
)
def gross_yield(*, Pa: Floats, Fy: float, t: float, w: Floats) -> Outcome:
    """Yielding of the gross section.

    >>> round(float(gross_yield(Pa=16.0, Fy=36.0, t=0.5, w=4.25).symbols["Pn"]), 6)
    76.5
    """
    Pn = Fy * w * t
    return Outcome(Pa, Pn / OMEGA_YIELD, {"Pn": Pn})


@clause(
    check="pin shear",
    what="shear of the pin on its more loaded plane",
    equation="share Pa <= 0.6 Fy A/1.67",
    kind="force",
    symbols={
        **pick("Pa", "Fy", "d"),
        "share": ("greatest share of the force in one plane", "-"),
        "A": ("area of the pin", "area"),
    },
    limits="solid round pin in double shear",
    reference="own rule: 0.6 Fy A of the whole round with the factor 1.67 of G1; "
    + SPEC
    + "has no clause for a solid pin in shear",
    working=(
        "A = pi/4*d^2",
        "demand = share*Pa",
        "capacity = 0.6*Fy*A/1.67",
    ),
)
def pin_shear(*, Pa: Floats, share: Floats, d: float, Fy: float) -> Outcome:
    """Shear of the pin.

    >>> round(float(pin_shear(Pa=100e3, share=0.5, d=50.0, Fy=345.0).capacity) / 1e3, 2)
    243.38
    """
    A = np.pi / 4.0 * d**2
    return Outcome(share * Pa, 0.6 * Fy * A / OMEGA_YIELD, {"A": A})


@clause(
    check="pin bending",
    what="bending of the pin between its supports, loads spread evenly",
    equation="(Pa/8)(b + 4 c + 2 a) <= Mn/1.67, Mn = min(Fy Z, 1.6 Fy S)",
    kind="moment",
    symbols={
        **pick("Pa", "Fy", "d"),
        "b": ("width of the boss", "length"),
        "c": ("gap to each support", "length"),
        "a": ("thickness of each support", "length"),
        "Z": ("plastic modulus of the pin", "mm3"),
        "S": ("elastic modulus of the pin", "mm3"),
        "Mn": ("nominal strength", "moment"),
    },
    limits="solid round pin",
    reference=SPEC + "F11.1, equation F11-2 (rounds)",
    working=(
        "Z = d^3/6",
        "S = pi*d^3/32",
        "Mn = min(Fy*Z, 1.6*Fy*S)",
        "demand = Pa/8*(b + 4*c + 2*a)",
        "capacity = Mn/1.67",
    ),
)
def pin_bending(*, Pa: Floats, b: float, c: float, a: float, d: float, Fy: float) -> Outcome:
    """Bending of the pin; a round's Z/S is 1.70, so 1.6 Fy S governs.

    >>> out = pin_bending(Pa=600e3, b=40.0, c=2.0, a=25.0, d=80.0, Fy=500.0)
    >>> round(float(out.capacity * 1.67 / (500.0 * out.symbols["S"])), 6)
    1.6
    """
    Z, S = d**3 / 6.0, np.pi * d**3 / 32.0
    return Outcome(
        Pa / 8.0 * (b + 4.0 * c + 2.0 * a), np.minimum(Fy * Z, 1.6 * Fy * S) / OMEGA_YIELD, {"Z": Z, "S": S}
    )
