"""Figures of the contact in a bore: arc, peak, gap, lift-off, overlap, balance of forces."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from analysis.contact.pairs import Pairs
from analysis.elastic.loads import BoreLoad
from analysis.elastic.mesh import Mesh
from analysis.fatigue.reading import clear_of_edges
from geometry.pins import PinShape
from params.steps.arrays import Floats

MIDDLE = 0.25  # of the bore's length to each side of its middle: away from the ends


@dataclass(frozen=True)
class Seat:
    """The contact nodes of one bore: angle from the arm's x axis about the bore's centre, rad, and z, mm."""

    pairs: Pairs
    angle: Floats  # (p,)
    z: Floats  # (p,)
    faces: NDArray[np.int64]  # (k, 3) numbers of the pairs on each face
    radius: float
    half: float  # of the length between the chamfers, mm


def seat(mesh: Mesh, name: str, shape: PinShape, pairs: Pairs) -> Seat:
    number = np.full(len(mesh.points), -1)
    number[pairs.outer] = np.arange(len(pairs.outer))
    angle = np.arctan2(pairs.normal[:, 1], pairs.normal[:, 0])
    faces = number[mesh.surfaces[f"{name}_bore"][:, 3:]]
    return Seat(pairs, angle, mesh.points[pairs.outer, 2], faces, shape.radius, shape.seat)


def measured(
    at: Seat, pressure: Floats, gap: Floats, load: BoreLoad | None, modulus: float
) -> dict[str, float | None]:
    """Figures of one case from pressure (p,) MPa and gap (p,) mm; degrees, mm, MPa, shares.

    At the hub's edge the exact pressure of a pin that goes on is singular, and a finer mesh shows more of it without end. The peak
    is the largest mean over the face of an element at least `read_from_edge_mm` away (`fatigue.reading`: 0.3 diameters, as for
    stress); of the edge itself the largest mean over a square of that length at the rim counts, which is finite and settles. In the
    middle half of the length the peak is the largest at a node.
    """
    middle = np.abs(at.z) <= MIDDLE * 2.0 * at.half
    closed, area = gap < 0.0, at.pairs.area
    reach = clear_of_edges(at.half, 2.0 * at.radius)
    read = at.faces[np.abs(at.z[at.faces]).max(axis=1) <= reach + 1e-6]
    by_face = pressure[read].mean(axis=1) if len(read) else np.zeros(1)
    worst = int(np.argmax(by_face))
    peak, overlap = float(by_face[worst]), max(0.0, -float(gap.min()))
    place = read[worst] if peak > 0.0 else None
    highest = float(pressure.max())
    return {
        "contact_arc_deg": 360.0 * float(area[middle & closed].sum() / area[middle].sum()),
        "peak_pressure_MPa": peak,
        "peak_angle_deg": None if place is None else degrees(at.pairs.normal[place]),
        "peak_z_mm": None if place is None else float(at.z[place].mean()),
        "read_from_edge_mm": at.half - reach,
        "edge_mean_MPa": at_edge(at, pressure, at.half - reach),
        "peak_middle_MPa": float(pressure[middle].max()),
        "largest_gap_mm": max(0.0, float(gap.max())),
        "lift_off_share": float(area[~closed].sum() / area.sum()),
        "least_pressure_MPa": float(pressure.min()),
        "overlap_mm": overlap,
        "overlap_share": overlap * modulus / (at.radius * highest) if highest > 0.0 else 0.0,
        "force_balance": balance(at, pressure, load),
    }


def at_edge(at: Seat, pressure: Floats, length: float) -> float:
    """Largest mean pressure over a square of this length (mm) at either rim, MPa; a node whose share of the surface lies across the
    square's border counts in part."""
    means = [0.0]
    for side in (1.0, -1.0):
        away, share = at.half - side * at.z, np.sqrt(at.pairs.area)
        near = np.flatnonzero((away <= length + share) & (at.pairs.area > 0.0))
        turn = np.abs((at.angle[near, None] - at.angle[None, near] + np.pi) % (2.0 * np.pi) - np.pi)
        along = within(length - away[near], share[near])
        weight = within(length / 2.0 - turn * at.radius, share[near]) * along * at.pairs.area[near]
        means.append(float((weight @ pressure[near] / weight.sum(axis=1)).max()) if len(near) else 0.0)
    return max(means)


def within(inside: Floats, size: Floats) -> Floats:
    """Share of something of this size (mm) that lies within a border, its middle `inside` mm from it."""
    return np.clip(inside / size + 0.5, 0.0, 1.0)


def degrees(normals: Floats) -> float:
    """Angle of the mean of unit vectors (k, 3), -180 to 180."""
    x, y, _ = normals.mean(axis=0)
    return float(np.rad2deg(np.arctan2(y, x)))


def balance(at: Seat, pressure: Floats, load: BoreLoad | None) -> float:
    """Difference of the contact's force and moment in the plane from those of the pin, as a share of the force.

    The moment counts by the half length; without a load the scale is the sum of the contact forces' magnitudes.
    """
    push = pressure[:, None] * at.pairs.area[:, None] * at.pairs.normal
    force = push.sum(axis=0)[:2]
    moment = np.array([-(at.z * push[:, 1]).sum(), (at.z * push[:, 0]).sum()])
    every = float(np.linalg.norm(push, axis=1).sum())
    if load is None:
        return float(np.hypot(*force)) / every if every else 0.0
    scale = float(np.hypot(*load.force[:2]))
    missing = max(
        np.hypot(*(force - load.force[:2])), np.hypot(*(moment - np.array(load.moment[:2]))) / at.half
    )
    return float(missing) / (scale or every or 1.0)
