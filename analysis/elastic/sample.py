"""Nodal fields read at points inside the mesh."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray
from scipy.spatial import cKDTree

from analysis.elastic.element import gradients, shapes
from analysis.elastic.mesh import Mesh

Array = NDArray[np.float64]
NEAREST = 24  # elements tried for each point, by distance of their centroids
TURNS = 8  # Newton steps to the local coordinates in a curved element
OUT = 2e-2  # barycentric coordinate below zero that still counts as inside


class Sampler:
    """Finds points in a mesh once and interpolates any nodal field there with the element's own shape functions."""

    def __init__(self, mesh: Mesh) -> None:
        self.mesh = mesh
        self.tree = cKDTree(mesh.points[mesh.tets[:, :4]].mean(axis=1))
        self.known: dict[bytes, tuple[NDArray[np.int64], Array]] = {}

    def __call__(self, points: Array, field: Array) -> Array:
        """Values (p, ...) of a nodal field (n, ...) at points (p, 3); nan where a point lies outside the mesh."""
        key = np.ascontiguousarray(points).tobytes()
        if key not in self.known:
            self.known[key] = self.locate(points)
        element, local = self.known[key]
        values = np.einsum("pn,pn...->p...", shapes(local), field[self.mesh.tets[np.maximum(element, 0)]])
        values[element < 0] = np.nan
        return values

    def locate(self, points: Array) -> tuple[NDArray[np.int64], Array]:
        """Element (p,), -1 outside, and local coordinates (p, 3) of each point."""
        count = min(NEAREST, len(self.mesh.tets))
        near = self.tree.query(points, k=count)[1].reshape(len(points), count)
        places = np.repeat(points, count, axis=0)
        local = self.inverse(near.ravel(), places)
        least = np.minimum(local.min(axis=1), 1.0 - local.sum(axis=1)).reshape(len(points), count)
        best = np.argmax(least, axis=1)
        pick = np.arange(len(points))
        element = np.where(least[pick, best] >= -OUT, near[pick, best], -1)
        return element, local.reshape(len(points), count, 3)[pick, best]

    def inverse(self, elements: NDArray[np.int64], places: Array) -> Array:
        """Local coordinates (q, 3) of places (q, 3) in the elements (q,), by Newton's method."""
        nodes = self.mesh.points[self.mesh.tets[elements]]
        local = np.full((len(elements), 3), 0.25)
        for _ in range(TURNS):
            gap = places - np.einsum("qn,qnx->qx", shapes(local), nodes)
            slope = np.einsum("qnd,qnx->qxd", gradients(local), nodes)
            local = np.clip(local + np.linalg.solve(slope, gap[..., None])[..., 0], -1.0, 2.0)
        return local
