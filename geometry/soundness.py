"""What a mesher needs of a solid: valid faces, no edge or face too small, no corner and no wedge too sharp.

Lengths in mm, angles in rad; each least value comes with its place in the arm frame.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from pathlib import Path

import cadquery as cq
import numpy as np
from OCP.BRep import BRep_Tool
from OCP.BRepAdaptor import BRepAdaptor_Curve, BRepAdaptor_Curve2d, BRepAdaptor_Surface
from OCP.BRepCheck import BRepCheck_Analyzer
from OCP.BRepTools import BRepTools_WireExplorer
from OCP.gp import gp_Pnt, gp_Vec
from OCP.ShapeAnalysis import ShapeAnalysis_Wire
from OCP.TopAbs import TopAbs_Orientation
from OCP.TopoDS import TopoDS_Edge

from geometry.refused import Place, spot
from geometry.step import read_step

NEAR = 1e-5  # mm: the kernel's looseness of edges and wires
JOINED = 1e-3  # mm between the ends of two edges that meet


@dataclass(frozen=True)
class Least:
    """The least of a kind and where it is."""

    value: float
    place: Place


@dataclass(frozen=True)
class Soundness:
    """Figures of one solid; `faults` is empty where the kernel's checkers find nothing."""

    edge: Least
    width: Least  # twice a face's area over its outline's length: the width of a strip
    corner: Least  # between two edges of a face
    wedge: Least  # of metal between two faces
    faults: tuple[str, ...]

    def __str__(self) -> str:
        return (
            f"least edge {self.edge.value:.2f} mm at {spot(self.edge.place)}, "
            f"least face width {self.width.value:.2f} mm at {spot(self.width.place)}, "
            f"least corner {np.degrees(self.corner.value):.1f} deg at {spot(self.corner.place)}, "
            f"least wedge {np.degrees(self.wedge.value):.1f} deg at {spot(self.wedge.place)}"
        )


@dataclass(frozen=True)
class Side:
    """An edge as one face's outline runs along it, the face at its left seen from outside."""

    edge: cq.Edge
    ends: tuple[cq.Vector, cq.Vector]
    along: tuple[cq.Vector, cq.Vector, cq.Vector]  # unit direction at start, middle and end
    normal: tuple[cq.Vector, cq.Vector, cq.Vector]  # outward, unit; there too


def soundness(body: cq.Solid) -> Soundness:
    """Every measure of a solid."""
    outlines = [outline for face in body.Faces() for wire in face.Wires() if (outline := sides(wire, face))]
    return Soundness(
        least((edge.Length(), edge.Center()) for edge in body.Edges() if not degenerate(edge.wrapped)),
        least((width(face), face.Center()) for face in body.Faces()),
        least(corner for outline in outlines for corner in corners(outline)),
        least(wedges(outlines)),
        tuple(faults(body)),
    )


def least(found: Iterable[tuple[float, cq.Vector]]) -> Least:
    value, place = min(found, key=lambda pair: pair[0])
    return Least(float(value), place.toTuple())


def degenerate(edge: TopoDS_Edge) -> bool:
    """A point: the tip of a cone, the pole of a sphere."""
    return bool(BRep_Tool.Degenerated_s(edge))


def width(face: cq.Face) -> float:
    """Width of a face as a strip: twice the area over the length of its edges."""
    return 2.0 * face.Area() / sum(edge.Length() for edge in face.Edges())


def sides(wire: cq.Wire, face: cq.Face) -> list[Side]:
    """The edges of a wire in turn."""
    walk, found = BRepTools_WireExplorer(wire.wrapped, face.wrapped), []
    surface = BRepAdaptor_Surface(face.wrapped)
    outward = -1.0 if face.wrapped.Orientation() == TopAbs_Orientation.TopAbs_REVERSED else 1.0
    while walk.More():
        if not degenerate(walk.Current()):
            found.append(side(walk.Current(), face, surface, outward))
        walk.Next()
    return found


def side(edge: TopoDS_Edge, face: cq.Face, surface: BRepAdaptor_Surface, outward: float) -> Side:
    curve, flat = BRepAdaptor_Curve(edge), BRepAdaptor_Curve2d(edge, face.wrapped)
    back = edge.Orientation() == TopAbs_Orientation.TopAbs_REVERSED
    span = curve.FirstParameter(), curve.LastParameter()
    places, along, normal = [], [], []
    for t in (span[0], 0.5 * sum(span), span[1])[:: -1 if back else 1]:
        place, onward = gp_Pnt(), gp_Vec()
        curve.D1(t, place, onward)
        places.append(cq.Vector(place))
        along.append(cq.Vector(onward).normalized() * (-1.0 if back else 1.0))
        by_u, by_v, spot_uv = gp_Vec(), gp_Vec(), flat.Value(t)
        surface.D1(spot_uv.X(), spot_uv.Y(), place, by_u, by_v)
        normal.append(cq.Vector(by_u.Crossed(by_v)).normalized() * outward)
    return Side(cq.Edge(edge), (places[0], places[2]), tuple(along), tuple(normal))


def corners(outline: list[Side]) -> Iterator[tuple[float, cq.Vector]]:
    """Inside angles (0 to 2 pi) of a face at the corners of one of its outlines."""
    for before, after in zip(outline, outline[1:] + outline[:1], strict=True):
        if (after.ends[0] - before.ends[1]).Length < JOINED:  # else the tip of a cone lies between
            yield np.pi - turn(before.along[2], after.along[0], before.normal[2]), after.ends[0]


def wedges(outlines: list[list[Side]]) -> Iterator[tuple[float, cq.Vector]]:
    """Angle of the metal (0 to 2 pi) between the two faces at the middle of each edge."""
    met: dict[int, list[Side]] = {}
    for one in (side for outline in outlines for side in outline):
        met.setdefault(one.edge.hashCode(), []).append(one)
    for pair in met.values():
        if len(pair) == 2:
            yield np.pi - turn(pair[0].normal[1], pair[1].normal[1], pair[0].along[1]), pair[0].edge.Center()


def turn(one: cq.Vector, other: cq.Vector, axis: cq.Vector) -> float:
    """Angle from one direction to another about an axis, -pi to pi."""
    return float(np.arctan2(one.cross(other).dot(axis), one.dot(other)))


def faults(body: cq.Solid) -> Iterator[str]:
    """What the kernel's checkers find: of the whole, and of each wire on its face."""
    if not BRepCheck_Analyzer(body.wrapped).IsValid():
        yield "the kernel's checker finds the solid not valid"
    for face in body.Faces():
        for wire in face.Wires():
            look = ShapeAnalysis_Wire(wire.wrapped, face.wrapped, NEAR)
            if look.CheckSelfIntersection():
                yield f"an outline crosses itself near {spot(face.Center().toTuple())}"
            if look.CheckSmall(NEAR):
                yield f"an edge without length near {spot(face.Center().toTuple())}"


def reread(path: Path, body: cq.Solid) -> Iterator[str]:
    """What differs in the solid of a STEP file from the body that was written to it."""
    again = read_step(path)
    if len(again.Faces()) != len(body.Faces()):
        yield f"{len(again.Faces())} faces in place of {len(body.Faces())} after reading again"
    if abs(again.Volume() / body.Volume() - 1.0) > 1e-7:
        yield f"volume changes by {again.Volume() / body.Volume() - 1.0:.1e} after reading again"
    yield from faults(again)
