"""Six statically determinate supports (3-2-1) that hold a free body without straining it."""

from __future__ import annotations

from itertools import product

import numpy as np
from numpy.typing import NDArray

from analysis.elastic.mesh import Mesh

Array = NDArray[np.float64]


def determinate(mesh: Mesh) -> NDArray[np.int64]:
    """Scalar unknowns (6,) = 3 node + direction: all of one node, two of a second, one of a third.

    The nodes are corners of the body far apart and away from the bores; the directions are those that hold the six rigid
    motions best (largest least singular value), so that rounding errors in the loads give small reactions.
    """
    nodes = _candidates(mesh)
    places = mesh.points[nodes]
    middle = places.mean(axis=0)
    first = int(np.argmax(np.linalg.norm(places - middle, axis=1)))
    second = int(np.argmax(np.linalg.norm(places - places[first], axis=1)))
    along = (places[second] - places[first]) / np.linalg.norm(places[second] - places[first])
    third = int(np.argmax(np.linalg.norm(np.cross(places - places[first], along), axis=1)))
    three = nodes[[first, second, third]]
    return max(_choices(three), key=lambda unknowns: _grip(mesh.points, unknowns))


def _candidates(mesh: Mesh) -> NDArray[np.int64]:
    """Corner nodes of elements that no named bore or bearing face touches."""
    corners = np.zeros(len(mesh.points), dtype=bool)
    corners[mesh.tets[:, :4]] = True
    away = corners.copy()
    for name, faces in mesh.surfaces.items():
        if name.endswith(("_bore", "_faces")):
            away[faces] = False
    return np.flatnonzero(away if away.sum() >= 3 else corners)


def _choices(nodes: NDArray[np.int64]) -> list[NDArray[np.int64]]:
    a, b, c = (int(node) for node in nodes)
    choices = []
    for left_out, held in product(range(3), range(3)):
        second = [3 * b + axis for axis in range(3) if axis != left_out]
        choices.append(np.array([3 * a, 3 * a + 1, 3 * a + 2, *second, 3 * c + held]))
    return choices


def rigid(places: Array) -> Array:
    """The six rigid motions (n, 3, 6) of points (n, 3): three shifts, three small turns about the origin."""
    x, y, z = places.T
    nil = np.zeros_like(x)
    turns = np.array([[nil, -z, y], [z, nil, -x], [-y, x, nil]])  # [axis][component][point]
    shifts = np.broadcast_to(np.eye(3), (len(places), 3, 3))
    return np.concatenate([shifts, turns.transpose(2, 1, 0)], axis=2)


def _grip(points: Array, unknowns: NDArray[np.int64]) -> float:
    """Least singular value of the rigid motions at the supports, lengths scaled by the distance between them."""
    places = points[unknowns // 3]
    size = np.ptp(places, axis=0).max()
    motions = rigid((places - places.mean(axis=0)) / size)
    return float(np.linalg.svd(motions[np.arange(6), unknowns % 3], compute_uv=False)[-1])
