"""Defects of a casting as the origin of fatigue: the limit of steel with a defect, by its hardness and the square root of its area.

Murakami, Metal Fatigue: Effects of Small Defects and Nonmetallic Inclusions (2002), Eq. 4.9 and 5.5, from memory: of a defect at
the surface the limit is 1.43 (HV + 120) / sqrt(area)^(1/6) ((1 - R)/2)^(0.226 + HV 1e-4), an amplitude in MPa, area in square
micrometres, for a square root up to 1000; beyond it the threshold of a crack holds. Hardness follows from tensile strength, 3.2
MPa for each (EN ISO 18265, unalloyed steel, from memory).
"""

from __future__ import annotations

import numpy as np

from params.steps.problems import OutOfRange

LEAST, MOST = 0.01, 1.0  # mm
PER_HARDNESS = 3.2  # MPa


def hardness(tensile: float) -> float:
    """Vickers hardness from tensile strength, MPa."""
    return tensile / PER_HARDNESS


def limit_with_defect(root: float, tensile: float, ratio: float = -1.0) -> float:
    """Fatigue limit, an amplitude in MPa, with a surface defect of sqrt(area) `root` mm, at a stress ratio.

    >>> round(limit_with_defect(0.1, 3.2 * 180.0), 1)
    199.1
    """
    if not LEAST <= root <= MOST:
        raise OutOfRange(f"square root of area {root:g} mm is outside {LEAST:g} to {MOST:g} mm")
    hard = hardness(tensile)
    return float(
        1.43 * (hard + 120.0) / (1e3 * root) ** (1.0 / 6.0) * (0.5 * (1.0 - ratio)) ** (0.226 + 1e-4 * hard)
    )


def least_defect(amplitude: float, tensile: float, ratio: float) -> float:
    """Square root of area in mm from which a stress amplitude makes a crack; nan where none up to the largest does."""
    if limit_with_defect(MOST, tensile, ratio) > amplitude:
        return float("nan")
    at_one = limit_with_defect(MOST, tensile, ratio)
    return float(np.clip(MOST * (at_one / amplitude) ** 6, LEAST, MOST))
