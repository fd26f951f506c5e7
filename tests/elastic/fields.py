"""Exact loads for tests: nodal loads that belong to a known stress field, and rigid motions taken out of an answer."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
from numpy.typing import NDArray

from analysis.elastic.element import gradients, shapes
from analysis.elastic.mesh import Mesh
from analysis.elastic.quadrature import tetrahedron14
from analysis.elastic.supports import rigid

Array = NDArray[np.float64]
Field = Callable[[Array], Array]
FULL = np.array([[0, 3, 5], [3, 1, 4], [5, 4, 2]])  # six components into a 3 x 3 tensor


def volume_points(mesh: Mesh) -> tuple[Array, Array, Array, Array]:
    """Places (m, q, 3), weights (m, q), shape functions (q, 10) and their gradients (m, q, 10, 3)."""
    points, weights = tetrahedron14()
    nodes = mesh.points[mesh.tets]
    slope = np.einsum("qkd,mkx->mqxd", gradients(points), nodes)
    grad = np.einsum("qkd,mqdx->mqkx", gradients(points), np.linalg.inv(slope))
    places = np.einsum("qk,mkx->mqx", shapes(points), nodes)
    return places, np.linalg.det(slope) * weights, shapes(points), grad


def loads_of_stress(mesh: Mesh, stress: Field) -> Array:
    """(3n,) integral of stress : grad N, the weak form's right side for any field, whatever its body force and tractions."""
    places, weights, _, grad = volume_points(mesh)
    tensor = stress(places)[..., FULL]
    force = np.zeros((len(mesh.points), 3))
    np.add.at(force, mesh.tets, np.einsum("mq,mqxy,mqky->mkx", weights, tensor, grad))
    return force.ravel()


def loads_of_body_force(mesh: Mesh, density: Field) -> Array:
    """(3n,) integral of N b for a body force b (..., 3) in N/mm3."""
    places, weights, shape, _ = volume_points(mesh)
    force = np.zeros((len(mesh.points), 3))
    np.add.at(force, mesh.tets, np.einsum("mq,mqx,qk->mkx", weights, density(places), shape))
    return force.ravel()


def integral(mesh: Mesh, field: Field) -> float:
    places, weights, _, _ = volume_points(mesh)
    return float((weights * field(places)).sum())


def without_rigid(points: Array, moved: Array) -> Array:
    """Displacements (n, 3) less the rigid motion that fits them best."""
    modes = rigid(points - points.mean(axis=0)).reshape(-1, 6)
    return moved - (modes @ np.linalg.lstsq(modes, moved.ravel(), rcond=None)[0]).reshape(-1, 3)


def balanced(mesh: Mesh, loads: Array) -> Array:
    """Loads (3n,) with a linear field of nodal forces taken off, so that force and moment vanish."""
    modes = rigid(mesh.points).reshape(-1, 6)
    return loads - modes @ np.linalg.lstsq(modes.T @ modes, modes.T @ loads, rcond=None)[0]


def hold(mesh: Mesh, *what: tuple[str, str]) -> NDArray[np.int64]:
    """Scalar unknowns held: pairs of a surface's name and axes, as ("low0", "xyz")."""
    held = [3 * mesh.nodes(name) + "xyz".index(axis) for name, axes in what for axis in axes]
    return np.unique(np.concatenate(held))


def polar(stress: Array, points: Array) -> tuple[Array, Array]:
    """Radial and hoop stress about z of (n, 6) at points (n, 3)."""
    angle = np.arctan2(points[:, 1], points[:, 0])
    c, s = np.cos(angle), np.sin(angle)
    x, y, xy = stress[:, 0], stress[:, 1], stress[:, 3]
    return x * c * c + y * s * s + 2 * xy * c * s, x * s * s + y * c * c - 2 * xy * c * s
