"""What a part is made from, made again beside the files of a package: `python -m geometry.made_again ARM.yaml ROUTE.yaml DIR`.

DIR holds, as far as the package does, near-net.step, pattern.step, plan.json with the cuts and pieces/NAME.step. Prints JSON: for
each solid volume, area and number of faces as the files give it and as read; the plates as the files give them.
"""

from __future__ import annotations

import json
import sys
from pathlib import Path
from typing import Any

import cadquery as cq

from geometry.nearnet import nearnet
from geometry.outline import SolidRefused
from geometry.pattern import pattern
from geometry.pieces import Cut, pieces
from geometry.plates import plates
from geometry.step import read_step
from params.files.read import read_arm
from params.files.readroute import read_process
from params.schema.arm import Arm
from params.schema.route import Process
from params.steps.arguments import arguments
from params.steps.exit_codes import REFUSED
from params.steps.guard import one_line_errors


def measured(body: cq.Solid) -> dict[str, float]:
    """mm3, mm2 and a number."""
    return {"volume_mm3": body.Volume(), "area_mm2": body.Area(), "faces": len(body.Faces())}


def beside(made: cq.Solid, step: Path) -> dict[str, Any]:
    """A solid and the file of it; `unread` says why the file cannot be read."""
    try:
        return {"parameters": measured(made), "step": measured(read_step(step))}
    except Exception as error:  # the kernel's errors have no common base
        return {"parameters": measured(made), "step": None, "unread": str(error)}


def of_pieces(whole: cq.Solid, arm: Arm, folder: Path) -> dict[str, Any]:
    """Every piece of the plan; a piece without a file is not read."""
    plan = json.loads((folder / "plan.json").read_text())
    cuts: list[Cut] = [(str(cut["arm"]), float(cut["s_mm"])) for cut in plan["cuts"]]
    made = pieces(whole, arm, cuts) if plan["pieces"] else []
    names = [str(piece["name"]) for piece in plan["pieces"]]
    return {
        f"piece {name}": beside(piece, folder / "pieces" / f"{name}.step")
        for name, piece in zip(names, made, strict=True)
    }


def remade(arm: Arm, route: Process, folder: Path) -> dict[str, Any]:
    """Solids by name and plates, for what is in the folder."""
    solids: dict[str, Any] = {}
    near, cast, plan = (folder / name for name in ("near-net.step", "pattern.step", "plan.json"))
    if near.exists() or plan.exists():
        whole = nearnet(arm, route)
        if near.exists():
            solids["near-net solid"] = beside(whole, near)
        if plan.exists():
            solids |= of_pieces(whole, arm, folder)
    if cast.exists():
        solids["pattern"] = beside(pattern(arm, route), cast)
    flat = plates(arm, route.stock.machining) if route.form == "plate" else []
    return {"solids": solids, "plates": flat}


def main(source: Path, route: Path, folder: Path) -> int:
    try:
        made = remade(read_arm(source), read_process(route), folder)
    except (SolidRefused, ValueError, KeyError, TypeError) as refusal:
        print(f"what the part is made from cannot be made again: {refusal}", file=sys.stderr)
        return REFUSED
    print(json.dumps(made, sort_keys=True))
    return 0


if __name__ == "__main__":
    with one_line_errors():
        sys.exit(main(*arguments(__doc__, arm=Path, route=Path, folder=Path)))
