"""What passes through a plane cut of the mesh: by the nodal forces of the elements beyond it, and by integrating the stress.

Nodal forces are in exact equilibrium with the loads on the part cut off (virtual work of a rigid motion of that part), whatever
the mesh; the integral of the recovered stress is not, and shows how good the stress is.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from analysis.elastic.element import TET_NODES, gradients, shapes
from analysis.elastic.material import Elastic
from analysis.elastic.mesh import Mesh
from analysis.elastic.quadrature import tetrahedron14, triangle

Array = NDArray[np.float64]
# A ten-node tetrahedron as eight of four nodes: four corners, and four about the diagonal of the octahedron inside.
PARTS = np.array(
    [
        [0, 4, 6, 7],
        [4, 1, 5, 8],
        [6, 5, 2, 9],
        [7, 8, 9, 3],
        [4, 9, 5, 6],
        [4, 9, 6, 7],
        [4, 9, 7, 8],
        [4, 9, 8, 5],
    ]
)
RULE = 2  # points a side on each triangle of a slice: exact to degree 3, stress times its lever


@dataclass(frozen=True)
class Slice:
    """A plane cut as triangles: the element of each (k,), local coordinates (k, 3, 3) and places (k, 3, 3) mm of its corners."""

    element: NDArray[np.int64]
    local: Array
    place: Array

    def within(self, height: Array) -> Slice:
        """The part of it where a linear function, given at the corners (k, 3), is not negative."""
        parts = [_kept(self, height, count) for count in (1, 2, 3)]
        return Slice(*(np.concatenate([getattr(part, name) for part in parts]) for name in vars(self)))


@dataclass(frozen=True)
class Points:
    """Points of integration of a slice: element (p,), shape functions (p, 10), places (p, 3) mm, areas (p,) mm2."""

    element: NDArray[np.int64]
    shape: Array
    place: Array
    area: Array

    def of(self, mesh: Mesh, field: Array) -> Array:
        """A nodal field (n, ...) at the points, (p, ...)."""
        return np.einsum("pk,pk...->p...", self.shape, field[mesh.tets[self.element]])


def plane_slice(mesh: Mesh, height: Array) -> Slice:
    """Where a function given at the nodes (n,), linear in space, is zero; curved elements as eight straight ones each."""
    at = height[mesh.tets]
    crossed = np.flatnonzero((at.min(axis=1) < 0.0) & (at.max(axis=1) >= 0.0))
    element = np.repeat(crossed, len(PARTS))
    nodes = mesh.tets[crossed][:, PARTS].reshape(-1, 4)
    local = np.tile(TET_NODES[PARTS], (len(crossed), 1, 1)).astype(np.float64)
    above = height[nodes]
    order = np.argsort(-above, axis=1, kind="stable")
    above = np.take_along_axis(above, order, axis=1)
    nodes = np.take_along_axis(nodes, order, axis=1)
    local = np.take_along_axis(local, order[..., None], axis=1)
    count = (above >= 0.0).sum(axis=1)
    found = []
    for positive, triangles in CUTS.items():
        some = count == positive
        for corners in triangles:
            ends = np.array(corners)
            share = _share(above[some], ends)
            found.append(
                Slice(
                    element[some],
                    _between(local[some], ends, share),
                    _between(mesh.points[nodes[some]], ends, share),
                )
            )
    return Slice(*(np.concatenate([getattr(one, name) for one in found]) for name in Slice.__annotations__))


# By how many of the four nodes, sorted downward, are not below the plane: triangles, each corner on the edge between two nodes.
CUTS = {
    1: [((0, 1), (0, 2), (0, 3))],
    2: [((0, 2), (0, 3), (1, 3)), ((0, 2), (1, 3), (1, 2))],
    3: [((0, 3), (1, 3), (2, 3))],
}
# The same for the three corners of a triangle; a corner that stays is an edge from itself to itself.
KEPT = {
    1: [((0, 0), (0, 1), (0, 2))],
    2: [((0, 0), (1, 1), (1, 2)), ((0, 0), (1, 2), (0, 2))],
    3: [((0, 0), (1, 1), (2, 2))],
}


def _kept(cut: Slice, height: Array, positive: int) -> Slice:
    order = np.argsort(-height, axis=1, kind="stable")
    above = np.take_along_axis(height, order, axis=1)
    some = (above >= 0.0).sum(axis=1) == positive
    order, above = order[some], above[some]
    local = np.take_along_axis(cut.local[some], order[..., None], axis=1)
    place = np.take_along_axis(cut.place[some], order[..., None], axis=1)
    ends = [np.array(corners) for corners in KEPT[positive]]
    shares = [_share(above, one) for one in ends]
    return Slice(
        np.tile(cut.element[some], len(ends)),
        np.concatenate([_between(local, *one) for one in zip(ends, shares, strict=True)]),
        np.concatenate([_between(place, *one) for one in zip(ends, shares, strict=True)]),
    )


def _share(above: Array, ends: NDArray[np.int64]) -> Array:
    """How far along each edge (corners, 2) the function is zero, (k, corners)."""
    first, second = above[:, ends[:, 0]], above[:, ends[:, 1]]
    return np.where(ends[:, 0] == ends[:, 1], 0.0, first / np.where(first == second, 1.0, first - second))


def _between(values: Array, ends: NDArray[np.int64], share: Array) -> Array:
    return values[:, ends[:, 0]] * (1.0 - share[..., None]) + values[:, ends[:, 1]] * share[..., None]


def integration(cut: Slice) -> Points:
    """Points and areas that integrate over a slice."""
    local, weights = triangle(RULE)
    share = shapes(local, linear=True)
    first, second = cut.place[:, 1] - cut.place[:, 0], cut.place[:, 2] - cut.place[:, 0]
    area = np.linalg.norm(np.cross(first, second), axis=1)
    inside = np.einsum("qc,kcx->kqx", share, cut.local).reshape(-1, 3)
    return Points(
        np.repeat(cut.element, len(weights)),
        shapes(inside),
        np.einsum("qc,kcx->kqx", share, cut.place).reshape(-1, 3),
        (area[:, None] * weights).ravel(),
    )


def passed_by_stress(points: Points, stress: Array, normal: Array, about: Array) -> Array:
    """Force N and moment N mm about a point, (C, 6), that the side to which `normal` points exerts on the other.

    stress: (p, C, 6) at the points.
    """
    x, y, z = normal
    xx, yy, zz, xy, yz, zx = np.moveaxis(stress, -1, 0)
    pull = np.stack([xx * x + xy * y + zx * z, xy * x + yy * y + yz * z, zx * x + yz * y + zz * z], axis=-1)
    force = pull * points.area[:, None, None]
    lever = (points.place - about)[:, None, :]
    return np.concatenate([force.sum(axis=0), np.cross(lever, force).sum(axis=0)], axis=1)


def passed_by_nodes(
    mesh: Mesh, material: Elastic, displacement: Array, beyond: NDArray[np.bool_], body: Array, about: Array
) -> Array:
    """Force N and moment N mm about a point, (C, 6), that the elements `beyond` (m,) exert on the others through shared nodes.

    displacement (C, n, 3) mm; body (C, 3) N/mm3, the weight that acts on all elements: the share of those beyond at the shared
    nodes is theirs.
    """
    shared = np.zeros(len(mesh.points), dtype=bool)
    shared[mesh.tets[beyond].ravel()] = True
    of_others = np.zeros(len(mesh.points), dtype=bool)
    of_others[mesh.tets[~beyond].ravel()] = True
    shared &= of_others
    touching = np.flatnonzero(beyond & shared[mesh.tets].any(axis=1))
    nodes = mesh.tets[touching]
    force = inner_forces(mesh, material, displacement, touching) - body[:, None, None, :] * _volumes(
        mesh, touching
    )
    force = -force[:, shared[nodes]]
    lever = mesh.points[nodes[shared[nodes]]] - about
    return np.concatenate([force.sum(axis=1), np.cross(lever, force).sum(axis=1)], axis=1)


def inner_forces(mesh: Mesh, material: Elastic, displacement: Array, elements: NDArray[np.int64]) -> Array:
    """Nodal forces (C, e, 10, 3) N that hold some elements in their deformed shape, the integral of grad N sigma."""
    local, weights = tetrahedron14()
    nodes, cases = mesh.tets[elements], len(displacement)
    corners = mesh.points[nodes].swapaxes(1, 2)  # (e, 3, 10)
    moved = np.ascontiguousarray(displacement[:, nodes].transpose(1, 0, 3, 2)).reshape(len(nodes), -1, 10)
    force = np.zeros_like(moved)  # (e, 3 C, 10)
    for slope, weight in zip(gradients(local), weights, strict=True):
        turned = corners @ slope
        grad = slope @ np.linalg.inv(turned)  # (e, 10, 3)
        strained = (moved @ grad).reshape(len(nodes), cases, 3, 3)
        stress = material.mu * (strained + strained.swapaxes(-1, -2))
        stress += material.lame * np.trace(strained, axis1=-2, axis2=-1)[..., None, None] * np.eye(3)
        volume = weight * np.linalg.det(turned)
        force += stress.reshape(len(nodes), -1, 3) @ (volume[:, None, None] * grad).swapaxes(1, 2)
    return force.reshape(len(nodes), cases, 3, 10).transpose(1, 0, 3, 2)


def _volumes(mesh: Mesh, elements: NDArray[np.int64]) -> Array:
    """Integral of each shape function over some elements, (e, 10, 1) mm3."""
    local, weights = tetrahedron14()
    turned = np.einsum("ekx,qkd->eqxd", mesh.points[mesh.tets[elements]], gradients(local))
    return np.einsum("eq,q,qk->ek", np.linalg.det(turned), weights, shapes(local))[..., None]
