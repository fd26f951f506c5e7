"""Corners of plane faces: found by the turn of the outer wire, rounded where the radius fits."""

from __future__ import annotations

from dataclasses import dataclass

import cadquery as cq
import numpy as np

SMALLER = 0.8  # a blend that does not fit is tried again this much smaller


@dataclass(frozen=True)
class Blend:
    """A corner whose radius had to be made smaller than asked for; lengths in mm, place in the arm frame."""

    x: float
    y: float
    wanted: float
    made: float  # 0: left sharp


def corners(face: cq.Face, outer: bool = False) -> list[np.ndarray]:
    """Re-entrant (or `outer`) corner points (2,) of the outer wire, where it turns by more than 2 degrees."""
    found, sense = [], 1.0 if outer else -1.0
    edges = ordered(face)
    for before, after in zip(edges, edges[1:] + edges[:1], strict=True):
        a, b = before[1], after[0]
        if sense * np.degrees(np.arctan2(a[0] * b[1] - a[1] * b[0], a @ b)) > 2.0:
            found.append(before[2])
    return found


def closed(face: cq.Face, radius: float) -> cq.Face | None:
    """The face with all that a disc of this radius cannot reach from outside filled: re-entrant corners rounded.

    A blend longer than the edge beside it runs on over the next edge. None where the kernel finds no such figure.
    """
    return swept(face, radius)


def opened(face: cq.Face, radius: float) -> cq.Face | None:
    """The part of a face that a disc of this radius can sweep: outer corners rounded, narrow tips left out.

    None where the disc finds no room.
    """
    return swept(face, -radius)


def swept(face: cq.Face, away: float) -> cq.Face | None:
    """The outer wire moved outward by `away` mm (inward where negative) and back again."""
    if not away:
        return face
    # Inward, sharp corners are met by "intersection", and by "arc" where the kernel fails with that.
    for kind in ("arc",) if away > 0.0 else ("intersection", "arc"):
        try:
            # Moved inward, a wire lies within the face; the kernel may give one far outside of it beside that.
            most = np.inf if away > 0.0 else face.Area()
            between = largest(face.outerWire().offset2D(away, kind), most)
            made = largest(between.outerWire().offset2D(-away, "arc"))
        except Exception:  # the kernel's errors have no common base
            continue
        if made.isValid() and (made.Area() - face.Area()) * away >= 0.0 and made.Area() > 0.0:
            return made
    return None


def largest(wires: list[cq.Wire], most: float = np.inf) -> cq.Face:
    """The face of the largest area below `most` mm2."""
    faces = [cq.Face.makeFromWires(wire) for wire in wires]
    return max((face for face in faces if face.Area() < most), key=lambda face: face.Area())


def ordered(face: cq.Face) -> list[tuple[np.ndarray, np.ndarray, np.ndarray]]:
    """Edges of the outer wire counter-clockwise: direction at start, direction at end, end point."""
    left = [[(place(edge, t), heading(edge, t)) for t in (0.0, 1.0)] for edge in face.outerWire().Edges()]
    chain = [left.pop(0)]
    while left:
        tail = chain[-1][1][0]
        gaps = [min(np.hypot(*(run[end][0] - tail)) for end in (0, 1)) for run in left]
        start, stop = left.pop(int(np.argmin(gaps)))
        if np.hypot(*(stop[0] - tail)) < np.hypot(*(start[0] - tail)):
            start, stop = (stop[0], -stop[1]), (start[0], -start[1])
        chain.append([start, stop])
    if clockwise(np.array([stop[0] for _, stop in chain])):
        chain = [[(stop[0], -stop[1]), (start[0], -start[1])] for start, stop in reversed(chain)]
    return [(start[1], stop[1], stop[0]) for start, stop in chain]


def place(edge: cq.Edge, t: float) -> np.ndarray:
    point = edge.positionAt(t)
    return np.array([point.x, point.y])


def heading(edge: cq.Edge, t: float) -> np.ndarray:
    along = edge.tangentAt(t)
    return np.array([along.x, along.y])


def clockwise(points: np.ndarray) -> bool:
    after = np.roll(points, -1, axis=0)
    return bool(np.sum(points[:, 0] * after[:, 1] - points[:, 1] * after[:, 0]) < 0.0)


def rounded(
    face: cq.Face, points: list[np.ndarray], radius: float, short: list[Blend] | None = None
) -> cq.Face:
    """The face with its corners at these points rounded; a radius that does not fit is made smaller there."""
    for point in points if radius > 0.0 else []:
        face, made = round_one(face, point, radius)
        if short is not None and made < radius:
            short.append(Blend(float(point[0]), float(point[1]), radius, made))
    return face


def round_one(face: cq.Face, point: np.ndarray, radius: float) -> tuple[cq.Face, float]:
    """The face with one corner rounded, and the radius made."""
    near = min(face.Vertices(), key=lambda vertex: np.hypot(vertex.X - point[0], vertex.Y - point[1]))
    if np.hypot(near.X - point[0], near.Y - point[1]) > 1e-3:
        return face, radius  # this corner lies inside another part
    size = face.BoundingBox().DiagonalLength
    while radius > 1e-4 * size:
        try:
            made = face.fillet2D(radius, [near])
        except Exception:  # the kernel's errors have no common base
            made = None
        if isinstance(made, cq.Face) and made.isValid() and len(made.Edges()) > len(face.Edges()):
            return made, radius
        radius *= SMALLER
    return face, 0.0
