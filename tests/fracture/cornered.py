"""Two corner cracks at a hole on a mesh, a quarter of the plate, and K along the front by the energy that a small advance
releases at fixed displacements (Parks, Int. J. Fracture 10 (1974) 487), the crack's faces loaded by any stress (superposition).
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from analysis.elastic.element import gradients, shapes
from analysis.elastic.loads import face_areas
from analysis.elastic.material import Elastic
from analysis.elastic.mesh import Mesh
from analysis.elastic.quadrature import tetrahedron14, triangle
from analysis.elastic.solve import solve
from tests.elastic.fields import hold
from tests.elastic.meshes import block

Array = NDArray[np.float64]
STEEL = Elastic(200e3, 0.3)
FRONT = 8  # cells from the corner to the front
NEAR = np.array(
    [0.0, 0.25, 0.5, 0.7, 0.82, 0.9, 0.95, 0.98, 1.0, 1.02, 1.05, 1.1, 1.19, 1.35]
)  # of the crack's axes
TURN = np.array([0.0, 0.02, 0.05, 0.1, 0.19, 0.35, 0.62])  # of the crack's length, away from its plane


@dataclass(frozen=True)
class Cornered:
    """Hole of radius 1 about z in a plate `thickness` thick; crack in the plane y = 0, depth `a` along z, `c` along x."""

    mesh: Mesh
    a: float
    c: float
    held: NDArray[np.int64]


def levels(near: float, far: float, count: int) -> Array:
    """From the corner over the crack's axis `near` to the end `far`: `count` more steps, growing."""
    return np.concatenate([NEAR * near, np.geomspace(NEAR[-1] * near, far, count + 1)[1:]])


def cornered(a: float, c: float, thickness: float, cracks: int = 2, outside: float = 9.0) -> Cornered:
    """Two cracks: a quarter of the plate. One: half of it, and no crack on the far side of the hole."""
    further = int(np.ceil(np.log((outside - 1.0) / (NEAR[-1] * c)) / np.log(2.0)))
    x, z = levels(c, outside - 1.0, further), levels(a, thickness, further)
    near, end = c * TURN, np.pi if cracks == 1 else np.pi / 2.0
    more = int(np.ceil(np.log(end / near[-1]) / np.log(1.7)))
    turn = np.concatenate([near, np.geomspace(near[-1], end, more + 1)[1:]])
    cells = (len(turn) - 1, len(x) - 1, len(z) - 1)

    def shape(u: Array) -> Array:
        i, j = u[:, 1] * cells[1], u[:, 2] * cells[2]
        m, n = np.maximum(i, j), np.maximum(np.minimum(i, j), 0.0)
        share = np.divide(n, m, out=np.zeros_like(m), where=m > 0.0)
        angle = np.where(i >= j, share * np.pi / 4.0, np.pi / 2.0 - share * np.pi / 4.0)
        at = lambda level: np.interp(m, np.arange(len(level)), level)  # noqa: E731
        round_ = np.stack([at(x) * np.cos(angle), at(z) * np.sin(angle)])
        square = np.stack([at(x) * np.where(i >= j, 1.0, share), at(z) * np.where(i >= j, share, 1.0)])
        blend = np.clip((m - FRONT - 2.0) / (cells[1] - FRONT - 2.0), 0.0, 1.0)
        away, deep = round_ + blend * (square - round_)
        theta = np.interp(u[:, 0] * cells[0], np.arange(len(turn)), turn)
        return np.column_stack([(1.0 + away) * np.cos(theta), (1.0 + away) * np.sin(theta), deep])

    mesh = block(cells, shape)
    cut = mesh.surfaces["low0"]
    inside = inside_of(mesh.points[cut[:, :3]].mean(axis=1), a, c)
    faces = dict(mesh.surfaces) | {"crack": cut[inside], "ligament": cut[~inside]}
    mesh = Mesh(mesh.points, mesh.tets, faces)
    corner = int(np.argmax(mesh.points[:, 0] + mesh.points[:, 2]))
    far = [*hold(mesh, ("high0", "x"))] if cracks == 2 else [*hold(mesh, ("high0", "y")), 3 * corner]
    held = np.unique([*hold(mesh, ("ligament", "y")), *far, 3 * corner + 2])
    return Cornered(mesh, a, c, held)


def inside_of(points: Array, a: float, c: float) -> NDArray[np.bool_]:
    return ((points[:, 0] - 1.0) / c) ** 2 + (points[:, 2] / a) ** 2 < 1.0


def work(points: Array, faces: NDArray[np.int64], pressure: Callable[[Array], Array]) -> Array:
    """Nodal loads along y (n,) of a pressure at distances x from the hole's edge on the crack's face y = 0."""
    local, weights = triangle(5)
    shape = shapes(local)
    areas, _ = face_areas(points[faces], local, weights)
    at = np.einsum("qn,kn->kq", shape, points[faces][..., 0]) - 1.0
    loads = np.zeros(len(points))
    np.add.at(loads, faces, np.einsum("kq,qn->kn", areas * pressure(at), shape))
    return loads


def strain_energy(points: Array, tets: NDArray[np.int64], moved: Array) -> float:
    """Of these elements with nodes at `points` and displacements `moved`, (n, 3)."""
    local, weights = tetrahedron14()
    slope = np.einsum("qkd,mkx->mqxd", gradients(local), points[tets])
    grad = np.einsum("qkd,mqdx->mqkx", gradients(local), np.linalg.inv(slope))
    change = np.einsum("mqkx,mky->mqxy", grad, moved[tets])
    strain = (change + change.swapaxes(2, 3)) / 2.0
    lame = STEEL.modulus * STEEL.poisson / ((1.0 + STEEL.poisson) * (1.0 - 2.0 * STEEL.poisson))
    shear = STEEL.modulus / (2.0 * (1.0 + STEEL.poisson))
    trace = np.trace(strain, axis1=2, axis2=3)
    density = lame / 2.0 * trace**2 + shear * (strain**2).sum(axis=(2, 3))
    return float((np.linalg.det(slope) * weights * density).sum())


def along_front(
    made: Cornered, pressures: list[Callable[[Array], Array]], ends: bool = False
) -> tuple[Array, Array]:
    """Angles (f,) of the front's corner nodes, 0 on the face and pi/2 on the wall, and K (C, f) at them, plane strain; with
    `ends` the two first and the two last alone.
    """
    mesh, points = made.mesh, made.mesh.points
    crack = mesh.surfaces["crack"]
    loads = np.zeros((len(pressures), len(points), 3))
    for load, pressure in zip(loads, pressures, strict=True):
        load[:, 1] = work(points, crack, pressure)
    solution = solve(mesh, STEEL, loads.reshape(len(pressures), -1), fixed=made.held)
    assert solution.ok, solution.message
    nodes = np.intersect1d(mesh.nodes("crack"), mesh.nodes("ligament"))
    phi = np.arctan2(points[nodes, 2] / made.a, (points[nodes, 0] - 1.0) / made.c)
    nodes, phi = nodes[np.argsort(phi)], np.sort(phi)
    wanted = list(range(0, len(phi), 2))
    wanted = [*wanted[:2], *wanted[-2:]] if ends else wanted
    found = np.array([advance(made, solution.displacement, pressures, phi, k) for k in wanted])
    return phi[wanted], found.T


def advance(
    made: Cornered, moved: Array, pressures: list[Callable[[Array], Array]], phi: Array, k: int
) -> list[float]:
    """K (C,) at one node of the front: nodes near it move outward in the crack's plane by a hat along the front."""
    points, mesh, step = made.mesh.points, made.mesh, 1e-4 * made.c
    x, z = (points[:, 0] ** 2 + points[:, 1] ** 2) ** 0.5 - 1.0, points[:, 2]
    scale = np.hypot(x / made.c, z / made.a)
    angle = np.arctan2(z / made.a, x / made.c)
    hat = np.interp(
        angle,
        phi[max(k - 2, 0) : k + 3 : 2],
        (np.arange(max(k - 2, 0), min(k + 3, len(phi)), 2) == k) * 1.0,
        left=float(k == 0),
        right=float(k == len(phi) - 1),
    )
    off = np.hypot(scale - 1.0, np.arctan2(points[:, 1], points[:, 0]) / made.c)
    shift = step * hat * np.clip((0.15 - off) / 0.1, 0.0, 1.0)
    outward = np.stack([np.cos(angle) / made.c, np.sin(angle) / made.a])
    outward = outward / np.hypot(*outward)
    theta = np.arctan2(points[:, 1], points[:, 0])
    moves = (
        np.column_stack([outward[0] * np.cos(theta), outward[0] * np.sin(theta), outward[1]]) * shift[:, None]
    )
    fine = np.linspace(phi[max(k - 2, 0)], phi[min(k + 2, len(phi) - 1)], 401)
    length = np.hypot(made.c * np.sin(fine), made.a * np.cos(fine))
    weight = np.interp(
        fine, phi[max(k - 2, 0) : k + 3 : 2], (np.arange(max(k - 2, 0), min(k + 3, len(phi)), 2) == k) * 1.0
    )
    swept = np.trapezoid(weight * length, fine) * step
    near = mesh.tets[(shift[mesh.tets] > 0.0).any(axis=1)]
    crack = mesh.surfaces["crack"]
    faces = crack[(shift[crack] > 0.0).any(axis=1)]
    found = []
    for u, pressure in zip(moved, pressures, strict=True):
        energy = [
            strain_energy(points + s * moves, near, u)
            - float(work(points + s * moves, faces, pressure) @ u[:, 1])
            for s in (-1.0, 1.0)
        ]
        release = 2.0 * (energy[0] - energy[1]) / (2.0 * swept)  # both halves of the plate
        found.append(float(np.sqrt(release * STEEL.modulus / (1.0 - STEEL.poisson**2))))
    return found
