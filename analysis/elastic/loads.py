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

from analysis.elastic.element import gradients, shapes
from analysis.elastic.mesh import Mesh
from analysis.elastic.quadrature import triangle
from analysis.elastic.recovery import nodal_volumes

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
    """Resultants of the nodal loads, force N and moment N mm about the origin, and how exactly they give the load wanted."""

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

    places: Array  # (p, 3) from the bore's middle
    radial: Array  # (p, 3) into the material: away from the axis, or toward it for a pin
    height: Array  # (p, 1) along the bore, share of its half width


@dataclass(frozen=True)
class Seat:
    """A bore's surface, computed once for all loads on it."""

    faces: NDArray[np.int64]  # (k, 6)
    shape: Array  # (q, 6) shape functions at the points of a face
    areas: Array  # (k, q) weights times area
    half: float  # half width, mm
    inside: Bore  # the k q points
    at_nodes: Bore  # the 6 k nodes of the faces
    levers: Array  # (3 k q, 6) force and moment about the bore's middle of a traction at the points
    spare: Array  # (6, k q, 3) traction fields that can carry any resultant
    spare_at_nodes: Array  # (6, 6 k, 3)
    count: int  # nodes of the mesh

    @classmethod
    def of(cls, mesh: Mesh, load: BoreLoad) -> Seat:
        faces = mesh.surfaces[load.surface]
        local, weights = triangle(POINTS)
        shape = shapes(local)
        corners = mesh.points[faces]
        areas, _ = face_areas(corners, local, weights)
        middle = np.array([*load.centre, 0.0][:3])
        half = float(np.abs(corners[..., 2] - middle[2]).max())
        sign = -1.0 if load.outside else 1.0
        inside = _bore(np.einsum("qn,knx->kqx", shape, corners), middle, half, sign)
        at_nodes = _bore(corners, middle, half, sign)
        spare, beside = (np.array([*_uniform(at), *_turning(at)]) for at in (inside, at_nodes))
        levers = _levers(inside.places, areas)
        return cls(faces, shape, areas, half, inside, at_nodes, levers, spare, beside, len(mesh.points))


Seats = dict[tuple[str, tuple[float, ...], bool], Seat]


def case_vector(
    mesh: Mesh,
    wanted: Sequence[BoreLoad],
    gravity: Sequence[float] = (0.0, 0.0, 0.0),
    density: float = 0.0,
    volumes: Array | None = None,
    seats: Seats | None = None,
) -> tuple[Array, Resultants]:
    """Nodal loads (3n,) N of one case; gravity (3,) m/s2 in the arm's frame, density kg/mm3 (kg m/s2 = N).

    volumes: `nodal_volumes(mesh)`, computed here where not given; seats: surfaces of this mesh computed earlier; new ones go in.
    """
    loads = np.zeros((len(mesh.points), 3))
    mismatch, correction, suction, tractions = {}, {}, {}, {}
    for load in wanted:
        nodal, corners, checks = bore_vector(mesh, load, seats)
        loads += nodal
        mismatch[load.surface], correction[load.surface], suction[load.surface] = checks
        tractions[load.surface] = tractions.get(load.surface, 0.0) + corners
    if np.any(gravity):
        shares = nodal_volumes(mesh) if volumes is None else volumes
        loads += density * shares[:, None] * np.asarray(gravity, dtype=float)
    moment = _moment(mesh.points, loads)
    return loads.ravel(), Resultants(loads.sum(axis=0), moment, mismatch, correction, suction, tractions)


def bore_vector(
    mesh: Mesh, load: BoreLoad, seats: Seats | None = None
) -> tuple[Array, Array, tuple[float, float, float]]:
    """Nodal loads (n, 3), tractions (k, 6, 3) at the face nodes, and (mismatch, correction, suction)."""
    seat = _seat(mesh, load, seats)
    target = np.concatenate([load.force, load.moment])
    fields, amounts = _fields(seat.inside, seat.half, load)
    basis = _resultants(fields, seat)  # (f, 6)
    amounts = _scaled(amounts, basis, target)
    first = np.tensordot(amounts, fields, 1)
    rest = np.linalg.solve(_resultants(seat.spare, seat).T, target - amounts @ basis)
    exact = first + np.tensordot(rest, seat.spare, 1)

    share = seat.shape.T @ (seat.areas[..., None] * exact.reshape(*seat.areas.shape, 3))  # (k, 6, 3)
    nodal = np.zeros((seat.count, 3))
    np.add.at(nodal, seat.faces, share)
    at_nodes, _ = _fields(seat.at_nodes, seat.half, load)
    corners = np.tensordot(amounts, at_nodes, 1) + np.tensordot(rest, seat.spare_at_nodes, 1)
    pull = share.reshape(-1, 3)
    given = np.concatenate([pull.sum(axis=0), _moment(seat.at_nodes.places, pull)])
    outward = (exact * seat.inside.radial).sum(axis=1)
    return (
        nodal,
        corners.reshape(*seat.faces.shape, 3),
        _accuracy(target, given, seat.half, first, exact - first, outward),
    )


def _seat(mesh: Mesh, load: BoreLoad, seats: Seats | None) -> Seat:
    """The surface from `seats`; computed and added where it is missing."""
    if seats is None:
        return Seat.of(mesh, load)
    key = load.surface, tuple(load.centre), load.outside
    if key not in seats:
        seats[key] = Seat.of(mesh, load)
    return seats[key]


def _bore(places: Array, middle: Array, half: float, sign: float) -> Bore:
    away = places.reshape(-1, 3) - middle
    radius = np.hypot(away[:, 0], away[:, 1])
    radial = sign * np.column_stack([away[:, 0] / radius, away[:, 1] / radius, np.zeros(len(away))])
    return Bore(away, radial, away[:, [2]] / half)


def _uniform(bore: Bore) -> list[Array]:
    """Unit tractions (p, 3) along x, y and z."""
    return [np.broadcast_to(axis, bore.places.shape) for axis in np.eye(3)]


def _turning(bore: Bore) -> list[Array]:
    """Traction fields (p, 3) of the moments about x, y and z."""
    radial = bore.radial
    tangent = np.column_stack([-radial[:, 1], radial[:, 0], np.zeros(len(radial))])
    return [bore.height * radial * radial[:, [1]], bore.height * radial * radial[:, [0]], tangent]


def _fields(bore: Bore, half: float, load: BoreLoad) -> tuple[Array, list[float]]:
    """Unit traction fields (f, p, 3) and, for each, the amount of the closed form (pressure first, then the general ones)."""
    general = [_uniform(bore)[2], *_turning(bore)]
    force = np.hypot(load.force[0], load.force[1])
    if force == 0.0:
        return np.array(general), [0.0] * 4
    direction = np.array([load.force[0], load.force[1], 0.0]) / force
    pressing = np.clip(bore.radial @ direction, 0.0, None)[:, None] * bore.radial
    # Moment about the in-plane axis square to the force, z x direction.
    across = -direction[1] * load.moment[0] + direction[0] * load.moment[1]
    shift = across / force if load.linear else 0.0
    slope = np.clip(3.0 * shift / half, -1.0, 1.0)  # p0 (1 + slope z / half): moment F slope half / 3
    return np.array([pressing * (1.0 + slope * bore.height), *general]), [1.0] + [0.0] * 4


def _scaled(amounts: list[float], basis: Array, target: Array) -> Array:
    """Amount of each field: the half-cosine carries the in-plane force, then Fz, Mx, My and Mz by one field each."""
    scaled = np.zeros(len(amounts))
    left = target.copy()
    if amounts and amounts[0] == 1.0:
        scaled[0] = (target[:2] @ basis[0, :2]) / (basis[0, :2] @ basis[0, :2])
        left -= scaled[0] * basis[0]
    for place, component in zip(range(len(amounts) - 4, len(amounts)), (2, 3, 4, 5), strict=True):
        scaled[place] = left[component] / basis[place, component]
    return scaled


def _levers(places: Array, areas: Array) -> Array:
    """What a traction (p, 3) at places (p, 3), flat, gives in force and moment: (3 p, 6)."""
    x, y, z = places.T
    levers = np.zeros((len(places), 3, 6))
    levers[:, [0, 1, 2], [0, 1, 2]] = 1.0
    levers[:, 1, 3], levers[:, 2, 3] = -z, y
    levers[:, 0, 4], levers[:, 2, 4] = z, -x
    levers[:, 0, 5], levers[:, 1, 5] = -y, x
    return (levers * areas.reshape(-1, 1, 1)).reshape(-1, 6)


def _resultants(fields: Array, seat: Seat) -> Array:
    """Force and moment (f, 6) about the bore's middle of traction fields (f, p, 3)."""
    return fields.reshape(len(fields), -1) @ seat.levers


def _moment(places: Array, loads: Array) -> Array:
    """Sum (3,) of places x loads, each (n, 3)."""
    (x, y, z), (fx, fy, fz) = places.T, loads.T
    return np.array([y @ fz - z @ fy, z @ fx - x @ fz, x @ fy - y @ fx])


def _accuracy(
    target: Array, given: Array, half: float, first: Array, added: Array, outward: Array
) -> tuple[float, float, float]:
    """Mismatch, correction and suction (see `Resultants`): `outward` is the radial traction, positive into the material."""
    scale = max(np.abs(target[:3]).max(), np.abs(target[3:]).max() / half, 1e-300)
    gap = np.abs(given - target) / np.repeat([1.0, half], 3)
    most = max(float(np.abs(first).max()), 1e-300)
    return float(gap.max() / scale), float(np.abs(added).max()) / most, max(0.0, -float(outward.min()))


def balance(
    bores: Sequence[BoreLoad], gravity: Sequence[float], mass: float, cg: Array
) -> tuple[Array, Array]:
    """Sum of force (3,) N and moment (3,) N mm about the origin of loads on bores and of a mass (kg) at cg (3,) mm."""
    acting = [(np.array([*load.centre, 0.0][:3]), np.asarray(load.force, float)) for load in bores]
    acting.append((cg, mass * np.asarray(gravity, dtype=float)))
    moment = sum((np.cross(at, force) for at, force in acting), np.zeros(3))
    return sum((force for _, force in acting), np.zeros(3)), moment + np.sum(
        [one.moment for one in bores], axis=0
    )


def face_areas(corners: Array, local: Array, weights: Array) -> tuple[Array, Array]:
    """Weights times area (k, q) and unit normals (k, q, 3) of curved faces with nodes (k, 6, 3)."""
    slopes = gradients(local)  # (q, 6, 2)
    along = np.einsum("qnd,knx->kqdx", slopes, corners)
    normal = np.cross(along[:, :, 0], along[:, :, 1])
    size = np.linalg.norm(normal, axis=2)
    return size * weights, normal / size[..., None]
