"""The long edges of an arm in its elevation: straight, bent where the taper begins and short of the boss's circle.

No bend is left as a corner, for rounding it later makes an edge too short to mesh; each is an arc of a length of its own.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from geometry.datums import MEETING, ArmDatum

Floats = NDArray[np.float64]
LEAST_ANGLE = MEETING  # between two edges of a face, so that no element there is a sliver
BEND = 0.06  # from a bend's corner to either end of its arc, as a share of the depth at the hub
STRAIGHT = 1e-3  # rad: a bend of less is none
BLENDED = np.radians(25.0)  # least angle between an arm's edge and a circle that is worth a blend
INSIDE_ANGLE = np.radians(30.0)  # the same where the rounded corner of a pocket runs into the circle
NECK = 0.06  # least metal beside the hub's circle at the knee between the arms, as a share of the circle's radius
STEEPEST = np.radians(88.0)  # half the included angle: beyond it the arms are in line and have no knee


def edge_line(datum: ArmDatum, inset: float) -> tuple[Floats, Floats]:
    """Corners (n,) along and across the arm of its upper edge, moved square to itself inward by `inset`, mm."""
    s, depth = datum.corners()
    return moved_in(*straightened(s, depth / 2.0), inset)


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


def bend_radii(datum: ArmDatum, inset: float) -> list[float]:
    """Radii of the arcs of one edge of an arm, mm: side a times b times c over four times the area of the three points."""
    runs = bent(*edge_line(datum, inset), BEND * datum.depth_at_hub, inset)
    return [circumradius(run) for run in runs if len(run) == 3]


def circumradius(points: Floats) -> float:
    """Radius of the circle through three points (3, 2)."""
    one, two, three = (np.roll(points, -1, axis=0) - points).tolist()
    twice = abs(one[0] * two[1] - one[1] * two[0])  # the triangle's area
    return float(np.hypot(*one) * np.hypot(*two) * np.hypot(*three) / (2.0 * twice))


def unit(vector: Floats) -> Floats:
    return vector / np.hypot(*vector)


def inner_radius(radius: float, blend: float, angle: float) -> float:
    """Radius of the circle that a blend must touch so that it cuts the one of `radius` about the same centre at this angle.

    A blend that touched the hub's own circle would leave a wedge of no angle beside it on the arm's face. The distance of
    the centres is the third side of the triangle of both radii (law of cosines).
    """
    apart = np.sqrt(radius**2 + blend**2 + 2.0 * radius * blend * np.cos(angle))
    return float(apart - blend)


def hub_angle(datum: ArmDatum, radius: float) -> float:
    """Angle at which the edges of an arm run into the hub's circle, rad."""
    return float(np.arccos(datum.depth_at_hub / 2.0 / radius))


def boss_angle(datum: ArmDatum, radius: float) -> float:
    """Angle at which the edges of an arm run into the boss's circle, rad."""
    s, eta = (values[-2:] for values in edge_line(datum, 0.0))
    slope = (eta[0] - eta[1]) / (s[1] - s[0])
    return float(np.arccos(min(1.0, eta[1] / np.hypot(1.0, slope) / radius)))


def knee_points(datum: ArmDatum, included: float) -> Floats | None:
    """Corners (3, 2) of the metal that fills the corner between the arms square to its bisector, the pivot's centre last.

    None where enough metal lies beside the hub's circle without.
    """
    radius, half = datum.hub_edge, included / 2.0
    corner = datum.depth_at_hub / 2.0 / np.sin(half)
    if not (1.0 - NECK) * radius < corner < (1.0 + NECK) * radius or half > STEEPEST:
        return None
    high = (1.0 + NECK) * radius
    wide = (high - corner) * np.tan(half)  # where the square line meets the arms' edges, beside the bisector
    if wide > radius:
        return None
    out = np.array([np.cos(half), np.sin(half)])
    along = np.array([-out[1], out[0]])
    return np.array([high * out - wide * along, high * out + wide * along, 0.0 * out])
