"""A scanner simulated: rays cast by a kept library (trimesh with embreex) on our tessellated solids and on clutter.

What it adds is told in `Instrument`: noise that grows with range and slant, a common offset and scale drawn once, mixed pixels
at edges, outliers. What is wrong with the part (pits, worn bores) is a depth into the metal at the place hit. Seeded.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

import numpy as np
import trimesh
from OCP.BRepMesh import BRepMesh_IncrementalMesh
from scipy.spatial.transform import Rotation

from geometry.solid import solid
from params.schema.arm import Arm, Geometry

CHORD = 0.006  # mm: how far the facets may lie off the solid, a small part of the noise


@dataclass(frozen=True)
class Instrument:
    noise: float = 0.1  # mm, standard deviation of the range at right angles and 0 m
    growth: float = 0.05  # share of the noise for each metre of range
    scale: float = 0.0  # standard deviation of the common scale error, 1
    offset: float = 0.0  # mm, standard deviation of the common error along the normal
    mixed: float = 0.0  # share of pixels at edges that lie between near and far
    outliers: float = 0.0  # share of points that are anywhere
    steepest: float = 80.0  # deg from the normal beyond which nothing comes back
    waves: float = 0.0  # mm, amplitude of an error that neighbours share
    wave: float = 40.0  # mm, its length


@dataclass
class Scan:
    setups: list[np.ndarray]  # points (n, 3) in mm, each setup in its own axes
    poses: list[tuple[Rotation, np.ndarray]]  # arm = rotation.apply(setup) + shift
    truth: list[np.ndarray]  # the same in the arm's axes


def mesh_of(body: Any, chord: float = CHORD) -> trimesh.Trimesh:
    BRepMesh_IncrementalMesh(
        body.wrapped, chord, False, 0.5, True
    )  # `tessellate` alone takes the chord as a share
    vertices, faces = body.tessellate(chord, 0.5)
    return trimesh.Trimesh(np.array([v.toTuple() for v in vertices]), np.array(faces), process=False)


MESHES: dict[Geometry, trimesh.Trimesh] = {}


def arm_mesh(arm: Arm) -> trimesh.Trimesh:
    if arm.geometry not in MESHES:
        MESHES[arm.geometry] = mesh_of(solid(arm))
    return MESHES[arm.geometry]


def around(arm: Arm, count: int, seed: int = 0, side: float = 0.0) -> np.ndarray:
    """Places (count, 3) of the scanner around the arm; `side` +1 or -1: all on that side of the mid-plane."""
    random = np.random.default_rng(seed)
    size = arm.geometry.input_arm + arm.geometry.output_arm
    turn = 2.0 * np.pi * (np.arange(count) + random.uniform(0.0, 1.0)) / count
    height = np.where(np.arange(count) % 2 == 0, 1.0, -1.0) if not side else np.full(count, side)
    middle = np.append(middle_of(arm), 0.0)
    flat = np.column_stack([np.cos(turn), np.sin(turn), 0.9 * height])
    return (
        middle + size * (0.9 + 0.2 * random.random((count, 1))) * flat / np.linalg.norm(flat, axis=1)[:, None]
    )


def middle_of(arm: Arm) -> np.ndarray:
    g = arm.geometry
    angle = g.included_angle
    return (
        g.output_arm * np.array([1.0, 0.0]) + g.input_arm * np.array([np.cos(angle), np.sin(angle)])
    ) / 2.0


def rays(station: np.ndarray, target: np.ndarray, reach: float, count: int) -> np.ndarray:
    """Directions (k, k, 3) of a square raster of about `count` rays that covers a ball about the target."""
    ahead = target - station
    far = np.linalg.norm(ahead)
    side = int(np.sqrt(count))
    half = np.arcsin(min(0.95, reach / far))
    pan, tilt = np.meshgrid(*[np.linspace(-half, half, side)] * 2, indexing="ij")
    turned = Rotation.align_vectors([ahead / far], [[1.0, 0.0, 0.0]])[0]
    flat = np.stack([np.cos(tilt) * np.cos(pan), np.cos(tilt) * np.sin(pan), np.sin(tilt)], axis=-1)
    return turned.apply(flat.reshape(-1, 3)).reshape(side, side, 3)


def scan(
    arm: Arm,
    stations: np.ndarray,
    count: int = 40_000,
    instrument: Instrument = Instrument(),
    seed: int = 0,
    clutter: list[trimesh.Trimesh] | None = None,
    depth: Callable[[np.ndarray, np.ndarray], np.ndarray] | None = None,
    mesh: trimesh.Trimesh | None = None,
    apart: bool = False,
    reach: float | None = None,
) -> Scan:
    """Points of each station; with `apart` each setup has axes of its own, else all share one.

    `depth(places, normals)` is how far the surface lies within the true one, mm; `mesh` stands for the whole solid.
    """
    random = np.random.default_rng(seed)
    body = arm_mesh(arm) if mesh is None else mesh
    scene = trimesh.util.concatenate([body, *(clutter or [])])
    own = len(body.faces)
    size = 0.5 * float(np.linalg.norm(body.bounds[1] - body.bounds[0])) if reach is None else reach
    scale, offset = (
        1.0 + random.normal(0.0, 1.0) * instrument.scale,
        random.normal(0.0, 1.0) * instrument.offset,
    )
    common = (Rotation.random(random_state=random.integers(2**31)), random.normal(0.0, 1.0, 3) * 2000.0)
    made = Scan([], [], [])
    middle = body.bounds.mean(axis=0)
    for station in stations:
        ways = rays(station, middle, size, count)
        points, _ = cast(scene, station, ways, instrument, random, depth, own, offset)
        points = with_outliers(points, instrument.outliers, random)
        made.truth.append(points)
        turn, shift = (
            common
            if not apart
            else (Rotation.random(random_state=random.integers(2**31)), random.normal(0.0, 1.0, 3) * 2000.0)
        )
        made.setups.append(scale * turn.apply(points) + shift)
        made.poses.append((turn.inv(), -turn.inv().apply(shift)))
    return made


def cast(scene, station, ways, instrument, random, depth, own, offset):
    """Places hit by one setup's rays, noise and the part's faults included."""
    side = len(ways)
    flat = ways.reshape(-1, 3)
    hits, ray, face = scene.ray.intersects_location(
        np.tile(station, (len(flat), 1)), flat, multiple_hits=False
    )
    normal = scene.face_normals[face]
    slant = np.abs(np.sum(normal * flat[ray], axis=1))
    seen = slant > np.cos(np.radians(instrument.steepest))
    hits, ray, face, normal, slant = hits[seen], ray[seen], face[seen], normal[seen], slant[seen]
    far = np.linalg.norm(hits - station, axis=1)
    sunk = np.full(len(hits), -offset)
    on_arm = face < own
    if depth is not None:
        sunk[on_arm] += depth(hits[on_arm], normal[on_arm])
    if instrument.waves:
        sunk += waved(hits, instrument, random)
    spread = instrument.noise * (1.0 + instrument.growth * far / 1000.0)
    moved = far + sunk / slant + random.normal(0.0, 1.0, len(far)) * spread
    grid = np.full(side * side, np.nan)
    grid[ray] = moved
    if instrument.mixed:
        grid = mixed(grid.reshape(side, side), instrument.mixed, random).ravel()
    told = np.isfinite(grid)
    return station + grid[told, None] * flat[told], None


def waved(hits: np.ndarray, instrument: Instrument, random: np.random.Generator) -> np.ndarray:
    """A smooth random field, the same for neighbours: a sum of 60 waves of about one length."""
    k = random.normal(0.0, 1.0, (60, 3)) * 2.0 * np.pi / instrument.wave / np.sqrt(3.0)
    phase = random.uniform(0.0, 2.0 * np.pi, 60)
    return instrument.waves * np.sqrt(2.0 / 60.0) * np.cos(hits @ k.T + phase).sum(axis=1)


def mixed(far: np.ndarray, share: float, random: np.random.Generator) -> np.ndarray:
    """Ranges where a pixel at an edge sees both sides of it: somewhere between its own and its neighbour's range."""
    made = far.copy()
    for axis in (0, 1):
        beside = np.roll(far, 1, axis=axis)
        jump = np.abs(far - beside) > 15.0
        chosen = jump & (random.random(far.shape) < share)
        part = random.random(far.shape)
        made[chosen] = (part * far + (1.0 - part) * beside)[chosen]
    return made


def with_outliers(points: np.ndarray, share: float, random: np.random.Generator) -> np.ndarray:
    """Some of the points replaced by points anywhere in a box half as large again."""
    made = points.copy()
    chosen = random.random(len(points)) < share
    low, high = points.min(axis=0), points.max(axis=0)
    room = 0.25 * (high - low) + 50.0
    made[chosen] = random.uniform(low - room, high + room, (int(chosen.sum()), 3))
    return made


def clutter(arm: Arm, pins: bool = True) -> list[trimesh.Trimesh]:
    """Floor, pins left in their bores, a hose, a ladder and a person, as simple bodies beside the arm."""
    g = arm.geometry
    size, middle = g.input_arm + g.output_arm, middle_of(arm)
    low = -0.6 * g.section.depth_at_hub - 0.15 * size
    made = [box((3.0 * size, 40.0, 3.0 * size), (middle[0], low, 0.0))]
    person = trimesh.creation.capsule(height=0.5 * size, radius=0.07 * size)
    made.append(
        placed(
            person, Rotation.from_euler("x", 90.0, degrees=True), (middle[0] + 0.3 * size, 0.0, 0.5 * size)
        )
    )
    hose = trimesh.creation.torus(0.25 * size, 0.012 * size)
    made.append(
        placed(hose, Rotation.from_euler("y", 70.0, degrees=True), (0.1 * size, 0.2 * size, 0.3 * size))
    )
    for rung in range(6):
        made.append(
            box(
                (0.12 * size, 0.01 * size, 0.01 * size), (-0.45 * size, low + 0.1 * size * rung, -0.35 * size)
            )
        )
    for side in (-1.0, 1.0):
        made.append(
            box(
                (0.01 * size, 0.7 * size, 0.01 * size),
                (-0.45 * size + side * 0.06 * size, low + 0.3 * size, -0.35 * size),
            )
        )
    if pins:
        for name in ("pivot", "input"):
            hole = getattr(g, name)
            angle = g.included_angle
            x, y = (
                (0.0, 0.0) if name == "pivot" else (g.input_arm * np.cos(angle), g.input_arm * np.sin(angle))
            )
            pin = trimesh.creation.cylinder(
                radius=hole.pin.diameter / 2.0, height=1.5 * hole.width, sections=256
            )
            made.append(placed(pin, Rotation.identity(), (x, y, 0.0)))
    return made


def box(extents: tuple, middle: tuple) -> trimesh.Trimesh:
    return placed(trimesh.creation.box(extents=extents), Rotation.identity(), middle)


def placed(body: trimesh.Trimesh, turn: Rotation, shift: tuple) -> trimesh.Trimesh:
    matrix = np.eye(4)
    matrix[:3, :3], matrix[:3, 3] = turn.as_matrix(), shift
    body.apply_transform(matrix)
    return body
