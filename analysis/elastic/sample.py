"""Nodal fields at any point: find the element that holds it, turn its map around, interpolate."""

from __future__ import annotations

from itertools import pairwise

import numpy as np
from numpy.typing import ArrayLike, NDArray
from scipy.spatial import KDTree

from analysis.elastic.element import gradients, shapes
from analysis.elastic.mesh import Mesh

Array = NDArray[np.float64]
NEAREST = 128  # elements tried for each point, by the distance of their middles: a large one may lie behind many small ones
INSIDE = 1e-6  # barycentric coordinates may be this much below zero
BATCHES = (0, 1, 4, 32, NEAREST)  # most points lie in the nearest element; the others are tried together
FAR = 1.5  # local coordinates of the straight element off its middle: farther out the curved one does not contain the point either
LOST = 10.0  # farther out Newton's method has diverged
STEPS = 12  # of Newton's method; a straight element needs one
SETTLED = 1e-9  # last step in local coordinates: what has not come so near by then turns about no solution


class Sampler:
    """Made once for a mesh; `sampler(points, field)` interpolates nodal values."""

    def __init__(self, mesh: Mesh) -> None:
        self.mesh = mesh
        self.tree = KDTree(mesh.points[mesh.tets[:, :4]].mean(axis=1))

    def __call__(self, points: ArrayLike, field: Array) -> Array:
        """Values (p, ...) at points (p, 3) mm of a nodal field (n, ...); NaN where a point lies outside the body."""
        places = np.atleast_2d(np.asarray(points, dtype=float))
        element, local = self.find(places)
        values = np.einsum("pk,pk...->p...", shapes(local), field[self.mesh.tets[element]])
        values[element < 0] = np.nan
        return values

    def find(self, places: Array) -> tuple[NDArray[np.int64], Array]:
        """Element (p,) that holds each point, -1 outside the body, and local coordinates (p, 3)."""
        tried = min(NEAREST, len(self.mesh.tets))
        _, near = self.tree.query(places, k=tried)
        near = near.reshape(len(places), tried)
        element = np.full(len(places), -1)
        local = np.full((len(places), 3), 0.25)
        for begin, end in pairwise(BATCHES):
            left = np.flatnonzero(element < 0)
            trial = near[left, begin:end]
            if not trial.size:
                break
            coordinates, inside = self._local(trial.ravel(), np.repeat(places[left], trial.shape[1], axis=0))
            inside = inside.reshape(trial.shape)
            held, first = np.flatnonzero(inside.any(axis=1)), inside.argmax(axis=1)
            element[left[held]] = trial[held, first[held]]
            local[left[held]] = coordinates.reshape(*trial.shape, 3)[held, first[held]]
        return element, local

    def _local(self, elements: NDArray[np.int64], places: Array) -> tuple[Array, NDArray[np.bool_]]:
        """Local coordinates by Newton's method from the straight element's, and whether they lie inside."""
        nodes = self.mesh.points[self.mesh.tets[elements]]  # (p, 10, 3)
        corners = nodes[:, :4]
        edges = (corners[:, 1:] - corners[:, :1]).transpose(0, 2, 1)
        local = np.linalg.solve(edges, (places - corners[:, 0])[..., None])[..., 0].astype(np.float64)
        near = np.abs(local - 0.25).max(axis=1) < FAR
        left = np.flatnonzero(near)
        for _ in range(STEPS):
            if not len(left):
                break
            here, of = local[left], nodes[left]
            gap = np.einsum("pk,pkx->px", shapes(here), of) - places[left]
            slope = np.einsum("pkd,pkx->pxd", gradients(here), of)
            folds = np.abs(np.linalg.det(slope)) < 1e-12 * np.abs(np.linalg.det(edges[left]))
            slope[folds] = np.eye(3)
            step = np.linalg.solve(slope, gap[..., None])[..., 0]
            lost = folds | (np.abs(here - step - 0.25).max(axis=1) > LOST)
            local[left] = here - step
            near[left[lost]] = False
            left = left[~lost & (np.abs(step).max(axis=1) > SETTLED)]
        near[left] = False
        return local, near & (np.minimum(local.min(axis=1), 1.0 - local.sum(axis=1)) > -INSIDE)
