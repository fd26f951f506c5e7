"""Plane figures of the arm's elevation: the outline with its blends, and the pockets between the flanges."""

from __future__ import annotations

import cadquery as cq
import numpy as np
from OCP.StdFail import StdFail_NotDone

from geometry.datums import ARMS, BORES, ArmDatum, arm_datum, bore, centre
from params.arm import Arm

SMALLER = 0.8  # a blend that does not fit is tried again this much smaller
BEND = 0.5  # radius of the bend where the flange leaves the hub, as a share of the depth there


class SolidRefused(Exception):
    """The arm cannot be built as a solid; the text says what and where."""


def outline(arm: Arm) -> cq.Face:
    """Hub, bosses and both arms in one, re-entrant corners blended with the file's radius where it fits."""
    parts = [disc(arm, name) for name in BORES] + [bar(arm_datum(arm, name), 0.0) for name in ARMS]
    whole = one_face(parts[0].fuse(*parts[1:]).clean(), "the outline")
    whole = rounded(whole, bends(arm), BEND * arm.geometry.section.depth_at_hub)
    return rounded(whole, corners(whole, inward=True), arm.geometry.blend_radius)


def pocket(arm: Arm, name: str) -> cq.Face:
    """The clear field between the flanges of one arm, from hub to boss, its corners rounded."""
    section = arm.geometry.section
    flange, fillet = section.flange_thickness or 0.0, section.fillet or 0.0
    field = bar(arm_datum(arm, name), flange)
    angle = float(np.degrees(np.arctan2(*arm_datum(arm, name).along[::-1])))
    field = field.cut(disc(arm, "pivot", angle + 180.0), disc(arm, name, angle))
    faces = sorted(field.Faces(), key=lambda face: face.Area())
    if not faces:
        raise SolidRefused(f"{name} arm: no room for a pocket between flanges, hub and boss")
    clear = faces[-1]
    bend = max(BEND * section.depth_at_hub - flange, 1.2 * fillet)
    clear = rounded(clear, bends(arm, flange, name), bend)
    return rounded(clear, corners(clear, inward=False), max(1.2 * fillet, 0.5))


def disc(arm: Arm, name: str, seam: float = 0.0) -> cq.Face:
    """The circle of a hub or boss as a face; its edge starts at the angle `seam` (deg), which should face no pocket."""
    x, y = (float(value) for value in centre(arm, name))
    middle, up = cq.Vector(x, y, 0.0), cq.Vector(0.0, 0.0, 1.0)
    circle = cq.Wire.makeCircle(bore(arm, name).outside / 2.0, middle, up)
    return cq.Face.makeFromWires(circle).rotate(middle, middle + up, seam)


def bar(datum: ArmDatum, inset: float) -> cq.Face:
    """The elevation of one arm from the pivot centre to the pin centre, its edges moved inward by `inset`."""
    s = np.array([0.0, datum.hub_edge, datum.length])
    half = datum.depth(s) / 2.0 - inset * slant(datum)
    points = np.vstack([datum.point(s, -half), datum.point(s[::-1], half[::-1])])
    return cq.Face.makeFromWires(cq.Wire.makePolygon([cq.Vector(x, y, 0.0) for x, y in points], close=True))


def slant(datum: ArmDatum) -> np.ndarray:
    """Depth taken across the arm for a unit of thickness square to its edge: at pivot, hub edge and pin."""
    taper = (datum.depth_at_hub - datum.depth_at_pin) / 2.0 / (datum.length - datum.hub_edge)
    tilted = np.hypot(1.0, taper)
    return np.array([1.0, (1.0 + tilted) / 2.0, tilted])


def bends(arm: Arm, inset: float = 0.0, only: str | None = None) -> list[np.ndarray]:
    """Points (2,) where the edges of the arms turn from parallel to tapered."""
    found = []
    for name in ARMS if only is None else (only,):
        datum = arm_datum(arm, name)
        half = datum.depth_at_hub / 2.0 - inset * slant(datum)[1]
        found += [datum.point(datum.hub_edge, half), datum.point(datum.hub_edge, -half)]
    return found


def corners(face: cq.Face, inward: bool) -> list[np.ndarray]:
    """Corner points (2,) of the outer wire: re-entrant ones where `inward`, else all that turn by more than 5 degrees."""
    found = []
    edges = ordered(face)
    for before, after in zip(edges, edges[1:] + edges[:1], strict=True):
        a, b = before[1], after[0]
        turn = np.degrees(np.arctan2(a[0] * b[1] - a[1] * b[0], a @ b))
        if (turn < -2.0) if inward else (abs(turn) > 5.0):
            found.append(before[2])
    return found


def ordered(face: cq.Face) -> list[tuple[np.ndarray, np.ndarray, np.ndarray]]:
    """Edges of the outer wire counter-clockwise: direction at start, direction at end, end point."""
    runs = []
    for edge in face.outerWire().Edges():
        ends = [
            (np.array(edge.positionAt(t).toTuple()[:2]), np.array(edge.tangentAt(t).toTuple()[:2]))
            for t in (0.0, 1.0)
        ]
        runs.append(ends)
    chain, left = [runs[0]], runs[1:]
    while left:
        tail = chain[-1][1][0]
        index = min(
            range(len(left)), key=lambda i: min(np.hypot(*(left[i][end][0] - tail)) for end in (0, 1))
        )
        start, stop = left.pop(index)
        if np.hypot(*(stop[0] - tail)) < np.hypot(*(start[0] - tail)):
            start, stop = (stop[0], -stop[1]), (start[0], -start[1])
        chain.append([start, stop])
    points = np.array([stop[0] for _, stop in chain])
    middle = np.array([[start[0], stop[0]] for start, stop in chain]).mean(axis=1)
    after = np.roll(points, -1, axis=0)
    area = np.sum(points[:, 0] * after[:, 1] - points[:, 1] * after[:, 0])
    if area < 0.0 and len(middle) > 2:
        chain = [[(stop[0], -stop[1]), (start[0], -start[1])] for start, stop in reversed(chain)]
    return [(start[1], stop[1], stop[0]) for start, stop in chain]


def rounded(face: cq.Face, points: list[np.ndarray], radius: float) -> cq.Face:
    """The face with its corners at these points rounded; a radius that does not fit is made smaller there."""
    for point in points if radius > 0.0 else []:
        face = round_one(face, point, radius)
    return face


def round_one(face: cq.Face, point: np.ndarray, radius: float) -> cq.Face:
    near = min(face.Vertices(), key=lambda vertex: np.hypot(vertex.X - point[0], vertex.Y - point[1]))
    if np.hypot(near.X - point[0], near.Y - point[1]) > 1e-3:
        return face  # this corner lies inside another part
    size = face.BoundingBox().DiagonalLength
    while radius > 1e-4 * size:
        try:
            made = face.fillet2D(radius, [near])
            if isinstance(made, cq.Face) and made.isValid() and len(made.Edges()) > len(face.Edges()):
                return made
        except (ValueError, RuntimeError, StdFail_NotDone):
            pass
        radius *= SMALLER
    return face


def one_face(shape: cq.Shape, what: str) -> cq.Face:
    faces = shape.Faces()
    if len(faces) != 1:
        raise SolidRefused(f"{what} falls into {len(faces)} pieces")
    return faces[0]
