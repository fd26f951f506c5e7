"""General tolerances for sizes without a tolerance of their own: ISO 2768-1:1989, Tables 1 and 3, from memory."""

from __future__ import annotations

from bisect import bisect_left

LENGTHS = (3.0, 6.0, 30.0, 120.0, 400.0, 1000.0, 2000.0, 4000.0)  # upper ends of the ranges, mm
LINEAR: dict[str, tuple[float | None, ...]] = {
    "f": (0.05, 0.05, 0.1, 0.15, 0.2, 0.3, 0.5, None),
    "m": (0.1, 0.1, 0.2, 0.3, 0.5, 0.8, 1.2, 2.0),
    "c": (0.2, 0.3, 0.5, 0.8, 1.2, 2.0, 3.0, 4.0),
    "v": (None, 0.5, 1.0, 1.5, 2.5, 4.0, 6.0, 8.0),
}
SIDES = (10.0, 50.0, 120.0, 400.0)  # of the shorter side of an angle, mm; the last range has no end
ANGULAR: dict[str, tuple[float, ...]] = {  # minutes of arc
    "f": (60.0, 30.0, 20.0, 10.0, 5.0),
    "m": (60.0, 30.0, 20.0, 10.0, 5.0),
    "c": (90.0, 60.0, 30.0, 15.0, 10.0),
    "v": (180.0, 120.0, 60.0, 30.0, 20.0),
}


def linear(grade: str, nominal: float) -> float | None:
    """Deviation, plus and minus, of a length in mm; None where the standard gives none (0.5 mm to 4000 mm).

    >>> linear("m", 350.0)
    0.5
    """
    if not 0.5 <= nominal <= LENGTHS[-1]:
        return None
    return LINEAR[grade][bisect_left(LENGTHS, nominal)]


def angular(grade: str, side: float) -> float:
    """Deviation, plus and minus, of an angle in degrees, by its shorter side in mm.

    >>> round(60.0 * angular("m", 1250.0))
    5
    """
    return ANGULAR[grade][bisect_left(SIDES, side)] / 60.0
