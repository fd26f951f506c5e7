"""Plane figures of the arm's elevation: the outline with its blends, and the pockets between the flanges."""

from __future__ import annotations

import cadquery as cq
import numpy as np

from geometry.corners import Blend, closed, corners, opened, rounded
from geometry.datums import ARMS, BEND, BORES, CORNER, ArmDatum, arm_datum, bore, centre, slant
from params.schema.arm import Arm


class SolidRefused(Exception):  # noqa: N818 - a refusal is an answer, not a fault of the program
    """The arm cannot be built as a solid; the text says what and where."""


def outline(arm: Arm, short: list[Blend] | None = None) -> cq.Face:
    """Hub, bosses and both arms in one, re-entrant corners blended; blends that had to shrink go to `short`."""
    parts = [disc(arm, name) for name in BORES] + [bar(arm_datum(arm, name), 0.0) for name in ARMS]
    whole = one_face(parts[0].fuse(*parts[1:]).clean(), "the outline")
    whole = rounded(whole, bends(arm), BEND * arm.geometry.section.depth_at_hub)
    blended = closed(whole, arm.geometry.blend_radius)
    return blended or rounded(whole, corners(whole), arm.geometry.blend_radius, short)


def pocket(arm: Arm, name: str) -> cq.Face:
    """The clear field between the flanges of one arm, from hub to boss, its corners rounded."""
    section = arm.geometry.section
    flange, fillet = section.flange_thickness or 0.0, section.fillet or 0.0
    field = bar(arm_datum(arm, name), flange)
    angle = float(np.degrees(np.arctan2(*arm_datum(arm, name).along[::-1])))
    field = field.cut(disc(arm, "pivot", angle + 180.0), disc(arm, name, angle), beyond_rib(arm, name))
    faces = sorted(field.Faces(), key=lambda face: face.Area())
    if not faces:
        raise SolidRefused(f"{name} arm: no room for a pocket between flanges, hub and boss")
    corner = CORNER * fillet if section.kind == "i" else fillet
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


def disc(arm: Arm, name: str, seam: float = 0.0) -> cq.Face:
    """The circle of a hub or boss as a face; its edge starts at `seam` (deg), which should face no pocket."""
    x, y = (float(value) for value in centre(arm, name))
    middle, up = cq.Vector(x, y, 0.0), cq.Vector(0.0, 0.0, 1.0)
    circle = cq.Wire.makeCircle(bore(arm, name).outside / 2.0, middle, up)
    return cq.Face.makeFromWires(circle).rotate(middle, middle + up, seam)


def bar(datum: ArmDatum, inset: float) -> cq.Face:
    """The elevation of one arm from the pivot centre to the pin centre, its edges moved inward by `inset`."""
    s = np.array([0.0, datum.hub_edge, datum.length])
    half = datum.depth(s) / 2.0 - inset * slant(datum)
    return polygon(np.vstack([datum.point(s, -half), datum.point(s[::-1], half[::-1])]))


def polygon(points: np.ndarray) -> cq.Face:
    """The face within corner points (n, 2)."""
    return cq.Face.makeFromWires(cq.Wire.makePolygon([cq.Vector(x, y, 0.0) for x, y in points], close=True))


def bends(arm: Arm) -> list[np.ndarray]:
    """Points (2,) where the edges of the arms turn from parallel to tapered."""
    found = []
    for name in ARMS:
        datum = arm_datum(arm, name)
        half = datum.depth_at_hub / 2.0
        found += [datum.point(datum.hub_edge, half), datum.point(datum.hub_edge, -half)]
    return found


def one_face(shape: cq.Shape, what: str) -> cq.Face:
    faces = shape.Faces()
    if len(faces) != 1:
        raise SolidRefused(f"{what} falls into {len(faces)} pieces")
    return faces[0]
