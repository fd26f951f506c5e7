"""Durations from low, likely and high: beta distribution of PERT, or triangle.

PERT: mean (a + 4 m + b)/6 and, as published, variance ((b - a)/6)^2 (Malcolm, Roseboom, Clark & Fazar, Operations
Research 7 (1959) 646). The beta distribution drawn here has that mean exactly, with exponents 1 + 4 (m - a)/(b - a) and
1 + 4 (b - m)/(b - a); its own variance (mean - a)(b - mean)/7 differs from the published rule where m is off the middle.
"""

from __future__ import annotations

from typing import Literal

import numpy as np
from scipy.special import betaincinv

from params.steps.arrays import Floats

Shape = Literal["pert", "triangular"]


def quantile(shape: Shape, low: Floats, likely: Floats, high: Floats, share: Floats) -> Floats:
    """Duration that is not exceeded with the given share; all arguments broadcast.

    >>> float(quantile("triangular", 0.0, 5.0, 10.0, 0.5))
    5.0
    """
    width = np.asarray(high) - low
    mode = np.divide(likely - low, width, out=np.zeros_like(width, dtype=float), where=width > 0.0)
    if shape == "pert":
        return low + width * betaincinv(1.0 + 4.0 * mode, 5.0 - 4.0 * mode, share)
    return low + width * _triangle(mode, np.asarray(share))


def mean(shape: Shape, low: Floats, likely: Floats, high: Floats) -> Floats:
    """Mean duration, by which a task is planned.

    >>> float(mean("pert", 2.0, 3.5, 8.0)), float(mean("triangular", 2.0, 3.5, 8.0))
    (4.0, 4.5)
    """
    return (low + 4.0 * likely + high) / 6.0 if shape == "pert" else (low + likely + high) / 3.0


def variance(shape: Shape, low: Floats, likely: Floats, high: Floats) -> Floats:
    """Variance for the normal approximation: ((b - a)/6)^2 as published for PERT; of a triangle its own.

    >>> float(variance("pert", 2.0, 3.5, 8.0)), float(variance("triangular", 0.0, 3.0, 6.0))
    (1.0, 1.5)
    """
    if shape == "pert":
        return ((high - low) / 6.0) ** 2
    return (low**2 + likely**2 + high**2 - low * likely - low * high - likely * high) / 18.0


def _triangle(mode: Floats, share: Floats) -> Floats:
    """Quantile of the triangle on 0 to 1: sqrt(u m) below the mode, 1 - sqrt((1 - u)(1 - m)) above it."""
    return np.where(share <= mode, np.sqrt(share * mode), 1.0 - np.sqrt((1.0 - share) * (1.0 - mode)))
