"""Standard sizes near a surveyed one, to set beside it; the choice is the engineer's.

Bores: whole millimetres or sixteenths of an inch, with the narrowest hole class H7 to H11 of ISO 286-1 that the measured
diameter lies in. Plates: thicknesses that are usually in stock (common practice, no source).
"""

from __future__ import annotations

from analysis.bores.tolerances import standard_tolerance
from params.schema.units import MM_PER_IN

PLATES_MM = (
    5,
    6,
    8,
    10,
    12,
    15,
    18,
    20,
    22,
    25,
    28,
    30,
    32,
    35,
    38,
    40,
    45,
    50,
    55,
    60,
    65,
    70,
    75,
    80,
    90,
    100,
    110,
    120,
    130,
    150,
    200,
)
SIXTEENTH = MM_PER_IN / 16.0
PLATES = ("flange_thickness", "web_thickness")
LARGEST = 500.0  # mm: up to which the hole classes are held


def beside(name: str, value: float, units: str) -> tuple[float | None, str]:
    """The standard size (mm) near `value` and its name; None for angles.

    >>> beside("pivot.bore", 320.031, "si"), beside("section.web_thickness", 39.2, "si")
    ((320.0, 'within 320 H7'), (40.0, 'plate 40 mm'))
    """
    last = name.rsplit(".", maxsplit=1)[-1]
    if last == "included_angle" or value <= 0.0:
        return None, ""
    if last in PLATES:
        return plate(value, units)
    step = 1.0 if units == "si" else SIXTEENTH
    near = round(value / step) * step
    told = f"{near:g} mm" if units == "si" else f"{near / MM_PER_IN:g} in"
    return near, hole(value, near, told) if last == "bore" else told


def plate(value: float, units: str) -> tuple[float, str]:
    if units == "us":
        near = max(1, round(value / SIXTEENTH)) * SIXTEENTH
        return near, f"plate {near / MM_PER_IN:g} in"
    near = min(PLATES_MM, key=lambda size: abs(size - value))
    return float(near), f"plate {near} mm"


def hole(value: float, near: float, told: str) -> str:
    if not 0.0 < near <= LARGEST:
        return told
    for grade in (7, 8, 9, 10, 11):
        if 0.0 <= value - near <= standard_tolerance(grade, near) / 1000.0:
            return f"within {told.replace(' mm', '')} H{grade}"
    return f"{told}, outside of H11"
