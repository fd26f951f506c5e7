"""What the part is made from, by its route: `python -m geometry.blanks ARM.yaml OUT_DIR`.

Deposited: near-net.step. Cast: pattern.step. Welded: the plates in blanks.json. Each file is named in blanks.json; what
cannot be made stands there with its reason.
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
from geometry.plates import plates
from geometry.step import write_step
from params.files.read import read_arm, read_material
from params.files.readroute import route_of
from params.schema.arm import Arm
from params.schema.route import Route
from params.steps.arguments import arguments
from params.steps.guard import one_line_errors
from params.steps.sealed import write_text

SOLIDS = {"deposited": ("near-net", nearnet), "cast": ("pattern", pattern)}


def blanks(arm: Arm, route: Route | None, folder: Path) -> dict[str, Any]:
    """Write the solids and return the table of blanks.json."""
    told: dict[str, Any] = {"route": route.name if route else None, "files": {}, "plates": [], "refused": ""}
    if route is None:
        return told | {"refused": f"no route file lists the material {arm.material}"}
    try:
        if route.form == "plate":
            return told | {"plates": plates(arm, route.stock.machining)}
        name, make = SOLIDS[route.form]
        return told | {"files": {f"{name}.step": written(make(arm, route), arm, name, folder)}}
    except SolidRefused as refusal:
        return told | {"refused": str(refusal)}


def written(body: cq.Solid, arm: Arm, name: str, folder: Path) -> dict[str, float]:
    write_step(body, {}, arm.model_copy(update={"name": f"{arm.name}-{name}"}), folder / f"{name}.step")
    return {"volume_mm3": round(body.Volume(), 3)}


def main(source: Path, folder: Path) -> int:
    arm = read_arm(source)
    folder.mkdir(parents=True, exist_ok=True)
    told = blanks(arm, route_of(source, arm, read_material(arm.material, arm.library)), folder)
    write_text(folder / "blanks.json", json.dumps(told, indent=1, sort_keys=True) + "\n")
    made = [*told["files"], *(plate["name"] for plate in told["plates"])]
    print(f"blanks: {', '.join(made) or 'none'}{'; ' + told['refused'] if told['refused'] else ''}")
    return 0


if __name__ == "__main__":
    with one_line_errors():
        sys.exit(main(*arguments(__doc__, arm=Path, folder=Path)))
