"""Second-order elements made sound where curving their edges has folded them.

A tetrahedron with two faces on a smooth surface, one on each side of the line where a fillet runs out into a plane, lies
flat along that line once its edges are curved: its Jacobian there is 0 or less. The cure is local: mid-edge nodes of
such elements go back toward the middle of their straight edge, half of the way at a time, until the element is sound.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from geometry.quality import EDGES, POINTS, jacobians, shape

SOUND = (
    0.2  # least Jacobian at any point over that of the straight element, below which edges are straightened
)
POOR, STRAIGHT = 0.15, 0.8  # and the same for elements of a quality below POOR, which lose least by it
FOLDED = 0.3  # least Jacobian over that of the straight element, below which nodes yield that are better kept
ROUNDS = 12


def relaxed(
    points: NDArray[np.float64], tets: NDArray[np.integer], *kept: NDArray[np.integer]
) -> NDArray[np.float64]:
    """Points (n, 3) with folded elements mended; tets (m, 10) in the mesher's order.

    Corners never move, nor do the nodes `kept`; where several such lists are given, one follows the other for the elements
    that are still folded.
    """
    looked_at = tets
    for nodes in kept:
        movable = np.ones(len(points), dtype=bool)
        movable[nodes] = False
        points = straightened(points, looked_at, movable)
        looked_at = tets[share(points, tets) < FOLDED]
    return points


def straightened(
    points: NDArray[np.float64], tets: NDArray[np.integer], movable: NDArray[np.bool_]
) -> NDArray[np.float64]:
    points = points.copy()
    doubtful = np.arange(len(tets))
    for _ in range(ROUNDS):
        bad = tets[doubtful[bent(points, tets[doubtful])]]
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


def bent(points: NDArray[np.float64], tets: NDArray[np.integer]) -> NDArray[np.bool_]:
    """Which elements (m,) their curved edges spoil."""
    found = share(points, tets)
    return (found < SOUND) | ((found < STRAIGHT) & (shape(points, tets) < POOR))


def share(points: NDArray[np.float64], tets: NDArray[np.integer]) -> NDArray[np.float64]:
    """Least Jacobian (m,) at the quadrature points and corners over that of the element with straight edges."""
    a, b, c, d = (points[tets[:, k]] for k in range(4))
    whole = np.einsum("ij,ij->i", np.cross(b - a, c - a), d - a)
    return jacobians(points, tets, POINTS).min(axis=1) / np.maximum(np.abs(whole), 1e-300)
