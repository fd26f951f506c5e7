"""Plates of a weldment, from the datums of its elevation: webs, developed flanges, hub and bosses; lengths in mm.

Webs fill the field between flanges, hub and boss; a flange is as long as its strip in the elevation has area for its
thickness, bent where the taper begins; hub and bosses are rings with machining stock. Gaps and bevels are the welder's.
"""

from __future__ import annotations

from typing import Any

import cadquery as cq
import numpy as np

from geometry.datums import ARMS, BORES, ArmDatum, arm_datum, bore
from geometry.outline import SolidRefused, bar, beyond_rib, disc
from geometry.projection import drawn, ordered
from params.schema.arm import Arm

Plate = dict[str, Any]


def plates(arm: Arm, stock: float) -> list[Plate]:
    """Every plate with count, thickness, outline and volume; `stock` is left on each machined face.

    Raises
    ------
    SolidRefused
        where an arm has no room for a web between its flanges.
    """
    made = [plate for name in ARMS for plate in of_arm(arm, name)]
    return made + [ring(arm, name, stock) for name in BORES]


def of_arm(arm: Arm, name: str) -> list[Plate]:
    """Web and flanges of a built-up arm, or the one plate of a bar."""
    section = arm.geometry.section
    if section.kind == "solid":
        return [flat(f"{name}-bar", 1, section.width, field(arm, name, 0.0))]
    flange, web = section.flange_thickness or 0.0, section.web_thickness or 0.0
    whole, clear = field(arm, name, 0.0), field(arm, name, flange)
    webs = 1 if section.kind == "i" else 2
    strip = (whole.Area() - clear.Area()) / 2.0
    return [
        flat(f"{name}-web", webs, web, clear),
        strip_plate(f"{name}-flange", flange, strip / flange, section.width, bends(arm_datum(arm, name))),
    ]


def field(arm: Arm, name: str, inset: float) -> cq.Face:
    """One arm's elevation within its flanges, between the circles of hub and boss, short of the other arm's."""
    shape = bar(arm, name, inset)
    shape = shape.cut(disc(arm, "pivot"), disc(arm, name), beyond_rib(arm, name))
    faces = sorted(shape.Faces(), key=lambda face: face.Area())
    if not faces:
        raise SolidRefused(f"{name} arm: no room for a web between flanges, hub and boss")
    return faces[-1]


def bends(datum: ArmDatum) -> str:
    """Angle and place of each bend of a flange, from the circle of the hub outward."""
    at, depth = datum.corners()
    lean = np.degrees(np.arctan(np.diff(depth) / 2.0 / np.diff(at)))
    told = zip(np.abs(np.diff(lean)), at[1:-1] - datum.hub_edge, strict=True)
    bent = [(turn, along) for turn, along in told if turn > 0.005]
    where = [
        "where the taper begins" if along == 0.0 else f"{along:.0f} mm along the arm from there"
        for _, along in bent
    ]
    return (
        "bend " + ", ".join(f"{turn:.2f} deg {place}" for (turn, _), place in zip(bent, where, strict=True))
        if bent
        else ""
    )


def flat(name: str, count: int, thickness: float, face: cq.Face) -> Plate:
    edges = ordered([drawn(edge) for edge in face.Edges()])
    return told(name, count, thickness, face.Area(), edges, "")


def strip_plate(name: str, thickness: float, length: float, width: float, note: str) -> Plate:
    corners = [(0.0, 0.0), (length, 0.0), (length, width), (0.0, width)]
    edges = [{"points": [list(a), list(b)]} for a, b in zip(corners, corners[1:] + corners[:1], strict=True)]
    return told(name, 2, thickness, length * width, edges, note)


def ring(arm: Arm, name: str, stock: float) -> Plate:
    """Hub or boss: outside as finished, bore and faces with stock."""
    size = bore(arm, name)
    hole = size.bore - 2.0 * stock
    circles = [size.outside / 2.0, hole / 2.0] if hole > 0.0 else [size.outside / 2.0]
    edges = [{"centre": [0.0, 0.0], "radius": radius, "from": 0.0, "to": 360.0} for radius in circles]
    area = np.pi / 4.0 * (size.outside**2 - max(hole, 0.0) ** 2)
    part = "hub" if name == "pivot" else f"{name}-boss"
    note = f"{stock:g} mm stock on bore and both faces; plate, forging or round bar"
    return told(part, 1, size.width + 2.0 * stock, float(area), edges, note)


def told(name: str, count: int, thickness: float, area: float, edges: list[Any], note: str) -> Plate:
    return {
        "name": name,
        "count": count,
        "thickness_mm": round(thickness, 4),
        "area_mm2": round(area, 3),
        "edges": edges,
        "note": note,
    }
