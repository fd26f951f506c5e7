"""Sections of the arm for its drawing: A along both arms through the pivot, unfolded; B square to the output arm.

Section A looks from the side of the included angle; the plane of the input arm is turned about the pivot's axis into that
of the output arm, so that s of the output arm runs to the right and s of the input arm to the left (aligned section).
"""

from __future__ import annotations

from typing import Any

import cadquery as cq
import numpy as np

from geometry.datums import ARMS, ArmDatum, arm_datum
from geometry.outline import polygon
from geometry.projection import View, drawn, ordered, projected, short
from geometry.tidy import tidied
from params.schema.arm import Arm

Edges = dict[str, list[dict[str, Any]]]


def station(arm: Arm) -> float:
    """Where section B cuts the output arm: midway between hub and boss, mm from the pivot."""
    datum = arm_datum(arm, "output")
    return (datum.hub_edge + datum.boss_edge) / 2.0


def aligned(body: cq.Solid, arm: Arm) -> Edges:
    """Section A: edges seen beyond the plane, and under `cut` the edges of the faces that are cut."""
    made: Edges = {"visible": [], "smooth": [], "cut": []}
    for name in ARMS:
        datum = arm_datum(arm, name)
        view = looking(datum)
        seen = projected(body.intersect(beyond(datum, view, reach(arm))), view)
        for kind in ("visible", "smooth"):
            made[kind] += [edge for edge in seen[kind] if not on_fold(edge)]
        plane = rectangle(cq.Vector(), cq.Vector(*datum.along), cq.Vector(0.0, 0.0, 1.0), reach(arm))
        made["cut"] += outlined(plane.intersect(body), cq.Vector(), view)
    clean = tidied({**made, "hidden": []})
    return {"visible": clean["visible"], "smooth": clean["smooth"], "cut": made["cut"]}


def square(body: cq.Solid, arm: Arm) -> Edges:
    """Section B: the edges of the cut face, its width to the right and the depth upward, middle at the origin."""
    datum = arm_datum(arm, "output")
    middle, view = cq.Vector(*datum.point(station(arm))), View((*datum.along, 0.0), (0.0, 0.0, -1.0))
    high = cq.Vector(*datum.across) * arm.geometry.section.depth_at_hub
    wide = cq.Vector(0.0, 0.0, 2.0 * arm.geometry.section.width)
    corners = [middle + high * a + wide * b for a, b in ((-1, -1), (1, -1), (1, 1), (-1, 1))]
    face = cq.Face.makeFromWires(cq.Wire.makePolygon(corners, close=True))
    return {"cut": outlined(face.intersect(body), middle, view)}


def looking(datum: ArmDatum) -> View:
    """From within the included angle: the output arm to the right, the input arm to the left."""
    side = 1.0 if datum.name == "output" else -1.0
    eye, right = side * datum.across, side * datum.along
    return View((float(eye[0]), float(eye[1]), 0.0), (float(right[0]), float(right[1]), 0.0))


def reach(arm: Arm) -> float:
    """Farther than any point of the arm from its pivot."""
    return 2.0 * max(arm.geometry.input_arm, arm.geometry.output_arm) + arm.geometry.pivot.outside


def beyond(datum: ArmDatum, view: View, far: float) -> cq.Solid:
    """The quarter of space on this arm's side of the pivot and behind the cutting plane."""
    s, away = far * datum.along, -far * np.array(view.toward[:2])
    face = polygon(np.array([np.zeros(2), s, s + away, away]))
    return cq.Solid.extrudeLinear(face.moved(cq.Location((0.0, 0.0, -far))), cq.Vector(0.0, 0.0, 2.0 * far))


def rectangle(start: cq.Vector, along: cq.Vector, up: cq.Vector, size: float) -> cq.Face:
    """From `start` along one direction, to both sides of it along the other."""
    a, b = along * size, up * size
    return cq.Face.makeFromWires(
        cq.Wire.makePolygon([start - b, start + a - b, start + a + b, start + b], close=True)
    )


def outlined(faces: cq.Shape, origin: cq.Vector, view: View) -> list[dict[str, Any]]:
    """Edges of plane faces as they lie on paper."""
    paper = cq.Plane(origin, cq.Vector(*view.right), cq.Vector(*view.toward))
    turned = paper.toLocalCoords(faces)
    assert isinstance(turned, cq.Shape)
    edges = [drawn(edge) for face in turned.Faces() for edge in face.Edges()]
    return ordered([edge for edge in edges if not short(edge)])


def on_fold(edge: dict[str, Any]) -> bool:
    """Where the two halves of section A meet there is no edge of the part."""
    return "points" in edge and all(abs(x) < 1e-2 for x, _ in edge["points"])
