"""Loads of a case as tractions on the bores and gravity, consistent with the shape functions, resultants exact.

A pin's force is a half-cosine pressure on the loaded half of the bore, p = p0 cos(theta - theta_F) (common practice for a
close-fitting pin). Where the force acts off the middle (moment about the in-plane axis square to it), the pressure grows
linearly along the bore as long as that leaves no suction. Any further Mx, My is the pressure p ~ z cos(theta - theta_m) on
the full circle, Fz a uniform axial traction, Mz a uniform tangential one. What the faceted integration misses is added as a
small multiple of uniform tractions, so that force and moment are those wanted to rounding.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from analysis.elastic.element import FACE_NODES, gradients, shapes
from analysis.elastic.mesh import Mesh
from analysis.elastic.quadrature import triangle

Array = NDArray[np.float64]
POINTS = 5  # each way: the half-cosine has a kink inside the elements at its ends


@dataclass(frozen=True)
class BoreLoad:
    """Force (N) and moment (N mm) about the centre (x, y, z) that a pin gives to a bore, or with `outside` a plate to the
    pin in it; `linear`: carry the moment of an off-middle force by a pressure that grows along the bore, as far as it stays
    pressure."""

    surface: str
    centre: tuple[float, float] | tuple[float, float, float]  # z is 0 where not given
    force: tuple[float, float, float]
    moment: tuple[float, float, float] = (0.0, 0.0, 0.0)
    linear: bool = True
    outside: bool = False  # the material lies within the surface


@dataclass(frozen=True)
class Resultants:
    """What was wanted and what the nodal loads give: force N and moment N mm about the origin; shares of the largest."""

    force: Array  # (3,) sum of all nodal loads
    moment: Array  # (3,)
    # Of each bore: wanted against given, share of the wanted (moment by the half width)
    mismatch: dict[str, float]
    # Largest traction added to make the resultants exact, share of the largest traction
    correction: dict[str, float]
    suction: dict[str, float]  # largest tension asked of a bore surface, MPa
    # Surface: (k, 6, 3) MPa at the nodes of its faces
    tractions: dict[str, Array] = field(default_factory=dict)


@dataclass(frozen=True)
class Bore:
    """Points of a bore's surface in cylinder coordinates."""

    places: Array  # (p, 3)
    radial: Array  # (p, 3) into the material: away from the axis, or toward it for a pin
    z: Array  # (p,)


def case_vector(
    mesh: Mesh, wanted: Sequence[BoreLoad], gravity: Sequence[float] = (0.0, 0.0, 0.0), density: float = 0.0,
    volumes: Array | None = None,
) -> tuple[Array, Resultants]:  # fmt: skip
    """Nodal loads (3n,) N of one case; gravity (3,) m/s2 in the arm's frame, density kg/mm3 (kg m/s2 = N).

    volumes: `nodal_volumes(mesh)`, worked out here where not given.
    """
    loads = np.zeros((len(mesh.points), 3))
    mismatch, correction, suction, tractions = {}, {}, {}, {}
    for load in wanted:
        nodal, corners, told = bore_vector(mesh, load)
        loads += nodal
        mismatch[load.surface], correction[load.surface], suction[load.surface] = told
        tractions[load.surface] = tractions.get(load.surface, 0.0) + corners
    if np.any(gravity):
        shares = nodal_volumes(mesh) if volumes is None else volumes
        loads += density * shares[:, None] * np.asarray(gravity, dtype=float)
    moment = np.cross(mesh.points, loads).sum(axis=0)
    return loads.ravel(), Resultants(loads.sum(axis=0), moment, mismatch, correction, suction, tractions)


def bore_vector(mesh: Mesh, load: BoreLoad) -> tuple[Array, Array, tuple[float, float, float]]:
    """Nodal loads (n, 3), tractions (k, 6, 3) at the face nodes, and (mismatch, correction, suction)."""
    faces = mesh.surfaces[load.surface]
    local, weights = triangle(POINTS)
    shape = shapes(local)
    areas, _ = face_areas(mesh.points[faces], local, weights)  # (k, q)
    middle = np.array([*load.centre, 0.0][:3])
    sign = -1.0 if load.outside else 1.0
    inside = _bore(np.einsum("qn,knx->kqx", shape, mesh.points[faces]), middle, sign)
    at_nodes = _bore(mesh.points[faces], middle, sign)
    half = float(np.abs(at_nodes.z).max())
    target = np.concatenate([load.force, load.moment])

    fields, amounts = _fields(inside, half, load)
    basis = np.array([_resultant(field, inside, areas) for field in fields])  # (f, 6)
    amounts = _scaled(amounts, basis, target)
    first = np.einsum("f,fpx->px", amounts, np.array(fields))
    spare, _ = _fields(inside, half, None)
    spare_basis = np.array([_resultant(field, inside, areas) for field in spare])
    rest = np.linalg.solve(spare_basis.T, target - amounts @ basis)
    exact = first + np.einsum("f,fpx->px", rest, np.array(spare))

    nodal = np.zeros((len(mesh.points), 3))
    share = np.einsum("kq,qn,kqx->knx", areas, shape, exact.reshape(*areas.shape, 3))
    np.add.at(nodal, faces, share)
    node_fields, _ = _fields(at_nodes, half, load)
    node_spare, _ = _fields(at_nodes, half, None)
    corners = np.einsum("f,fpx->px", amounts, np.array(node_fields)) + np.einsum(
        "f,fpx->px", rest, np.array(node_spare)
    )
    given = np.concatenate([nodal.sum(axis=0), np.cross(mesh.points - middle, nodal).sum(axis=0)])
    told = _told(target, given, half, first, exact - first, np.einsum("px,px->p", exact, inside.radial))
    return nodal, corners.reshape(*faces.shape, 3), told


def _bore(places: Array, middle: Array, sign: float) -> Bore:
    away = places.reshape(-1, 3) - middle
    radius = np.hypot(away[:, 0], away[:, 1])
    radial = sign * np.column_stack([away[:, 0] / radius, away[:, 1] / radius, np.zeros(len(away))])
    return Bore(away, radial, away[:, 2])


def _fields(bore: Bore, half: float, load: BoreLoad | None) -> tuple[list[Array], list[float]]:
    """Unit traction fields (p, 3) and, for each, the amount of the closed form (pressure first, then the general six).

    Without a load: the six that can carry any resultant, in place of the half-cosine a uniform traction each way.
    """
    x, y, z = np.eye(3)
    tangent = np.cross(z, bore.radial)
    height = (bore.z / half)[:, None]
    uniform = [np.broadcast_to(axis, bore.places.shape) for axis in (x, y, z)]
    turning = [
        height * bore.radial * bore.radial[:, [1]],
        height * bore.radial * bore.radial[:, [0]],
        tangent,
    ]
    if load is None:
        return [*uniform, *turning], []
    force = np.hypot(load.force[0], load.force[1])
    if force == 0.0:
        return [uniform[2], *turning], [0.0] * 4
    direction = np.array([load.force[0], load.force[1], 0.0]) / force
    pressing = np.clip(bore.radial @ direction, 0.0, None)[:, None] * bore.radial
    shift = float(np.cross(z, direction) @ np.asarray(load.moment)) / force if load.linear else 0.0
    slope = np.clip(3.0 * shift / half, -1.0, 1.0)  # p0 (1 + slope z / half): moment F slope half / 3
    return [pressing * (1.0 + slope * height), uniform[2], *turning], [1.0] + [0.0] * 4


def _scaled(amounts: list[float], basis: Array, target: Array) -> Array:
    """Amount of each field: the half-cosine carries the in-plane force, then Fz, Mx, My and Mz by one field each."""
    found = np.zeros(len(amounts))
    left = target.copy()
    if amounts and amounts[0] == 1.0:
        found[0] = (target[:2] @ basis[0, :2]) / (basis[0, :2] @ basis[0, :2])
        left -= found[0] * basis[0]
    for place, component in zip(range(len(amounts) - 4, len(amounts)), (2, 3, 4, 5), strict=True):
        found[place] = left[component] / basis[place, component]
    return found


def _resultant(field: Array, bore: Bore, areas: Array) -> Array:
    """Force and moment about the bore's middle of a traction field."""
    pull = field * areas.reshape(-1, 1)
    return np.concatenate([pull.sum(axis=0), np.cross(bore.places, pull).sum(axis=0)])


def _told(
    target: Array, given: Array, half: float, first: Array, added: Array, outward: Array
) -> tuple[float, float, float]:
    """mismatch, correction and suction: `outward` is the traction along the radius, a push into the material positive."""
    scale = max(np.abs(target[:3]).max(), np.abs(target[3:]).max() / half, 1e-300)
    gap = np.abs(given - target) / np.repeat([1.0, half], 3)
    most = max(float(np.abs(first).max()), 1e-300)
    return float(gap.max() / scale), float(np.abs(added).max()) / most, max(0.0, -float(outward.min()))


def face_areas(corners: Array, local: Array, weights: Array) -> tuple[Array, Array]:
    """Weights times area (k, q) and unit normals (k, q, 3) of curved faces with nodes (k, 6, 3)."""
    slopes = gradients(local)  # (q, 6, 2)
    along = np.einsum("qnd,knx->kqdx", slopes, corners)
    normal = np.cross(along[:, :, 0], along[:, :, 1])
    size = np.linalg.norm(normal, axis=2)
    return size * weights, normal / size[..., None]


def nodal_volumes(mesh: Mesh) -> Array:
    """Integral of each shape function (n,) mm3: what gravity gives to a node. They add up to the mesh's volume."""
    from analysis.elastic.recovery import shape_integrals

    return shape_integrals(mesh)


def surface_traction(mesh: Mesh, name: str, pressure: Array | float) -> tuple[Array, Array]:
    """Nodal loads (3n,) and face tractions (k, 6, 3) of a pressure on a named surface, (k, 6) at its nodes or one value."""
    faces = mesh.surfaces[name]
    local, weights = triangle(POINTS)
    shape = shapes(local)
    areas, normals = face_areas(mesh.points[faces], local, weights)
    field = np.broadcast_to(np.asarray(pressure, dtype=float), faces.shape)
    pull = -np.einsum("kq,kn,qn,kqx->kqx", areas, field, shape, normals)
    nodal = np.zeros((len(mesh.points), 3))
    np.add.at(nodal, faces, np.einsum("kqx,qn->knx", pull, shape))
    _, outward = face_areas(mesh.points[faces], FACE_NODES, np.ones(6))
    return nodal.ravel(), -field[..., None] * outward
