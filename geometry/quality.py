"""Quality of second-order tetrahedra: the least Jacobian at the quadrature points over the element's mean, and the volume.

Node order here is the mesher's; the Jacobian does not depend on it as long as edges and nodes go together, see `EDGES`.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

# Mid-edge node 4 + k lies on the edge of these corners, in the mesher's order (nodes 8 and 9 are swapped in VTK's).
EDGES = ((0, 1), (1, 2), (2, 0), (3, 0), (2, 3), (1, 3))

# Keast's 11-point rule's outer points are replaced by the 4-point rule plus the corners: the Jacobian of a second-order
# tetrahedron is cubic, so the corners bound where an element folds first; weights (4-point, degree 2) serve the mean.
A, B = 0.5854101966249685, 0.1381966011250105
INNER = np.array([[A, B, B, B], [B, A, B, B], [B, B, A, B], [B, B, B, A]])
POINTS = np.vstack([INNER, np.eye(4)])
# Degree-3 five-point rule, exact for the cubic Jacobian: volume without error.
RULE = np.vstack([np.full((1, 4), 0.25), np.where(np.eye(4) > 0, 0.5, 1.0 / 6.0)])
WEIGHTS = np.array([-0.8, 0.45, 0.45, 0.45, 0.45]) / 6.0


@dataclass(frozen=True)
class Quality:
    worst: float
    place: tuple[float, float, float]  # centroid of the worst element, mm
    volume: float  # mm3
    nodes: int
    elements: int
    note: str = ""


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
    nodes = points[tets]
    return np.stack(
        [np.linalg.det(np.einsum("eni,nj->eij", nodes, gradients(place))) for place in at], axis=1
    )


def quality(points: NDArray[np.float64], tets: NDArray[np.integer]) -> Quality:
    """Worst element and volume of a mesh of (elements, 10) tetrahedra in the mesher's node order."""
    volume = jacobians(points, tets, RULE) @ WEIGHTS
    share = jacobians(points, tets, POINTS).min(axis=1) / np.maximum(np.abs(6.0 * volume), 1e-300)
    worst = int(np.argmin(share))
    place = points[tets[worst, :4]].mean(axis=0)
    count = len(np.unique(tets))
    return Quality(
        float(share[worst]),
        (float(place[0]), float(place[1]), float(place[2])),
        float(volume.sum()),
        count,
        len(tets),
    )
