"""The ten-node tetrahedron and its six-node face: shape functions and their gradients, VTK node order."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

Array = NDArray[np.float64]

TET_EDGES = ((0, 1), (1, 2), (0, 2), (0, 3), (1, 3), (2, 3))  # node 4 + k lies on edge k
FACE_EDGES = ((0, 1), (1, 2), (2, 0))  # node 3 + k lies on edge k

TET_NODES = np.array(
    [
        [0, 0, 0],
        [1, 0, 0],
        [0, 1, 0],
        [0, 0, 1],
        [0.5, 0, 0],
        [0.5, 0.5, 0],
        [0, 0.5, 0],
        [0, 0, 0.5],
        [0.5, 0, 0.5],
        [0, 0.5, 0.5],
    ]
)
FACE_NODES = np.array([[0, 0], [1, 0], [0, 1], [0.5, 0], [0.5, 0.5], [0, 0.5]])


def shapes(local: ArrayLike, linear: bool = False) -> Array:
    """Shape functions at local points (q, d), d = 3 tetrahedron or 2 face: (q, nodes)."""
    share, _ = _barycentric(local)
    if linear:
        return share
    edges = _edges(share.shape[1])
    mid = [4.0 * share[:, a] * share[:, b] for a, b in edges]
    return np.column_stack([share * (2.0 * share - 1.0), *mid])


def gradients(local: ArrayLike, linear: bool = False) -> Array:
    """Gradients of the shape functions in local coordinates at points (q, d): (q, nodes, d)."""
    share, slope = _barycentric(local)
    if linear:
        return np.broadcast_to(slope, (len(share), *slope.shape)).copy()
    corner = (4.0 * share - 1.0)[:, :, None] * slope[None]
    mid = [4.0 * (share[:, [a]] * slope[b] + share[:, [b]] * slope[a]) for a, b in _edges(share.shape[1])]
    return np.concatenate([corner, np.stack(mid, axis=1)], axis=1)


def _barycentric(local: ArrayLike) -> tuple[Array, Array]:
    points = np.atleast_2d(np.asarray(local, dtype=float))
    count = points.shape[1]
    share = np.column_stack([1.0 - points.sum(axis=1), points])
    slope = np.vstack([-np.ones(count), np.eye(count)])
    return share, slope


def _edges(corners: int) -> tuple[tuple[int, int], ...]:
    return TET_EDGES if corners == 4 else FACE_EDGES
