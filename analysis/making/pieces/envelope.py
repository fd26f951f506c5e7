"""What a cell can hold: the box of a piece in its own axes, and whether it stands on the turntable within reach."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from params.schema.route import Deposition
from params.steps.arrays import Floats

TURNS = np.radians(np.arange(0.0, 180.0, 2.0))  # tried for the box of a piece that has no axis of its own


@dataclass(frozen=True)
class Box:
    """A piece's box: `turn` (rad) of its length from the arm's x axis; length, depth and width (along z) in mm."""

    turn: float
    length: float
    depth: float
    width: float


@dataclass(frozen=True)
class Stance:
    """How a piece stands in the cell: which side is up, and the radius and height it needs, mm."""

    up: str
    radius: float
    height: float


def stances(box: Box) -> list[Stance]:
    """The three ways to set a box down, flat first; the radius is half the diagonal of what stands on the table."""
    return [
        Stance("flat", float(np.hypot(box.length, box.depth)) / 2.0, box.width),
        Stance("on edge", float(np.hypot(box.length, box.width)) / 2.0, box.depth),
        Stance("upright", float(np.hypot(box.depth, box.width)) / 2.0, box.length),
    ]


def stance(box: Box, cell: Deposition) -> Stance | None:
    """The first way in which the piece is within the cell's reach; None where there is none."""
    for way in stances(box):
        if way.radius <= cell.reach_radius and way.height <= cell.reach_height:
            return way
    return None


def box_of(points: Floats, width: float) -> Box:
    """The box with the least diagonal about plane points (n, 2) of the elevation."""
    along = points @ np.stack([np.cos(TURNS), np.sin(TURNS)])
    across = points @ np.stack([-np.sin(TURNS), np.cos(TURNS)])
    length, depth = np.ptp(along, axis=0), np.ptp(across, axis=0)
    best = int(np.argmin(np.hypot(length, depth)))
    turn = TURNS[best] if length[best] >= depth[best] else TURNS[best] + np.pi / 2.0
    sides = sorted((float(length[best]), float(depth[best])), reverse=True)
    return Box(float(turn), sides[0], sides[1], width)


def circle(centre: Floats, diameter: float) -> Floats:
    """Points (72, 2) about a circle, a little outside so that their box holds it."""
    angle = np.linspace(0.0, 2.0 * np.pi, 72, endpoint=False)
    radius = diameter / 2.0 / np.cos(np.pi / 72.0)
    return centre + radius * np.stack([np.cos(angle), np.sin(angle)], axis=1)
