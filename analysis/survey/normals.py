"""Directions of the surface at points, from their neighbours."""

from __future__ import annotations

import numpy as np
from scipy.spatial import cKDTree

from geometry.datums import Floats

NEIGHBOURS = 14
FLAT = 0.02  # share of the neighbours' scatter that lies across their plane: more is an edge, or no surface


def normals(points: Floats, neighbours: int = NEIGHBOURS) -> tuple[Floats, np.ndarray]:
    """Unit normals (n, 3) of no particular side, and whether the neighbourhood (n,) is a surface: thin and not alone."""
    count = min(neighbours, len(points))
    far, near = cKDTree(points).query(points, k=count)
    around = points[near] - points[near].mean(axis=1, keepdims=True)
    spread, ways = np.linalg.eigh(np.einsum("nki,nkj->nij", around, around))
    thin = spread[:, 0] < FLAT * np.maximum(spread.sum(axis=1), 1e-30)
    wide = spread[:, 1] > 0.05 * spread[:, 2]  # a line of points has no normal
    close = far[:, -1] < 4.0 * np.median(far[:, -1])
    return ways[:, :, 0], thin & wide & close


def crowded(points: Floats, neighbours: int = 6) -> np.ndarray:
    """Whether a point (n,) has its neighbours as near as most have: stray points have not."""
    far, _ = cKDTree(points).query(points, k=min(neighbours + 1, len(points)))
    reach = far[:, -1]
    return reach < 2.5 * np.percentile(reach, 40.0)


def directions(normal: Floats, most: int = 12, near: float = np.radians(3.0)) -> Floats:
    """Unit vectors (k, 3), k <= most, in which most normals point, best first: those of the planes of a scene."""
    both = np.vstack([normal, -normal])
    tree = cKDTree(both)
    step = max(1, len(normal) // 3000)
    asked = normal[::step]
    count = tree.query_ball_point(asked, 2.0 * np.sin(near / 2.0), return_length=True).astype(float)
    found: list[Floats] = []
    for _ in range(3 * most):
        best = int(np.argmax(count))
        if count[best] <= 0.0 or len(found) >= most:
            break
        way = asked[best]
        for _ in range(3):
            own = normal[np.abs(normal @ way) > np.cos(2.0 * near)]
            way = np.linalg.eigh(own.T @ own)[1][:, -1]
        if all(abs(way @ other) < np.cos(2.0 * near) for other in found):
            found.append(way)
        count[np.abs(asked @ asked[best]) > np.cos(2.0 * near)] = 0.0
        count[np.abs(asked @ way) > np.cos(np.radians(8.0))] = 0.0
    return np.array(found).reshape(-1, 3)
