"""The stress along a crack's path from the mesh, for every load case: where it starts, which way it runs, how far.

At a bore a crack runs outward along a radius, and what opens it is the hoop stress. Elsewhere it runs straight into the metal
from the surface, and what opens it is the stress on the plane that fatigue found worst.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from analysis.elastic.mesh import Mesh
from analysis.elastic.sample import Sampler
from geometry.datums import bore, centre
from params.schema.arm import Arm
from params.schema.units import System, show, shown_unit
from params.steps.problems import OutOfRange

Floats = NDArray[np.float64]
POINTS = 60
SKIN = 0.05  # mm below the surface at which the first point is read: on it a point may lie outside the metal
BESIDE = 0.2  # share of the way to the middle of the faces beside a node
DEEPEST = 0.95  # share of the way to the far surface that is read


@dataclass(frozen=True)
class Path:
    """Depths (S,) mm from 0, stress (C, S) MPa normal to the crack, the wall that it runs through, and its start (3,)."""

    depth: Floats
    stress: Floats
    wall: float
    start: Floats


def from_bore(arm: Arm, sampler: Sampler, stress: Floats, name: str, place: Floats, edge: bool) -> Path:
    """Outward from the bore at the angle of `place` (3,); `edge` starts at the bore's rim on its side, else at its height.

    stress (n, C, 6) in the order of the sampler's mesh.
    """
    hole, middle = bore(arm, name), centre(arm, name)
    out = place[:2] - middle
    out = out / np.hypot(*out)
    half = hole.width / 2.0 - hole.chamfer
    z = float(np.copysign(half, place[2])) if edge else float(np.clip(place[2], -half, half))
    start = np.array([*(middle + out * hole.bore / 2.0), z * (1.0 - 1e-3)])
    wall = (hole.outside - hole.bore) / 2.0
    depth, read = along(sampler, stress, start, np.array([*out, 0.0]), wall)
    return Path(depth, opened(read, np.array([-out[1], out[0], 0.0])), wall, start)


def from_surface(
    mesh: Mesh, sampler: Sampler, stress: Floats, region: str, node: int, normal: Floats, most: float
) -> Path:
    """Into the metal from a node of a region; `normal` (3,) is that of the crack's plane, `most` mm the farthest looked."""
    start, inward = off_edge(mesh, region, node), -outward(mesh, region, node)
    far = reach(sampler, start, inward, most)
    depth, read = along(sampler, stress, start, inward, far)
    return Path(depth, opened(read, normal), far, start)


def along(sampler: Sampler, stress: Floats, start: Floats, way: Floats, wall: float) -> tuple[Floats, Floats]:
    """Depths (S,) and stress (S, C, 6) up to `DEEPEST` of the wall, closer together at the surface."""
    depth = DEEPEST * wall * np.linspace(0.0, 1.0, POINTS) ** 1.5
    read = sampler(start + np.maximum(depth, SKIN)[:, None] * way, stress)
    inside = np.isfinite(read[:, 0, 0])
    if inside.sum() < POINTS // 2:
        raise _leaves(start)
    last = int(np.flatnonzero(inside)[-1]) + 1
    filled = np.stack(
        [
            np.interp(depth[:last], depth[inside], column)
            for column in read[inside].reshape(int(inside.sum()), -1).T
        ],
        axis=1,
    )
    return depth[:last], filled.reshape(last, *read.shape[1:])


def _leaves(start: Floats) -> OutOfRange:
    """The refusal of a path (mm) that has too few points inside the arm to say what drives a crack."""

    def message(units: System) -> str:
        place = ", ".join(show(float(x), "length", units, unit=False) for x in start)
        return f"the path of a crack from ({place}) {shown_unit('length', units)} leaves the metal"

    return OutOfRange(message("si"), message)


def opened(stress: Floats, normal: Floats) -> Floats:
    """Normal stress (C, S) on a plane of stress (S, C, 6)."""
    x, y, z = normal / np.linalg.norm(normal)
    weights = np.array([x * x, y * y, z * z, 2.0 * x * y, 2.0 * y * z, 2.0 * z * x])
    return (stress @ weights).T


def off_edge(mesh: Mesh, region: str, node: int) -> Floats:
    """A point beside a node, towards the middle of the region's faces at it: a node on an edge has metal on one side only."""
    faces = mesh.surfaces[region]
    corners = mesh.points[faces[np.any(faces == node, axis=1)][:, :3]]
    return mesh.points[node] + BESIDE * (corners.mean(axis=(0, 1)) - mesh.points[node])


def outward(mesh: Mesh, region: str, node: int) -> Floats:
    """Unit normal of the surface at a node, the mean of its faces by area."""
    faces = mesh.surfaces[region]
    corners = mesh.points[faces[np.any(faces == node, axis=1)][:, :3]]
    total = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0]).sum(axis=0)
    return total / np.linalg.norm(total)


def reach(sampler: Sampler, start: Floats, way: Floats, most: float) -> float:
    """How far the metal goes from a point, mm, at most `most`; read every 2 %."""
    steps = most * np.arange(1, 51) / 50.0
    inside = sampler.find(start + steps[:, None] * way)[0] >= 0
    return float(steps[int(np.argmin(inside))] if not inside.all() else most)
