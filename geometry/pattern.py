"""The pattern of a casting: machining stock, draft from the parting plane z = 0, and the metal's shrinkage.

Draft adds metal: every face along the draw is as the part has it at its outer end and stands back toward the parting plane.
Bores are left full; cores are the foundry's.
"""

from __future__ import annotations

import cadquery as cq
import numpy as np

from geometry.datums import ARMS, BORES, bore, centre
from geometry.outline import SolidRefused, outline, pocket
from geometry.solid import checked
from geometry.stock import near_net
from params.schema.arm import Arm
from params.schema.route import Process


def pattern(arm: Arm, route: Process) -> cq.Solid:
    """The pattern in the arm's frame, mm, larger by the shrinkage.

    Raises
    ------
    SolidRefused
        where the kernel finds no drafted body, or the section is closed and needs a core.
    """
    if arm.geometry.section.kind == "box":
        raise SolidRefused("a closed box needs a core, which is the foundry's to design")
    grown = near_net(arm, route)
    try:
        half = upper(grown, float(np.degrees(route.limits.draft)))
        body = checked(half.fuse(half.mirror("XY")).clean())
    except SolidRefused:
        raise
    except Exception as error:  # the kernel's errors have no common base
        raise SolidRefused(f"the CAD kernel finds no drafted body ({error})") from error
    return checked(body.scale(1.0 + route.stock.shrinkage_percent / 100.0))


def upper(arm: Arm, draft: float) -> cq.Shape:
    """The half above the parting plane."""
    section = arm.geometry.section
    body: cq.Shape = drafted(outline(arm), section.width / 2.0, 0.0, draft)
    if section.kind == "i":
        for name in ARMS:
            body = body.cut(hollow(arm, name, draft))
    for name in BORES:
        body = body.fuse(cone(arm, name, draft))
    return body


def hollow(arm: Arm, name: str, draft: float) -> cq.Shape:
    """The pocket of one arm: as the part's at its opening, narrower toward the web, the floor's edges rounded."""
    section = arm.geometry.section
    floor = (section.web_thickness or 0.0) / 2.0
    tool = drafted(pocket(arm, name), section.width / 2.0, floor, -draft)
    if not section.fillet:
        return tool
    edges = [edge for edge in tool.Edges() if edge.BoundingBox().zmax < floor + 1e-6]
    return tool.fillet(section.fillet, edges)


def drafted(face: cq.Face, top: float, foot: float, draft: float) -> cq.Solid:
    """A figure at height `top` drawn down to `foot`, growing by the draft (deg), shrinking where it is negative."""
    start = face.moved(cq.Location((0.0, 0.0, top)))
    return cq.Solid.extrudeLinear(start, cq.Vector(0.0, 0.0, foot - top), -draft)


def cone(arm: Arm, name: str, draft: float) -> cq.Solid:
    """Half of a hub or boss, its outside as the part's at the end face."""
    size = bore(arm, name)
    x, y = (float(value) for value in centre(arm, name))
    high, radius = size.width / 2.0, size.outside / 2.0
    foot = radius + high * float(np.tan(np.radians(draft)))
    return cq.Solid.makeCone(foot, radius, high, cq.Vector(x, y, 0.0), cq.Vector(0.0, 0.0, 1.0))
