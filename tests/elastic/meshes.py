"""Structured second-order tetrahedra for tests: a block of cells mapped onto the wanted shape, mid-edge nodes exactly on it."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
from numpy.typing import NDArray

from analysis.elastic.element import FACE_EDGES, TET_EDGES
from analysis.elastic.mesh import Mesh

Array = NDArray[np.float64]

# Six tetrahedra about the diagonal from corner 000 to corner 111 (Kuhn): the cut faces of neighbours match.
KUHN = tuple(
    ((0, 0, 0), tuple(int(k == p[0]) for k in range(3)), tuple(int(k in p[:2]) for k in range(3)), (1, 1, 1))
    for p in ((0, 1, 2), (1, 2, 0), (2, 0, 1), (0, 2, 1), (2, 1, 0), (1, 0, 2))
)


def block(
    cells: tuple[int, int, int], shape: Callable[[Array], Array] | None = None, wrap: bool = False
) -> Mesh:
    """The unit cube in cells; `shape` maps (n, 3) unit coordinates to the body; wrap joins the two ends of the first axis.

    Surfaces `low0`, `high0`, `low1` ... are the sides of the cube, where they are not joined.
    """
    count = [2 * c for c in cells]  # the nodes of a doubled lattice hold corners and mid-edge nodes
    tets = np.array(
        [
            _cell(i, j, k, corners)
            for i in range(cells[0])
            for j in range(cells[1])
            for k in range(cells[2])
            for corners in KUHN
        ]
    )  # (m, 4, 3) lattice places, even numbers
    mids = np.stack([(tets[:, a] + tets[:, b]) // 2 for a, b in TET_EDGES], axis=1)
    lattice = np.concatenate([tets, mids], axis=1)
    keys = lattice.copy()
    if wrap:
        keys[..., 0] %= count[0]
    flat = (keys[..., 0] * (count[1] + 1) + keys[..., 1]) * (count[2] + 1) + keys[..., 2]
    used, numbers = np.unique(flat, return_inverse=True)
    numbers = numbers.reshape(flat.shape)
    unit = np.empty((len(used), 3))
    unit[numbers] = keys / np.array(count, dtype=float)
    points = unit if shape is None else shape(unit)
    return Mesh(points, oriented(points, numbers), surfaces(points, numbers, lattice, count, wrap))


def _cell(i: int, j: int, k: int, corners: tuple) -> list[list[int]]:
    return [[2 * (i + c[0]), 2 * (j + c[1]), 2 * (k + c[2])] for c in corners]


def oriented(points: Array, tets: NDArray[np.int64]) -> NDArray[np.int64]:
    """Swap two corners of every element where the map has turned the volume inside out."""
    a, b, c, d = (points[tets[:, k]] for k in range(4))
    wrong = np.einsum("ij,ij->i", np.cross(b - a, c - a), d - a) < 0.0
    swapped = tets[:, [0, 2, 1, 3, 6, 5, 4, 7, 9, 8]]
    return np.where(wrong[:, None], swapped, tets)


def surfaces(
    points: Array, tets: NDArray[np.int64], lattice: NDArray[np.int64], count: list[int], wrap: bool
) -> dict:
    by_name = {}
    for axis in range(1 if wrap else 0, 3):
        for name, level in (("low", 0), ("high", count[axis])):
            faces = [
                _faces(points, tets, lattice[:, :, axis] == level, corners)
                for corners in ((0, 1, 2), (0, 1, 3), (0, 2, 3), (1, 2, 3))
            ]
            by_name[f"{name}{axis}"] = np.vstack(faces)
    return by_name


def _faces(
    points: Array, tets: NDArray[np.int64], on: NDArray[np.bool_], corners: tuple[int, int, int]
) -> NDArray[np.int64]:
    """The faces with these corners that lie on a side, turned outward."""
    edges = [TET_EDGES.index(tuple(sorted((corners[a], corners[b])))) + 4 for a, b in FACE_EDGES]  # type: ignore[arg-type]
    chosen = tets[on[:, list(corners)].all(axis=1)]
    faces = chosen[:, [*corners, *edges]]
    other = chosen[:, ({0, 1, 2, 3} - set(corners)).pop()]
    a, b, c = (points[faces[:, k]] for k in range(3))
    inward = np.einsum("ij,ij->i", np.cross(b - a, c - a), points[other] - a) > 0.0
    return np.where(inward[:, None], faces[:, [0, 2, 1, 5, 4, 3]], faces)


def box(size: tuple[float, float, float], cells: tuple[int, int, int]) -> Mesh:
    """A straight block from the origin."""
    return block(cells, lambda u: u * np.array(size))


def ring(inner: float, outer: float, height: float, cells: tuple[int, int, int]) -> Mesh:
    """A whole thick cylinder about z, mid-plane z = 0, cells around, across and along; bore `low1`, outside `high1`."""

    def shape(u: Array) -> Array:
        radius = inner + (outer - inner) * u[:, 1]
        angle = 2.0 * np.pi * u[:, 0]
        return np.column_stack([radius * np.cos(angle), radius * np.sin(angle), height * (u[:, 2] - 0.5)])

    return block(cells, shape, wrap=True)
