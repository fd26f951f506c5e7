"""Named faces of the solid, found by axis, radius and height, counted, then named; never picked by index."""

from __future__ import annotations

from typing import Any

import cadquery as cq
import numpy as np
from OCP.BRepAdaptor import BRepAdaptor_Surface
from OCP.BRepTopAdaptor import BRepTopAdaptor_FClass2d
from OCP.gp import gp_Pnt2d
from OCP.TopAbs import TopAbs_State

from geometry.datums import BORES, bore, centre
from geometry.outline import SolidRefused
from params.schema.arm import Arm

NEAR = 1e-4  # mm
NAMES = (*(f"{name}_bore" for name in BORES), *(f"{name}_faces" for name in BORES), "outside")


def named_faces(body: cq.Solid, arm: Arm) -> dict[str, list[cq.Face]]:
    """Every face of the body under one of `NAMES`.

    Raises
    ------
    SolidRefused
        where a bore is not whole or a hub or boss has not two end faces.
    """
    found: dict[str, list[cq.Face]] = {name: [] for name in NAMES}
    for face in body.Faces():
        found[name_of(face, arm)].append(face)
    for name in BORES:
        whole = np.pi * bore(arm, name).bore * (bore(arm, name).width - 2.0 * bore(arm, name).chamfer)
        area = sum(face.Area() for face in found[f"{name}_bore"])
        if abs(area - whole) > 1e-6 * whole:
            raise SolidRefused(f"the {name} bore is not whole: {area:.0f} of {whole:.0f} mm2")
        if len(found[f"{name}_faces"]) != 2:
            raise SolidRefused(f"the {name} hub or boss has {len(found[f'{name}_faces'])} end faces, not 2")
    return found


def name_of(face: cq.Face, arm: Arm) -> str:
    for name in BORES:
        if is_bore(face, arm, name):
            return f"{name}_bore"
        if is_end(face, arm, name):
            return f"{name}_faces"
    return "outside"


def is_bore(face: cq.Face, arm: Arm, name: str) -> bool:
    """A cylinder about the bore's axis with the bore's radius."""
    if face.geomType() != "CYLINDER":
        return False
    cylinder = BRepAdaptor_Surface(face.wrapped).Cylinder()
    place = cylinder.Axis().Location()
    off = np.hypot(place.X() - centre(arm, name)[0], place.Y() - centre(arm, name)[1])
    return off < NEAR and abs(cylinder.Radius() - bore(arm, name).bore / 2.0) < NEAR


def is_end(face: cq.Face, arm: Arm, name: str) -> bool:
    """A plane square to z at the hub's or boss's end, about its axis."""
    if face.geomType() != "PLANE" or abs(abs(face.Center().z) - bore(arm, name).width / 2.0) > NEAR:
        return False
    middle = face.Center()
    off = np.hypot(middle.x - centre(arm, name)[0], middle.y - centre(arm, name)[1])
    round_edges = [edge for edge in face.Edges() if edge.geomType() == "CIRCLE"]
    inner = bore(arm, name).bore / 2.0 + bore(arm, name).chamfer
    return any(abs(edge.radius() - inner) < NEAR for edge in round_edges) and off < bore(arm, name).outside


def inside_point(face: cq.Face) -> list[float]:
    """A point on the trimmed face, away from its edges."""
    surface = BRepAdaptor_Surface(face.wrapped)
    classifier = BRepTopAdaptor_FClass2d(face.wrapped, 1e-7)
    for u, v in _grid(face):
        if classifier.Perform(gp_Pnt2d(u, v)) == TopAbs_State.TopAbs_IN:
            point = surface.Value(u, v)
            return [point.X(), point.Y(), point.Z()]
    raise SolidRefused("a face of the solid has no inside: two of its edges coincide")


def _grid(face: cq.Face) -> list[tuple[float, float]]:
    """Parameters over the face, from its middle outward."""
    u0, u1, v0, v1 = face._uvBounds()
    steps = np.concatenate([[0.5], np.linspace(0.02, 0.98, 41)])
    pairs = [(u0 + a * (u1 - u0), v0 + b * (v1 - v0)) for a in steps for b in steps]
    middle = ((u0 + u1) / 2.0, (v0 + v1) / 2.0)
    return sorted(pairs, key=lambda pair: (pair[0] - middle[0]) ** 2 + (pair[1] - middle[1]) ** 2)


def table(body: cq.Solid, faces: dict[str, list[cq.Face]], arm: Arm) -> dict[str, Any]:
    """What the mesher and the checks need: volume, centroid, plates, bores, and the faces of each name (mm).

    A face is told by a point on it and its area, a bore by its centre, radius and height between the chamfers, with the radius of
    its hub or boss, the height at which the arm's face runs into that, and how far it stands proud of it.
    """
    section = arm.geometry.section
    return {
        "volume_mm3": round(body.Volume(), 3),
        "centroid_mm": [round(value, 6) + 0.0 for value in body.Center().toTuple()],
        "flange_mm": section.flange_thickness,
        "web_mm": section.web_thickness,
        "bores": {f"{name}_bore": told(arm, name) for name in BORES},
        "faces": {
            name: [{"point": rounded_point(face), "area_mm2": round(face.Area(), 6)} for face in group]
            for name, group in faces.items()
        },
    }


def told(arm: Arm, name: str) -> dict[str, Any]:
    size = bore(arm, name)
    return {
        "centre_mm": [round(float(value), 9) + 0.0 for value in centre(arm, name)],
        "radius_mm": size.bore / 2.0,
        "height_mm": size.width - 2.0 * size.chamfer,
        "outside_mm": size.outside / 2.0,
        "arm_mm": arm.geometry.section.width / 2.0,
        "proud_mm": (size.width - arm.geometry.section.width) / 2.0,
    }


def rounded_point(face: cq.Face) -> list[float]:
    return [round(value, 9) + 0.0 for value in inside_point(face)]
