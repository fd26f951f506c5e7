"""Pieces of a deposited part: `python -m geometry.pieces ARM.yaml ROUTE.yaml PLAN.json DIR` cuts the near-net solid.

Writes near-net.step, a STEP and an STL (for pictures) of each piece, and pieces.json with volumes, centres of gravity and boxes.
"""

from __future__ import annotations

import json
import sys
from pathlib import Path
from typing import Any

import cadquery as cq
import numpy as np

from geometry.datums import ARMS, arm_datum
from geometry.faces import NEAR
from geometry.nearnet import nearnet
from geometry.outline import SolidRefused
from geometry.solid import solid
from geometry.step import write_step
from params.files.read import read_arm
from params.files.readroute import read_route
from params.schema.arm import Arm
from params.steps.arguments import arguments
from params.steps.exit_codes import REFUSED
from params.steps.guard import one_line_errors
from params.steps.results import read_json
from params.steps.sealed import write_text

Cut = tuple[str, float]  # arm, and distance from the pivot in mm
CHORD, TURN = 1.0, 0.2  # mm and rad by which the facets of a picture may leave the surface


def beyond(arm: Arm, cut: Cut, size: float) -> cq.Solid:
    """All space beyond a plane square to an arm's axis, as a block of twice `size`."""
    datum = arm_datum(arm, cut[0])
    corner = datum.point(cut[1], -size)
    block = cq.Solid.makeBox(2.0 * size, 2.0 * size, 2.0 * size, cq.Vector(0.0, 0.0, -size))
    turn = float(np.degrees(np.arctan2(datum.along[1], datum.along[0])))
    return block.rotate(cq.Vector(), cq.Vector(0.0, 0.0, 1.0), turn).moved(cq.Location((*corner, 0.0)))


def pieces(body: cq.Shape, arm: Arm, cuts: list[Cut]) -> list[cq.Solid]:
    """The hub's piece, then those of the input and of the output arm from the hub outward.

    Raises
    ------
    SolidRefused
        where a cut leaves no piece or more than one.
    """
    size, outer = body.BoundingBox().DiagonalLength, {name: [] for name in ARMS}
    for name, s in sorted(cuts, key=lambda cut: -cut[1]):
        space = beyond(arm, (name, s), size)
        outer[name].insert(0, one(body.intersect(space), f"the piece beyond {s:.0f} mm of the {name} arm"))
        body = body.cut(space)
    return [one(body, "the hub's piece"), *outer["input"], *outer["output"]]


def one(shape: cq.Shape, what: str) -> cq.Solid:
    solids = shape.Solids()
    if len(solids) != 1 or not solids[0].isValid():
        raise SolidRefused(f"{what} is no single valid solid: move the joint")
    return solids[0]


def joint_faces(piece: cq.Solid, arm: Arm, cuts: list[Cut]) -> list[cq.Face]:
    """The plane faces in the planes of the cuts."""
    return [
        face
        for face in piece.Faces()
        if face.geomType() == "PLANE" and any(lies(face, arm, cut) for cut in cuts)
    ]


def lies(face: cq.Face, arm: Arm, cut: Cut) -> bool:
    """Whether a plane face lies in the plane of a cut and within its arm."""
    datum = arm_datum(arm, cut[0])
    along, middle = cq.Vector(float(datum.along[0]), float(datum.along[1]), 0.0), face.Center()
    square = abs(abs(face.normalAt().dot(along)) - 1.0) < 1e-9
    return square and abs(middle.dot(along) - cut[1]) < NEAR


def box(piece: cq.Solid, turn: float) -> list[float]:
    """Length, depth and width of a piece in axes turned by `turn` (rad) from the arm's, mm."""
    own = piece.rotate(cq.Vector(), cq.Vector(0.0, 0.0, 1.0), -float(np.degrees(turn))).BoundingBox()
    return [own.xlen, own.ylen, own.zlen]


def row(piece: cq.Solid, finished: cq.Solid, planned: dict[str, Any]) -> dict[str, Any]:
    """One piece of pieces.json; mm and mm3."""
    name = planned["name"]
    return {
        "name": name,
        "step": f"{name}.step",
        "stl": f"{name}.stl",
        "faces": len(piece.Faces()),
        "volume_mm3": piece.Volume(),
        "finished_volume_mm3": finished.Volume(),
        "cg_mm": [round(value, 6) + 0.0 for value in piece.Center().toTuple()],
        "box_mm": box(piece, planned["turn_rad"]),
    }


def write(arm: Arm, made: list[cq.Solid], rows: list[dict[str, Any]], cuts: list[Cut], folder: Path) -> None:
    """STEP with the joint faces named, and STL, of every piece."""
    for piece, told in zip(made, rows, strict=True):
        named = arm.model_copy(update={"name": f"{arm.name}-{told['name']}"})
        write_step(piece, {"joint": joint_faces(piece, arm, cuts)}, named, folder / told["step"])
        cq.exporters.export(
            cq.Workplane(piece), str(folder / told["stl"]), tolerance=CHORD, angularTolerance=TURN
        )


def main(source: Path, route_path: Path, plan_path: Path, folder: Path) -> int:
    arm, route = read_arm(source), read_route(route_path)
    plan = read_json(plan_path)
    cuts: list[Cut] = [(cut["arm"], cut["s_mm"]) for cut in plan["cuts"]]
    folder.mkdir(parents=True, exist_ok=True)
    try:
        whole, finished = nearnet(arm, route), solid(arm)
        made, done = (pieces(body, arm, cuts) if plan["pieces"] else [] for body in (whole, finished))
    except SolidRefused as refusal:
        print(f"{arm.name}: cannot be cut into pieces: {refusal}", file=sys.stderr)
        return REFUSED
    rows = [row(*one_piece) for one_piece in zip(made, done, plan["pieces"], strict=True)]
    write_step(whole, {}, arm.model_copy(update={"name": f"{arm.name}-near-net"}), folder / "near-net.step")
    write(arm, made, rows, cuts, folder)
    table = {"near_net_volume_mm3": whole.Volume(), "finished_volume_mm3": finished.Volume(), "pieces": rows}
    write_text(folder / "pieces.json", json.dumps(table, indent=1, sort_keys=True) + "\n")
    print(
        f"near net: {whole.Volume() / 1e6:.3f} dm3 in {len(rows)} pieces, finished {finished.Volume() / 1e6:.3f} dm3"
    )
    return 0


if __name__ == "__main__":
    with one_line_errors():
        sys.exit(main(*arguments(__doc__, arm=Path, route=Path, plan=Path, folder=Path)))
