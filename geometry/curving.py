"""Second-order elements made sound where curving their edges has folded them.

A tetrahedron with two faces on a smooth surface, one on each side of the line where a fillet runs out into a plane, lies
flat along that line once its edges are curved: its Jacobian there is 0 or less. The cure is local: mid-edge nodes of
such elements go back toward the middle of their straight edge, half of the way at a time, until the element is sound.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from geometry.quality import EDGES, POINTS, jacobians

SOUND = (
    0.4  # least Jacobian at any point over that of the straight element, below which edges are straightened
)
ROUNDS = 12


def relaxed(
    points: NDArray[np.float64], tets: NDArray[np.integer], kept: NDArray[np.integer]
) -> NDArray[np.float64]:
    """Points (n, 3) with folded elements mended; tets (m, 10) in the mesher's order.

    Corners never move, nor do the nodes `kept`.
    """
    movable = np.ones(len(points), dtype=bool)
    movable[kept] = False
    return straightened(points, tets, movable)


def straightened(
    points: NDArray[np.float64], tets: NDArray[np.integer], movable: NDArray[np.bool_]
) -> NDArray[np.float64]:
    points = points.copy()
    doubtful = np.arange(len(tets))
    for _ in range(ROUNDS):
        bad = tets[doubtful[share(points, tets[doubtful]) < SOUND]]
        touched = np.zeros(len(points), dtype=bool)
        for k, (i, j) in enumerate(EDGES):
            moved = bad[movable[bad[:, 4 + k]]]
            nodes = moved[:, 4 + k]
            # An edge shared by several bad elements moves once: the new place is set, not added.
            points[nodes] = (points[nodes] + (points[moved[:, i]] + points[moved[:, j]]) / 2.0) / 2.0
            touched[nodes] = True
        doubtful = np.flatnonzero(touched[tets[:, 4:]].any(axis=1))
        if not len(doubtful):
            break
    return points


def share(points: NDArray[np.float64], tets: NDArray[np.integer]) -> NDArray[np.float64]:
    """Least Jacobian (m,) at the quadrature points and corners over that of the element with straight edges."""
    a, b, c, d = (points[tets[:, k]] for k in range(4))
    whole = np.einsum("ij,ij->i", np.cross(b - a, c - a), d - a)
    return jacobians(points, tets, POINTS).min(axis=1) / np.maximum(np.abs(whole), 1e-300)
