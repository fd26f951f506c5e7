"""Stress concentration factors and curved bars, each with its source; all for arrays.

Coefficients are from memory of the handbooks named; the tests hold them to published values, to limits that the theory
gives exactly, and the two lug curves to each other.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from params.steps.arrays import Floats


def polynomial(x: ArrayLike, *coefficients: float) -> Floats:
    """Sum of c_k x^k, lowest first."""
    return np.asarray(np.polynomial.polynomial.polyval(np.asarray(x, dtype=float), coefficients), dtype=float)


def hole_net(ratio: ArrayLike) -> Floats:
    """Kt on the net section of a strip in tension with a central hole, ratio d/W in 0..1.

    Pilkey, Peterson's Stress Concentration Factors, 2nd ed. (1997), chart 4.1 (Howland's solution).

    >>> float(hole_net(0.0))
    3.0
    """
    return polynomial(ratio, 3.0, -3.140, 3.667, -1.527)


HOLE_BENDING = 2.0
"""Kt at the edge of a central hole in a strip bent in its plane, on the stress M (d/2) / I_net (Heywood 1952; from memory)."""


def lug_net(ratio: ArrayLike) -> Floats:
    """Kt of a lug with a close-fitting pin, on P / ((H - d) t); ratio d/H, curve of 0.15..0.75.

    Frocht and Hill (1940) in Pilkey, Peterson's Stress Concentration Factors, 2nd ed. (1997), chart 4.67.
    """
    return polynomial(ratio, 12.882, -52.714, 89.762, -51.667)


LUG_RANGE = (0.15, 0.75)


def shoulder_bending(large: ArrayLike, small: ArrayLike, radius: ArrayLike) -> Floats:
    """Kt of a stepped flat bar bent in its plane, depths `large` and `small`, fillet `radius`; on the small depth's stress.

    Young and Budynas, Roark's Formulas for Stress and Strain, 7th ed. (2002), table 17.1 case 5b, 0.1 <= h/r <= 20 with
    h the step; beyond, the nearer end of the range. A hub circle is a blunter step than this square one.
    """
    large, small, radius = (np.asarray(value, dtype=float) for value in (large, small, radius))
    step = np.maximum(large - small, 0.0) / 2.0
    q = np.clip(step / np.maximum(radius, 1e-9), 0.1, 20.0)
    root, x = np.sqrt(q), 2.0 * step / np.maximum(large, small)
    blunt = (
        1.007 + root - 0.031 * q,
        -0.270 - 2.404 * root + 0.749 * q,
        0.677 + 1.133 * root - 0.904 * q,
        -0.414 + 0.271 * root + 0.186 * q,
    )
    sharp = (
        1.042 + 0.982 * root - 0.036 * q,
        -3.599 + 1.619 * root - 0.431 * q,
        6.084 - 5.607 * root + 1.158 * q,
        -2.527 + 3.006 * root - 0.691 * q,
    )
    value = [np.where(q <= 2.0, b, s) for b, s in zip(blunt, sharp, strict=True)]
    return np.where(step > 0.0, value[0] + x * (value[1] + x * (value[2] + x * value[3])), 1.0)


def winkler(inner: ArrayLike, outer: ArrayLike, width: float = 1.0) -> tuple[Floats, Floats]:
    """Stress per bending moment at the inner and outer edge of a curved rectangular bar, 1/mm3 (Winkler and Bach).

    Positive moments straighten the bar: tension inside. Timoshenko, Strength of Materials Part II, curved bars.
    """
    a, b = np.asarray(inner, dtype=float), np.asarray(outer, dtype=float)
    area = (b - a) * width
    neutral = (b - a) / np.log(b / a)
    lever = (a + b) / 2.0 - neutral
    return (neutral - a) / (area * lever * a), -(b - neutral) / (area * lever * b)
