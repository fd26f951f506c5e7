"""The long edges of an arm in its elevation: straight, bent where the taper begins and short of the boss's circle.

No bend is left as a corner, for rounding it later makes an edge too short to mesh; each is an arc of a length of its own.
"""

from __future__ import annotations

import cadquery as cq
import numpy as np
from numpy.typing import NDArray

from geometry.datums import ArmDatum

Floats = NDArray[np.float64]
LEAST_ANGLE = np.radians(15.0)  # between two edges of a face, so that no element there is a sliver
BEND = 0.06  # from a bend's corner to either end of its arc, as a share of the depth at the hub
STRAIGHT = 1e-3  # rad: a bend of less is none


def edge_line(datum: ArmDatum, boss: float, inset: float) -> tuple[Floats, Floats]:
    """Corners (n,) along and across the arm of its upper edge, moved square to itself inward by `inset`, mm.

    Where the straight taper would run almost along the boss's circle, the last stretch leans in to meet it at LEAST_ANGLE.
    """
    s, half = [0.0, datum.hub_edge, datum.length], [datum.depth_at_hub / 2.0] * 2 + [datum.depth_at_pin / 2.0]
    most = boss * np.cos(LEAST_ANGLE)
    if half[-1] > most:
        clear = datum.boss_edge - datum.hub_edge
        at = datum.boss_edge - min(0.5 * clear, boss)
        s.insert(2, at)
        half[2:] = [float(datum.depth(at)) / 2.0, most]
    return moved_in(*straightened(np.array(s), np.array(half)), inset)


def straightened(s: Floats, eta: Floats) -> tuple[Floats, Floats]:
    """Without the corners at which the line hardly turns."""
    turn = np.abs(np.diff(np.arctan2(np.diff(eta), np.diff(s))))
    kept = np.concatenate([[True], turn > STRAIGHT, [True]])
    return s[kept], eta[kept]


def moved_in(s: Floats, eta: Floats, inset: float) -> tuple[Floats, Floats]:
    """A line of several stretches, each moved by `inset` toward the axis; it begins and ends at the same s."""
    slope = np.diff(eta) / np.diff(s)
    start = eta[:-1] - slope * s[:-1] - inset * np.hypot(1.0, slope)  # of each stretch, where it meets s = 0
    between = -np.diff(start) / np.diff(slope)
    along = np.concatenate([s[:1], between, s[-1:]])
    return along, np.concatenate([start + slope * along[:-1], (start + slope * along[1:])[-1:]])


def bent(s: Floats, eta: Floats, reach: float, inset: float) -> list[Floats]:
    """The line as runs of two points (a straight) or three (an arc): `reach` mm from each corner to the arc's ends.

    Lines of other insets get arcs about the same centre.
    """
    points = np.column_stack([s, eta])
    runs, last = [], points[0]
    for before, corner, after in zip(points, points[1:], points[2:], strict=False):
        back, on = (unit(end - corner) for end in (before, after))
        half = 0.5 * (np.pi - np.arccos(np.clip(back @ on, -1.0, 1.0)))  # of the turn
        room = 0.4 * min(np.hypot(*(before - corner)), np.hypot(*(after - corner)))
        cut = min(reach - inset * np.tan(half), room)
        radius = cut / np.tan(half)
        top = corner + unit(back + on) * radius * (1.0 / np.cos(half) - 1.0)
        runs += [
            np.array([last, corner + cut * back]),
            np.array([corner + cut * back, top, corner + cut * on]),
        ]
        last = corner + cut * on
    return [*runs, np.array([last, points[-1]])]


def unit(vector: Floats) -> Floats:
    return vector / np.hypot(*vector)


def wire(runs: list[Floats]) -> cq.Wire:
    """Closed wire through straights (2, 2) and arcs (3, 2), joined by straights where they do not meet."""
    edges = []
    for run, following in zip(runs, [*runs[1:], runs[0]], strict=True):
        vectors = [cq.Vector(float(x), float(y), 0.0) for x, y in run]
        edges.append(cq.Edge.makeLine(*vectors) if len(vectors) == 2 else cq.Edge.makeThreePointArc(*vectors))
        gap = cq.Vector(float(following[0][0]), float(following[0][1]), 0.0)
        if (gap - vectors[-1]).Length > 1e-6:
            edges.append(cq.Edge.makeLine(vectors[-1], gap))
    return cq.Wire.assembleEdges(edges)
