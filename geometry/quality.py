"""Quality of second-order tetrahedra: least Jacobian at any quadrature point over that of a regular one its size.

With J the least Jacobian and L the root mean square of the six straight edges, sqrt(2) J / L^3 is 1 for a regular
tetrahedron, small for a sliver or a stretched element, and not above 0 for one that folds over at a point. Node order
is the mesher's; edges and nodes only have to go together, see `EDGES`.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

# Mid-edge node 4 + k lies on the edge of these corners, in the mesher's order (nodes 8 and 9 are swapped in VTK's).
EDGES = ((0, 1), (1, 2), (2, 0), (3, 0), (2, 3), (1, 3))

# The 4-point rule and the corners: a second-order tetrahedron's Jacobian is a cubic, and folds at a corner first.
A, B = 0.5854101966249685, 0.1381966011250105
INNER = np.array([[A, B, B, B], [B, A, B, B], [B, B, A, B], [B, B, B, A]])
POINTS = np.vstack([INNER, np.eye(4)])
# Degree-3 five-point rule, exact for the cubic Jacobian: volume without error.
RULE = np.vstack([np.full((1, 4), 0.25), np.where(np.eye(4) > 0, 0.5, 1.0 / 6.0)])
WEIGHTS = np.array([-0.8, 0.45, 0.45, 0.45, 0.45]) / 6.0


@dataclass(frozen=True)
class Quality:
    worst: float
    place: tuple[float, float, float]  # middle of the worst element, mm
    volume: float  # mm3
    nodes: int
    elements: int


def gradients(barycentric: NDArray[np.float64]) -> NDArray[np.float64]:
    """Derivatives (10, 3) of the shape functions by the last three barycentric coordinates at one point."""
    by_l = np.zeros((10, 4))
    for corner in range(4):
        by_l[corner, corner] = 4.0 * barycentric[corner] - 1.0
    for k, (i, j) in enumerate(EDGES):
        by_l[4 + k, i] = 4.0 * barycentric[j]
        by_l[4 + k, j] = 4.0 * barycentric[i]
    return by_l[:, 1:] - by_l[:, :1]


def jacobians(
    points: NDArray[np.float64], tets: NDArray[np.integer], at: NDArray[np.float64]
) -> NDArray[np.float64]:
    """Determinants (elements, len(at)) of the map from the reference tetrahedron."""
    nodes = points[tets].transpose(2, 0, 1)  # (3, elements, 10)
    found = np.empty((len(tets), len(at)))
    for k, place in enumerate(at):
        x, y, z = (nodes @ gradients(place)).transpose(0, 2, 1)  # each (3, elements)
        found[:, k] = (
            x[0] * (y[1] * z[2] - y[2] * z[1])
            + x[1] * (y[2] * z[0] - y[0] * z[2])
            + x[2] * (y[0] * z[1] - y[1] * z[0])
        )
    return found


def shape(points: NDArray[np.float64], tets: NDArray[np.integer]) -> NDArray[np.float64]:
    """Quality (elements,) of each element."""
    cube = sizes(points, tets) ** 3
    return np.sqrt(2.0) * jacobians(points, tets, POINTS).min(axis=1) / np.maximum(cube, 1e-300)


def sizes(points: NDArray[np.float64], tets: NDArray[np.integer]) -> NDArray[np.float64]:
    """Root mean square of the straight edges (elements,) of each element, mm."""
    edges = np.stack([points[tets[:, i]] - points[tets[:, j]] for i, j in EDGES])
    return np.sqrt(np.mean(np.sum(edges**2, axis=2), axis=0))


def quality(points: NDArray[np.float64], tets: NDArray[np.integer]) -> Quality:
    """Worst element and volume of a mesh of (elements, 10) tetrahedra in the mesher's node order."""
    each = shape(points, tets)
    worst = int(np.argmin(each))
    x, y, z = points[tets[worst, :4]].mean(axis=0)
    volume = float((jacobians(points, tets, RULE) @ WEIGHTS).sum())
    return Quality(
        float(each[worst]), (float(x), float(y), float(z)), volume, len(np.unique(tets)), len(tets)
    )
