"""Figures of the contact in a bore: arc, peak, gap, lift-off, overlap, balance of forces."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from analysis.contact.pairs import Pairs
from analysis.elastic.loads import BoreLoad
from analysis.elastic.mesh import Mesh
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

    The peak is the largest mean over the face of an element, for at the hub's edge the exact pressure of a pin that goes on
    is singular; in the middle half of the length it is the largest at a node.
    """
    middle = np.abs(at.z) <= MIDDLE * 2.0 * at.half
    closed, area = gap < 0.0, at.pairs.area
    by_face = pressure[at.faces].mean(axis=1)
    worst = int(np.argmax(by_face))
    place = at.faces[worst]
    peak, overlap = float(by_face[worst]), max(0.0, -float(gap.min()))
    return {
        "contact_arc_deg": 360.0 * float(area[middle & closed].sum() / area[middle].sum()),
        "peak_pressure_MPa": peak,
        "peak_angle_deg": degrees(at.pairs.normal[place]) if peak > 0.0 else None,
        "peak_z_mm": float(at.z[place].mean()) if peak > 0.0 else None,
        "peak_middle_MPa": float(pressure[middle].max()),
        "largest_gap_mm": max(0.0, float(gap.max())),
        "lift_off_share": float(area[~closed].sum() / area.sum()),
        "least_pressure_MPa": float(pressure.min()),
        "overlap_mm": overlap,
        "overlap_share": overlap * modulus / (at.radius * pressure.max()) if peak > 0.0 else 0.0,
        "force_balance": balance(at, pressure, load),
    }


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
