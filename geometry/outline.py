"""Plane figures of the arm's elevation: the outline with its blends, and the pockets between the flanges."""

from __future__ import annotations

import cadquery as cq
import numpy as np

from geometry.corners import Blend, closed, corners, opened, rounded
from geometry.datums import ARMS, BORES, CORNER, Floats, arm_datum, bore, centre
from geometry.edges import (
    BEND,
    BLENDED,
    INSIDE_ANGLE,
    LEAST_ANGLE,
    bent,
    boss_angle,
    edge_line,
    hub_angle,
    inner_radius,
    knee_points,
)
from params.schema.arm import Arm

OVERRUN = 1.25  # length of the metal at the knee over that between the arms' edges


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
        return hub_angle(datums[0], radius)
    return boss_angle(next(datum for datum in datums if datum.name == name), radius)


def knee(arm: Arm) -> list[cq.Face]:
    """Metal that fills the corner between the arms, see `knee_points`; none where there is enough.

    Its straight runs on into both arms: ended at their edges, it would miss where these bend by a hair, an edge too short to mesh.
    """
    corner = knee_points(arm_datum(arm, "input"), arm.geometry.included_angle)
    if corner is None:
        return []
    first, last, inside = corner
    beyond = (OVERRUN - 1.0) / 2.0 * (last - first)
    return [polygon(np.array([first - beyond, last + beyond, inside]))]


def bar(arm: Arm, name: str, inset: float) -> cq.Face:
    """The elevation of one arm from the pivot centre to the pin centre, its edges moved inward by `inset`."""
    datum = arm_datum(arm, name)
    s, eta = edge_line(datum, inset)
    bend = BEND * datum.depth_at_hub
    runs = bent(s, eta, bend, inset)
    upper = [datum.point(run[:, 0], run[:, 1]) for run in runs]
    lower = [datum.point(run[:, 0], -run[:, 1]) for run in runs]
    return cq.Face.makeFromWires(wire([*lower, *(run[::-1] for run in reversed(upper))]))


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


def polygon(points: np.ndarray) -> cq.Face:
    """The face within corner points (n, 2)."""
    return cq.Face.makeFromWires(cq.Wire.makePolygon([cq.Vector(x, y, 0.0) for x, y in points], close=True))


def one_face(shape: cq.Shape, what: str) -> cq.Face:
    faces = shape.Faces()
    if len(faces) != 1:
        raise SolidRefused(f"{what} falls into {len(faces)} pieces")
    return faces[0]
