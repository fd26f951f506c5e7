"""Stress concentration by other sources than those of the program."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from analysis.clauses.concentration import polynomial
from params.steps.arrays import Floats


def hole_net_heywood(ratio: ArrayLike) -> Floats:
    """Kt on the net section after Heywood (1952): 2 + (1 - d/W)^3."""
    return 2.0 + (1.0 - np.asarray(ratio, dtype=float)) ** 3


def lug_bearing(ratio: ArrayLike) -> Floats:
    """Kt of a lug with a close-fitting pin on the bearing stress P / (d t); the chart that `lug_net` is from."""
    return polynomial(ratio, 0.2880, 8.820, -23.196, 29.167)


def golovin(inner: ArrayLike, outer: ArrayLike, width: float = 1.0) -> tuple[Floats, Floats]:
    """Bending stress of a curved bar per unit moment at its inner and outer edge, by plane elasticity
    (Golovin 1881): Timoshenko and Goodier, Theory of Elasticity, 3rd ed. (1970), art. 29."""
    a, b = np.asarray(inner, dtype=float), np.asarray(outer, dtype=float)
    log = np.log(b / a)
    n = (b**2 - a**2) ** 2 - 4.0 * a**2 * b**2 * log**2

    def hoop(r: Floats) -> Floats:
        varying = -(a**2) * b**2 / r**2 * log + b**2 * np.log(r / b) + a**2 * np.log(a / r) + b**2 - a**2
        return -4.0 / (n * width) * varying

    return hoop(a), hoop(b)
