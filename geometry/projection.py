"""Hidden-line projections of a body: what one sees of it from one side, as lines, arcs and curves on paper.

The view looks against `toward`, with `right` to the right; lengths stay in mm of the part. Kinds of edges: `visible` (sharp
edges and outlines), `smooth` (where faces run into each other without a corner), `hidden` (behind the material).
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import cadquery as cq
import numpy as np
import shapely
from OCP.BRepLib import BRepLib
from OCP.gp import gp_Ax2, gp_Dir, gp_Pnt
from OCP.HLRAlgo import HLRAlgo_Projector
from OCP.HLRBRep import HLRBRep_Algo, HLRBRep_HLRToShape

Vector = tuple[float, float, float]
SAG = 0.02  # mm of the part between a curve and its chords, for curves that are neither lines nor arcs
DIGITS = 4  # of coordinates, mm
COMPOUNDS = {
    "visible": ("VCompound", "OutLineVCompound"),
    "smooth": ("Rg1LineVCompound",),
    "hidden": ("HCompound", "OutLineHCompound"),
}


@dataclass(frozen=True)
class View:
    """A direction of looking: unit vectors of the arm's frame."""

    toward: Vector  # from the part to the eye
    right: Vector


FRONT = View((0.0, 0.0, 1.0), (1.0, 0.0, 0.0))
ABOVE = View((0.0, 1.0, 0.0), (1.0, 0.0, 0.0))
FROM_LEFT = View((-1.0, 0.0, 0.0), (0.0, 0.0, 1.0))
FROM_RIGHT = View((1.0, 0.0, 0.0), (0.0, 0.0, -1.0))


def projected(body: cq.Shape, view: View) -> dict[str, list[dict[str, Any]]]:
    """Edges of each kind, in a fixed order; `{"points": [[x, y], ...]}` or `{"centre", "radius", "from", "to"}` (deg)."""
    algorithm = HLRBRep_Algo()
    algorithm.Add(body.wrapped)
    algorithm.Projector(HLRAlgo_Projector(gp_Ax2(gp_Pnt(), gp_Dir(*view.toward), gp_Dir(*view.right))))
    algorithm.Update()
    algorithm.Hide()
    shapes = HLRBRep_HLRToShape(algorithm)
    return {kind: ordered(found(shapes, names)) for kind, names in COMPOUNDS.items()}


def found(shapes: HLRBRep_HLRToShape, names: tuple[str, ...]) -> list[dict[str, Any]]:
    edges: list[dict[str, Any]] = []
    for name in names:
        compound = getattr(shapes, name)()
        if not compound.IsNull():
            BRepLib.BuildCurves3d_s(compound)
            edges += [drawn(edge) for edge in cq.Shape.cast(compound).Edges()]
    return [edge for edge in edges if not short(edge)]


def drawn(edge: cq.Edge) -> dict[str, Any]:
    """A plane edge as its end points, as an arc (counter-clockwise, deg), or as points along it."""
    kind = edge.geomType()
    if kind == "CIRCLE":
        return arc(edge)
    count = 2 if kind == "LINE" else max(9, min(400, int(np.ceil(edge.Length() / 2.0)) + 1))
    points = [edge.positionAt(t) for t in np.linspace(0.0, 1.0, count)]
    return {"points": thinned([[rounded(point.x), rounded(point.y)] for point in points])}


def arc(edge: cq.Edge) -> dict[str, Any]:
    middle, radius = edge.arcCenter(), edge.radius()
    start, half, stop = (edge.positionAt(t) for t in (0.0, 0.5, 1.0))
    angles = [
        float(np.degrees(np.arctan2(p.y - middle.y, p.x - middle.x))) % 360.0 for p in (start, half, stop)
    ]
    if edge.IsClosed():
        first, last = 0.0, 360.0
    elif (angles[1] - angles[0]) % 360.0 <= (angles[2] - angles[0]) % 360.0:
        first, last = angles[0], angles[2]
    else:
        first, last = angles[2], angles[0]
    centre = [rounded(middle.x), rounded(middle.y)]
    return {"centre": centre, "radius": rounded(radius), "from": rounded(first), "to": rounded(last)}


def thinned(points: list[list[float]]) -> list[list[float]]:
    """Points without those that lie within SAG of the chord of their neighbours kept (Douglas and Peucker)."""
    if len(points) < 3:
        return points
    line = shapely.LineString(points).simplify(SAG, preserve_topology=False)
    return [list(point) for point in line.coords]


def short(edge: dict[str, Any]) -> bool:
    """Dust of the projection."""
    if "points" not in edge:
        return edge["radius"] < 1e-3
    steps = np.diff(np.array(edge["points"]), axis=0)
    return float(np.hypot(*steps.T).sum()) < 1e-2


def ordered(edges: list[dict[str, Any]]) -> list[dict[str, Any]]:
    """In an order of their own coordinates, each once, whatever order the kernel found them in."""
    return [edge for _, edge in sorted({repr(edge): edge for edge in edges}.items())]


def rounded(value: float) -> float:
    return round(float(value), DIGITS) + 0.0
