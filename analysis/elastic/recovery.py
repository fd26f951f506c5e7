"""Nodal stress: extrapolated from the quadrature points of each element and averaged; on the surface from `surface`.

All load cases at once. Displacements and stresses are laid out with the case last inside, so the inner loops run over
neighbouring numbers; each thread owns a range of nodes as in `pattern`.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import numpy as np
from numba import njit, prange
from numpy.typing import NDArray

from analysis.elastic.assembly import jacobian, physical
from analysis.elastic.element import TET_NODES, gradients, shapes
from analysis.elastic.material import Elastic
from analysis.elastic.mesh import Mesh
from analysis.elastic.quadrature import tetrahedron4, tetrahedron14
from analysis.elastic.surface import surface_stress

Array = NDArray[np.float64]


def stresses(
    mesh: Mesh,
    material: Elastic,
    displacement: Array,
    tractions: Sequence[Mapping[str, Array]] | None = None,
    surfaces: Sequence[str] | None = None,
) -> Array:
    """Nodal stress (C, n, 6) MPa from displacements (C, n, 3) mm.

    tractions: for each case, surface name to (k, 6, 3) MPa at the nodes of its faces; zero where not given.
    surfaces: those whose traction is known so (all named ones by default); give fewer where displacements are prescribed.
    """
    ordered = mesh.ordered
    moved = np.ascontiguousarray(displacement[:, ordered.order].transpose(1, 2, 0))  # (n, 3, C)
    nodal = averaged(mesh, material, moved)
    names = list(mesh.surfaces) if surfaces is None else list(surfaces)
    number = np.empty(len(ordered.order), dtype=np.int64)
    number[ordered.order] = np.arange(len(number))
    nodes, values = surface_stress(mesh, material, displacement, tractions, names)
    nodal[number[nodes]] = values
    return np.ascontiguousarray(nodal[number].transpose(2, 0, 1))


def averaged(mesh: Mesh, material: Elastic, moved: Array) -> Array:
    """Plain mean at each node of the elements' extrapolated stress: (n, 6, C) in the sorted numbering."""
    ordered = mesh.ordered
    points, _ = tetrahedron4()
    slopes = gradients(points)
    spread = np.linalg.solve(
        _planes(points).T, _planes(TET_NODES).T
    ).T  # (10, 4): through the four values, a linear field
    total = np.zeros((len(mesh.points), 6, moved.shape[2]))
    count = np.zeros(len(mesh.points))
    pattern = ordered.pattern
    _average(
        ordered.points,
        pattern.tets,
        pattern.cuts,
        slopes,
        spread,
        moved,
        material.lame,
        material.mu,
        total,
        count,
    )
    return total


def _planes(points: Array) -> Array:
    """Barycentric coordinates (q, 4): every linear field is a combination of them."""
    return np.column_stack([1.0 - points.sum(axis=1), points])


def shape_integrals(mesh: Mesh) -> Array:
    """Integral of each shape function over the mesh (n,) mm3."""
    ordered = mesh.ordered
    points, weights = tetrahedron14()
    share = np.zeros(len(mesh.points))
    _integrate(ordered.points, ordered.pattern.tets, gradients(points), shapes(points), weights, share)
    integrals = np.empty_like(share)
    integrals[ordered.order] = share
    return integrals


@njit(cache=True)
def _integrate(points, tets, slopes, shape, weights, share):
    inverse = np.empty((3, 3))
    for e in range(tets.shape[0]):
        for q in range(len(weights)):
            volume = weights[q] * jacobian(points, tets[e], slopes[q], inverse)
            for k in range(tets.shape[1]):
                share[tets[e, k]] += volume * shape[q, k]


@njit(cache=True, inline="always")
def strain_at(grad, nodes, moved, strain):
    """Engineering strain (6, C) from gradients (10, 3) and displacements of all nodes (n, 3, C)."""
    strain[:] = 0.0
    for k in range(len(nodes)):
        x, y, z = grad[k, 0], grad[k, 1], grad[k, 2]
        u = moved[nodes[k]]
        for c in range(u.shape[1]):
            strain[0, c] += x * u[0, c]
            strain[1, c] += y * u[1, c]
            strain[2, c] += z * u[2, c]
            strain[3, c] += y * u[0, c] + x * u[1, c]
            strain[4, c] += z * u[1, c] + y * u[2, c]
            strain[5, c] += x * u[2, c] + z * u[0, c]


@njit(cache=True, inline="always")
def to_stress(strain, lame, mu):
    """Turn strain (6, C) into stress in place."""
    for c in range(strain.shape[1]):
        mean = lame * (strain[0, c] + strain[1, c] + strain[2, c])
        for k in range(3):
            strain[k, c] = mean + 2.0 * mu * strain[k, c]
            strain[3 + k, c] *= mu


@njit(parallel=True, cache=True, fastmath=True)
def _average(  # noqa: C901 - one loop nest: a call inside would keep the compiler from packing it
    points, tets, cuts, slopes, spread, moved, lame, mu, total, count
):
    cases = moved.shape[2]
    for part in prange(len(cuts) - 1):
        first, last = cuts[part], cuts[part + 1]
        inverse = np.empty((3, 3))
        grad = np.empty((10, 3))
        at = np.empty((4, 6, cases))
        for e in range(tets.shape[0]):
            nodes = tets[e]
            if nodes.min() >= last:
                break
            if nodes.max() < first:
                continue
            for q in range(4):
                jacobian(points, nodes, slopes[q], inverse)
                physical(slopes[q], inverse, grad)
                strain_at(grad, nodes, moved, at[q])
                to_stress(at[q], lame, mu)
            for k in range(10):
                i = nodes[k]
                if first <= i < last:
                    count[i] += 1.0
                    for s in range(6):
                        for c in range(cases):
                            total[i, s, c] += (
                                spread[k, 0] * at[0, s, c]
                                + spread[k, 1] * at[1, s, c]
                                + spread[k, 2] * at[2, s, c]
                                + spread[k, 3] * at[3, s, c]
                            )
        for i in range(first, last):
            if count[i] > 0.0:
                total[i] /= count[i]


def nodal_volumes(mesh: Mesh) -> Array:
    """Integral of each shape function (n,) mm3: what gravity gives to a node. They add up to the mesh's volume."""
    return shape_integrals(mesh)
