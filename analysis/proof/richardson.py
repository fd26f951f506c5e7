"""Observed order of convergence and error band from a series of meshes.

Grid convergence index after P. J. Roache, "Verification and Validation in Computational Science and Engineering" (1998)
and ASME V&V 20-2009 section 2 (from memory): band = F_s |f1 - f2| / (r^p - 1), F_s = 1.25 with three or more meshes and
an observed order, 3.0 with two meshes and the order of theory.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from scipy.optimize import brentq

THEORY = 2.0  # stress of second-order elements converges with the square of the element size


@dataclass(frozen=True)
class Band:
    """Order (None where it cannot be observed) and band as a share of the finest value."""

    order: float | None
    band: float | None


def observed_order(size: list[float], value: list[float]) -> float | None:
    """Order p from the three finest meshes (sizes descending), None where the changes are not monotonic or p is out of 0.5 to 4.

    Solves (f3 - f2) / (f2 - f1) = (h3^p - h2^p) / (h2^p - h1^p) for h1 < h2 < h3.
    """
    (h3, h2, h1), (f3, f2, f1) = size[-3:], value[-3:]
    if (f3 - f2) * (f2 - f1) <= 0.0:
        return None

    def gap(p: float) -> float:
        return (h3**p - h2**p) / (h2**p - h1**p) - (f3 - f2) / (f2 - f1)

    if gap(0.5) * gap(4.0) >= 0.0:
        return None
    return brentq(gap, 0.5, 4.0)  # type: ignore[return-value]


def band(size: list[float], value: list[float]) -> Band:
    """Error band of the last value; sizes are element sizes in any one unit, descending."""
    if len(value) < 2 or value[-1] == 0.0:
        return Band(None, None)
    change = abs(value[-1] - value[-2]) / abs(value[-1])
    ratio = size[-2] / size[-1]
    order = observed_order(size, value) if len(value) >= 3 else None
    safety, power = (1.25, order) if order is not None else (3.0, THEORY)
    return Band(order, float(safety * change / (np.power(ratio, power) - 1.0)))
