"""Nodes inside the metal moved so that the worst straight tetrahedra about them get better.

Optimisation-based smoothing (Freitag and Ollivier-Gooch, Int. J. Numer. Meth. Engng 40, 1997), one node at a time: of places
around a node the one where the worst of its elements is best. Nodes on faces stay, so the solid does.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from geometry.quality import EDGES

Floats = NDArray[np.float64]
POOR = 0.25  # quality below which an element's inner nodes are moved
ROUNDS = 8
STEPS = (0.3, 0.1, 0.03, 0.01)  # of an element's edge
# The corners of a cube, the middles of its faces and of its edges.
WAYS = np.array(
    [(i, j, k) for i in (-1, 0, 1) for j in (-1, 0, 1) for k in (-1, 0, 1) if i or j or k], dtype=float
)
WAYS /= np.linalg.norm(WAYS, axis=1)[:, None]


def straight(corners: Floats) -> Floats:
    """Quality (...,) of tetrahedra with straight edges by their corners (..., 4, 3), see `geometry.quality`."""
    a, b, c, d = np.moveaxis(corners, -2, 0)
    volume = np.sum(np.cross(b - a, c - a) * (d - a), axis=-1)
    square = sum(np.sum((corners[..., i, :] - corners[..., j, :]) ** 2, axis=-1) for i, j in EDGES) / len(
        EDGES
    )
    return np.sqrt(2.0) * volume / np.maximum(square, 1e-300) ** 1.5


def smoothed(points: Floats, tets: NDArray[np.integer], inner: NDArray[np.bool_]) -> Floats:
    """Points (n, 3) of straight tetrahedra (m, 4) with nodes of poor elements moved where they are `inner` (n,)."""
    points = points.copy()
    for _ in range(ROUNDS):
        poor = straight(points[tets]) < POOR
        nodes = np.unique(tets[poor])
        nodes = nodes[inner[nodes]]
        if not len(nodes):
            break
        around = balls(tets, nodes)
        moved = [better(points, tets[ball], node) for node, ball in zip(nodes, around, strict=True)]
        if not any(moved):
            break
    return points


def balls(tets: NDArray[np.integer], nodes: NDArray[np.integer]) -> list[NDArray[np.int64]]:
    """The elements about each of these (sorted) nodes."""
    row, corner = np.nonzero(np.isin(tets, nodes))
    which = np.searchsorted(nodes, tets[row, corner])
    order = np.argsort(which, kind="stable")
    return np.split(row[order], np.cumsum(np.bincount(which, minlength=len(nodes)))[:-1])


def better(points: Floats, ball: NDArray[np.integer], node: int) -> bool:
    """Move one node, in place, to the best of the places around it; whether one is better than its own."""
    corners = points[ball]  # (m, 4, 3)
    at = ball == node
    now, size = straight(corners).min(), np.sqrt(np.mean(np.ptp(corners, axis=1) ** 2))
    for step in STEPS:
        places = points[node] + step * size * WAYS
        tried = np.where(at[None, :, :, None], places[:, None, None, :], corners[None])
        worst = straight(tried).min(axis=1)
        if worst.max() > now + 1e-3:
            points[node] = places[worst.argmax()]
            return True
    return False
