"""Quadrature on the unit triangle and the unit tetrahedron. Weights add up to 1/2 and 1/6."""

from __future__ import annotations

from itertools import permutations

import numpy as np
from numpy.typing import NDArray
from scipy.special import roots_jacobi, roots_legendre

Rule = tuple[NDArray[np.float64], NDArray[np.float64]]  # points (q, 2 or 3), weights (q,)


def tetrahedron4() -> Rule:
    """Four points, exact to degree 2: enough for the stiffness of a straight-sided second-order element.

    Hammer, Marlowe and Stroud 1956: the point at (5 + 3 sqrt 5)/20 towards each corner.
    """
    near = (5.0 + 3.0 * np.sqrt(5.0)) / 20.0
    return _from_barycentric([((near,) + 3 * ((1.0 - near) / 3.0,), 0.25)])


def tetrahedron14() -> Rule:
    """Fourteen points inside the element, positive weights, exact to degree 5 (Walkington 2000), for curved elements."""
    a, b, c = 0.3108859192633005, 0.09273525031089123, 0.04550370412564965
    return _from_barycentric(
        [
            ((1.0 - 3.0 * a, a, a, a), 0.1126879257180162),
            ((1.0 - 3.0 * b, b, b, b), 0.07349304311636194),
            ((0.5 - c, 0.5 - c, c, c), 0.04254602077708147),
        ]
    )


def _from_barycentric(orbits: list[tuple[tuple[float, ...], float]]) -> Rule:
    """Points of each symmetry orbit with its weight (as a share of the volume)."""
    points, weights = [], []
    for centre, weight in orbits:
        for corner in sorted(set(permutations(centre)), reverse=True):
            points.append(corner[1:])
            weights.append(weight / 6.0)
    return np.array(points), np.array(weights)


def triangle(count: int) -> Rule:
    """count x count points by a conical product of Gauss rules, exact to degree 2 count - 1 (Stroud 1971)."""
    u, wu = roots_legendre(count)
    v, wv = roots_jacobi(count, 1.0, 0.0)
    u, v = (u + 1.0) / 2.0, (v + 1.0) / 2.0
    x = np.repeat(v, count)
    y = np.tile(u, count) * (1.0 - x)
    return np.column_stack([x, y]), np.repeat(wv / 4.0, count) * np.tile(wu / 2.0, count)
