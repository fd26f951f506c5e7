"""The solid of the arm: `python -m geometry.solid ARM.yaml OUT_DIR` writes arm.step, arm.brep and faces.json.

A bar, an I or a box between hub and bosses: the outline is extruded to the section's width, pockets are taken out (i) or
closed inside (box), hub and bosses stand proud, the bores are cut and chamfered. One valid solid, or a refusal.
"""

from __future__ import annotations

import json
import sys
from collections.abc import Sequence
from pathlib import Path

import cadquery as cq
import numpy as np

from geometry.corners import Blend
from geometry.datums import ARMS, BORES, bore, centre
from geometry.faces import named_faces, table
from geometry.notes import notes
from geometry.outline import SolidRefused, outline, pocket
from geometry.refused import spot
from geometry.soundness import Soundness, reread, soundness
from geometry.step import write_step
from params.files.read import read_arm
from params.schema.arm import Arm
from params.steps.arguments import arguments
from params.steps.exit_codes import REFUSED
from params.steps.guard import one_line_errors

LEAST_EDGE = 1e-3  # mm: what is shorter is the kernel's remainder of a cut, not part of the arm
MEND = "change geometry.blend_radius or a depth of geometry.section a little"


def solid(arm: Arm, short: list[Blend] | None = None) -> cq.Solid:
    """The finished arm in its own frame, mid-plane z = 0; lengths in mm. Blends that had to shrink go to `short`.

    Raises
    ------
    SolidRefused
        where the sizes do not give one valid solid.
    """
    try:
        return checked(shaped(arm, short))
    except SolidRefused:
        raise
    except Exception as error:  # the kernel's errors have no common base
        raise SolidRefused(
            f"the CAD kernel gave up ({error}): two edges nearly touch, change a size"
        ) from error


def shaped(arm: Arm, short: list[Blend] | None) -> cq.Shape:
    """The part as one would describe it: outline, pockets or cavities, hub and bosses, bores."""
    body: cq.Shape = slab(outline(arm, short), arm.geometry.section.width)
    for name in ARMS:
        if arm.geometry.section.kind == "i":
            body = body.cut(*pockets(arm, name))
        elif arm.geometry.section.kind == "box":
            body = body.cut(cavity(arm, name))
    for name in BORES:
        body = body.fuse(round_bar(arm, name, bore(arm, name).outside, bore(arm, name).width))
    body = body.clean()
    for name in BORES:
        if bore(arm, name).bore:  # a near-net part may have its bore full
            body = body.cut(hole(arm, name))
    return body


def slab(face: cq.Face, thickness: float) -> cq.Solid:
    """A plane figure of the elevation as a plate about the mid-plane."""
    return cq.Solid.extrudeLinear(
        face.moved(cq.Location((0.0, 0.0, -thickness / 2.0))), cq.Vector(0.0, 0.0, thickness)
    )


def pockets(arm: Arm, name: str) -> list[cq.Shape]:
    """What is taken out on both sides of the web, the floor's edges rounded with the web fillet."""
    section = arm.geometry.section
    depth = (section.width - (section.web_thickness or 0.0)) / 2.0
    tool: cq.Shape = cq.Solid.extrudeLinear(pocket(arm, name), cq.Vector(0.0, 0.0, 2.0 * depth))
    if section.fillet:
        floor = [edge for edge in tool.Edges() if edge.BoundingBox().zmax < 1e-6]
        try:
            tool = tool.fillet(section.fillet, floor)
        except Exception as error:
            raise SolidRefused(
                f"{name} arm: web fillet of {section.fillet:g} mm does not fit the pocket"
            ) from error
    near = tool.moved(cq.Location((0.0, 0.0, (section.web_thickness or 0.0) / 2.0)))
    return [near, near.mirror("XY")]


def cavity(arm: Arm, name: str) -> cq.Shape:
    """The closed inside of a box between its two webs."""
    section = arm.geometry.section
    return slab(pocket(arm, name), section.width - 2.0 * (section.web_thickness or 0.0))


def round_bar(arm: Arm, name: str, diameter: float, length: float) -> cq.Solid:
    """A cylinder about a bore's axis; its seam looks along an arm, away from where the arms' edges end."""
    x, y = (float(value) for value in centre(arm, name))
    foot, up = cq.Vector(x, y, 0.0), cq.Vector(0.0, 0.0, 1.0)
    inward = 0.0 if name == "pivot" else 180.0 + float(np.degrees(np.arctan2(y, x)))
    return cylinder(arm, name, diameter, length).rotate(foot, foot + up, inward)


def cylinder(arm: Arm, name: str, diameter: float, length: float) -> cq.Solid:
    """A cylinder about a bore's axis, its seam on the side of x as that of a cone or of a pin in the mesh."""
    x, y = (float(value) for value in centre(arm, name))
    foot, up = cq.Vector(x, y, -length / 2.0), cq.Vector(0.0, 0.0, 1.0)
    return cq.Solid.makeCylinder(diameter / 2.0, length, foot, up)


def hole(arm: Arm, name: str) -> cq.Shape:
    """The bore with a 45 degree countersink at both faces."""
    size = bore(arm, name)
    drill: cq.Shape = cylinder(arm, name, size.bore, size.width)
    if not size.chamfer:
        return drill
    x, y = (float(value) for value in centre(arm, name))
    radius, depth = size.bore / 2.0, size.chamfer
    for side in (-1.0, 1.0):
        face = cq.Vector(x, y, side * size.width / 2.0)
        drill = drill.fuse(cq.Solid.makeCone(radius + depth, radius, depth, face, cq.Vector(0.0, 0.0, -side)))
    return drill


def checked(body: cq.Shape) -> cq.Solid:
    solids = body.Solids()
    if len(solids) != 1:
        raise SolidRefused(f"the arm falls into {len(solids)} pieces")
    if not solids[0].isValid():
        raise SolidRefused("the solid is not valid: two of its surfaces meet badly, change a size a little")
    return solids[0]


def written(body: cq.Solid, arm: Arm, folder: Path, differs: Sequence[str] = ()) -> None:
    """arm.step, arm.brep and faces.json of a body, with what `differs` in it from the arm's file.

    Raises
    ------
    SolidRefused
        where a face cannot be named or a file cannot be read again as it was written.
    """
    faces = named_faces(body, arm)
    told = table(body, faces, arm) | {"notes": list(differs)}
    folder.mkdir(parents=True, exist_ok=True)
    write_step(body, faces, arm, folder / "arm.step")
    body.exportBrep(str(folder / "arm.brep"))
    (folder / "faces.json").write_text(json.dumps(told, indent=1, sort_keys=True) + "\n")


def main(source: Path, folder: Path) -> int:
    arm = read_arm(source)
    short: list[Blend] = []
    try:
        body = solid(arm, short)
        measured = sound(body)
        differs = notes(arm, short)
        written(body, arm, folder, differs)
        if changed := list(reread(folder / "arm.step", body)):
            raise SolidRefused(f"arm.step: {changed[0]}; {MEND}")
    except SolidRefused as refusal:
        print(f"{arm.name}: cannot be built: {refusal}", file=sys.stderr)
        return REFUSED
    print(f"solid: {len(body.Faces())} faces, volume {body.Volume() / 1e6:.3f} dm3, {measured}")
    for line in differs:
        print(f"solid: {line}")
    return 0


def sound(body: cq.Solid) -> Soundness:
    """Measures of the body, which the kernel's checkers find valid.

    Raises
    ------
    SolidRefused
        where they do not, or where an edge is too short to be one.
    """
    measured = soundness(body)
    if measured.faults:
        raise SolidRefused(f"{measured.faults[0]}; {MEND}")
    if measured.edge.value < LEAST_EDGE:
        raise SolidRefused(f"an edge of {measured.edge.value:.1e} mm at {spot(measured.edge.place)}; {MEND}")
    return measured


if __name__ == "__main__":
    with one_line_errors():
        sys.exit(main(*arguments(__doc__, arm=Path, folder=Path)))
