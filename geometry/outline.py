"""Plane figures of the arm's elevation: the outline with its blends, and the pockets between the flanges."""

from __future__ import annotations

import cadquery as cq
import numpy as np

from geometry.corners import Blend, closed, corners, opened, rounded
from geometry.datums import ARMS, BORES, CORNER, arm_datum, bore, centre
from geometry.edges import BEND, LEAST_ANGLE, bent, edge_line, wire
from params.schema.arm import Arm

BLENDED = np.radians(25.0)  # least angle between an arm's edge and a circle that is worth a blend
INSIDE_ANGLE = np.radians(30.0)  # the same where the rounded corner of a pocket runs into the circle
NECK = 0.06  # least metal beside the hub's circle at the knee between the arms, as a share of the circle's radius


STEEPEST = np.radians(88.0)  # half the included angle: beyond it the arms are in line and have no knee


class SolidRefused(Exception):  # noqa: N818 - a refusal is an answer, not a fault of the program
    """The arm cannot be built as a solid; the text says what and where."""


def outline(arm: Arm, short: list[Blend] | None = None) -> cq.Face:
    """Hub, bosses and both arms in one, re-entrant corners blended; blends that had to shrink go to `short`.

    Circles are drawn a little smaller than hub and bosses are, see `inner_radius`; one that the edges of the arms run
    into at less than BLENDED has no room for a blend and is left out, for the hub or boss itself covers its place.
    """
    radius = arm.geometry.blend_radius
    circles = [disc(arm, name, 0.0, radius) for name in BORES if meeting_angle(arm, name) > BLENDED]
    parts = [*circles, *(bar(arm, name, 0.0) for name in ARMS), *knee(arm)]
    whole = one_face(parts[0].fuse(*parts[1:]).clean(), "the outline")
    blended = closed(whole, radius)
    return blended or rounded(whole, corners(whole), radius, short)


def pocket(arm: Arm, name: str) -> cq.Face:
    """The clear field between the flanges of one arm, from hub to boss, its corners rounded."""
    section = arm.geometry.section
    flange, fillet = section.flange_thickness or 0.0, section.fillet or 0.0
    corner = CORNER * fillet if section.kind == "i" else fillet
    angle = float(np.degrees(np.arctan2(*arm_datum(arm, name).along[::-1])))
    circles = [
        disc(arm, part, seam, corner, INSIDE_ANGLE)
        for part, seam in (("pivot", angle + 180.0), (name, angle))
    ]
    field = bar(arm, name, flange).cut(*circles, beyond_rib(arm, name))
    faces = sorted(field.Faces(), key=lambda face: face.Area())
    if not faces:
        raise SolidRefused(f"{name} arm: no room for a pocket between flanges, hub and boss")
    return opened(faces[-1], corner) or cornered(faces[-1], corner, fillet, name)


def cornered(field: cq.Face, corner: float, least: float, name: str) -> cq.Face:
    """The field with one corner rounded after the other, where the kernel finds no figure that a disc sweeps.

    Each gets at least the radius that the floor's fillet goes round.
    """
    short: list[Blend] = []
    made = rounded(field, corners(field, outer=True), corner, short)
    if any(blend.made <= least for blend in short):
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


def disc(arm: Arm, name: str, seam: float = 0.0, blend: float = 0.0, angle: float = LEAST_ANGLE) -> cq.Face:
    """The circle of a hub or boss as a face; its edge starts at `seam` (deg), which should face no pocket.

    Smaller by so much that blends of this radius, which touch it, meet the true circle at this angle (rad).
    """
    x, y = (float(value) for value in centre(arm, name))
    middle, up = cq.Vector(x, y, 0.0), cq.Vector(0.0, 0.0, 1.0)
    circle = cq.Wire.makeCircle(inner_radius(bore(arm, name).outside / 2.0, blend, angle), middle, up)
    return cq.Face.makeFromWires(circle).rotate(middle, middle + up, seam)


def meeting_angle(arm: Arm, name: str) -> float:
    """Least angle at which an edge of an arm runs into the circle of the hub or boss, rad."""
    radius, datums = bore(arm, name).outside / 2.0, [arm_datum(arm, limb) for limb in ARMS]
    if name == "pivot":
        return float(np.arccos(datums[0].depth_at_hub / 2.0 / radius))
    datum = next(datum for datum in datums if datum.name == name)
    s, eta = (values[-2:] for values in edge_line(datum, radius, 0.0))
    slope = (eta[0] - eta[1]) / (s[1] - s[0])
    return float(np.arccos(min(1.0, eta[1] / np.hypot(1.0, slope) / radius)))


def knee(arm: Arm) -> list[cq.Face]:
    """Metal that fills the corner between the arms square to its bisector, where little else would lie beside the hub's circle."""
    radius, half = bore(arm, "pivot").outside / 2.0, arm.geometry.included_angle / 2.0
    corner = arm.geometry.section.depth_at_hub / 2.0 / np.sin(half)
    if not (1.0 - NECK) * radius < corner < (1.0 + NECK) * radius or half > STEEPEST:
        return []
    high = (1.0 + NECK) * radius
    wide = (high - corner) * np.tan(half)  # where the square line meets the arms' edges, beside the bisector
    if wide > radius:
        return []
    out = np.array([np.cos(half), np.sin(half)])
    along = np.array([-out[1], out[0]])
    return [polygon(np.array([high * out - wide * along, high * out + wide * along, 0.0 * out]))]


def inner_radius(radius: float, blend: float, angle: float) -> float:
    """Radius of the circle that a blend must touch so that it cuts the one of `radius` about the same centre at this angle.

    A blend that touched the hub's own circle would leave a wedge of no angle beside it on the arm's face. The distance of
    the centres is the third side of the triangle of both radii (law of cosines).
    """
    apart = np.sqrt(radius**2 + blend**2 + 2.0 * radius * blend * np.cos(angle))
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
