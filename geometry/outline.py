"""Plane figures of the arm's elevation: the outline with its blends, and the pockets between the flanges."""

from __future__ import annotations

import cadquery as cq
import numpy as np

from geometry.corners import Blend, closed, corners, opened, rounded
from geometry.datums import ARMS, BORES, arm_datum, bore, centre
from geometry.edges import BEND, LEAST_ANGLE, bent, edge_line, wire
from params.arm import Arm

CORNER = 1.2  # corner radius of a pocket (i) over its floor's fillet, so that the fillet goes round it
NECK = 0.06  # least metal beside the hub's circle at the knee between the arms, as a share of the circle's radius


class SolidRefused(Exception):  # noqa: N818 - a refusal is an answer, not a fault of the program
    """The arm cannot be built as a solid; the text says what and where."""


def outline(arm: Arm, short: list[Blend] | None = None) -> cq.Face:
    """Hub, bosses and both arms in one, re-entrant corners blended; blends that had to shrink go to `short`.

    Circles are drawn a little smaller than hub and bosses are, see `inner_radius`.
    """
    radius = arm.geometry.blend_radius
    parts = [disc(arm, name, 0.0, radius) for name in BORES] + [bar(arm, name, 0.0) for name in ARMS]
    whole = one_face(parts[0].fuse(*parts[1:]).clean(), "the outline")
    blended = closed(whole, radius)
    return blended or rounded(whole, corners(whole), radius, short)


def pocket(arm: Arm, name: str) -> cq.Face:
    """The clear field between the flanges of one arm, from hub to boss, its corners rounded."""
    section = arm.geometry.section
    flange, fillet = section.flange_thickness or 0.0, section.fillet or 0.0
    corner = CORNER * fillet if section.kind == "i" else fillet
    angle = float(np.degrees(np.arctan2(*arm_datum(arm, name).along[::-1])))
    circles = disc(arm, "pivot", angle + 180.0, corner), disc(arm, name, angle, corner)
    field = bar(arm, name, flange).cut(*circles, beyond_rib(arm, name))
    faces = sorted(field.Faces(), key=lambda face: face.Area())
    if not faces:
        raise SolidRefused(f"{name} arm: no room for a pocket between flanges, hub and boss")
    made = opened(faces[-1], corner)
    if made is None:
        raise SolidRefused(f"{name} arm: corners of {corner:g} mm radius do not fit the pocket")
    return made


def beyond_rib(arm: Arm, name: str) -> cq.Face:
    """The other arm's half of the elevation and a rib as thick as a flange on the line between the arms.

    At small included angles the two clear fields would meet outside the hub; this rib keeps the knee stiff.
    """
    own, other = arm_datum(arm, name), arm_datum(arm, "output" if name == "input" else "input")
    half = arm.geometry.included_angle / 2.0
    line = np.array([np.cos(half), np.sin(half)])
    away = other.along - (other.along @ line) * line
    away /= np.hypot(*away)
    reach, edge = own.length + other.length, -0.5 * (arm.geometry.section.flange_thickness or 0.0)
    points = [
        u * line + v * away for u, v in ((-reach, edge), (reach, edge), (reach, reach), (-reach, reach))
    ]
    return polygon(np.array(points))


def disc(arm: Arm, name: str, seam: float = 0.0, blend: float = 0.0) -> cq.Face:
    """The circle of a hub or boss as a face; its edge starts at `seam` (deg), which should face no pocket.

    Smaller by so much that blends of this radius, which touch it, meet the true circle at a mesher's angle.
    """
    x, y = (float(value) for value in centre(arm, name))
    middle, up = cq.Vector(x, y, 0.0), cq.Vector(0.0, 0.0, 1.0)
    circle = cq.Wire.makeCircle(inner_radius(bore(arm, name).outside / 2.0, blend), middle, up)
    return cq.Face.makeFromWires(circle).rotate(middle, middle + up, seam)


def inner_radius(radius: float, blend: float) -> float:
    """Radius of the circle that a blend must touch so that it cuts the one of `radius` about the same centre at LEAST_ANGLE.

    A blend that touched the hub's own circle would leave a wedge of no angle beside it on the arm's face. The distance of
    the centres is the third side of the triangle of both radii (law of cosines).
    """
    apart = np.sqrt(radius**2 + blend**2 + 2.0 * radius * blend * np.cos(LEAST_ANGLE))
    return float(apart - blend)


def bar(arm: Arm, name: str, inset: float) -> cq.Face:
    """The elevation of one arm from the pivot centre to the pin centre, its edges moved inward by `inset`."""
    datum = arm_datum(arm, name)
    s, eta = edge_line(datum, bore(arm, name).outside / 2.0, inset)
    bend = BEND * datum.depth_at_hub
    runs = bent(s, eta, bend, inset)
    upper = [datum.point(run[:, 0], run[:, 1]) for run in runs]
    lower = [datum.point(run[:, 0], -run[:, 1]) for run in runs]
    return cq.Face.makeFromWires(wire([*lower, *(run[::-1] for run in reversed(upper))]))


def polygon(points: np.ndarray) -> cq.Face:
    """The face within corner points (n, 2)."""
    return cq.Face.makeFromWires(cq.Wire.makePolygon([cq.Vector(x, y, 0.0) for x, y in points], close=True))


def one_face(shape: cq.Shape, what: str) -> cq.Face:
    faces = shape.Faces()
    if len(faces) != 1:
        raise SolidRefused(f"{what} falls into {len(faces)} pieces")
    return faces[0]
