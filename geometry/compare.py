"""A STEP file beside the solid that its parameter file gives: `python -m geometry.compare ARM.yaml PART.step` prints JSON.

For each of the two: volume, area, number of faces, and area and number of faces under each name (bores, bearing faces).
"""

from __future__ import annotations

import json
import sys
from pathlib import Path
from typing import Any

import cadquery as cq

from geometry.faces import NAMES, named_faces
from geometry.outline import SolidRefused
from geometry.solid import solid
from geometry.step import read_step
from params.files.read import read_arm
from params.schema.arm import Arm
from params.steps.arguments import arguments
from params.steps.exit_codes import REFUSED
from params.steps.guard import one_line_errors


def measured(body: cq.Solid, arm: Arm) -> dict[str, Any]:
    """What can be compared of a body; mm2 and mm3."""
    faces = named_faces(body, arm)
    return {
        "volume_mm3": body.Volume(),
        "area_mm2": body.Area(),
        "faces": len(body.Faces()),
        "named": {
            name: {"faces": len(faces[name]), "area_mm2": sum(face.Area() for face in faces[name])}
            for name in NAMES
        },
    }


def labels(step: Path) -> list[str]:
    """Face names that stand in the STEP text."""
    text = step.read_text(errors="replace")
    return [name for name in NAMES if f"'{name}'" in text]


def main(source: Path, step: Path) -> int:
    arm = read_arm(source)
    try:
        made = measured(solid(arm), arm)
    except SolidRefused as refusal:
        print(f"the parameter file gives no solid: {refusal}", file=sys.stderr)
        return REFUSED
    try:
        read = measured(read_step(step), arm)
    except Exception as error:  # the kernel's errors have no common base
        print(f"the STEP file cannot be read as this arm: {error}", file=sys.stderr)
        return REFUSED
    print(json.dumps({"parameters": made, "step": read, "labels": labels(step)}, sort_keys=True))
    return 0


if __name__ == "__main__":
    with one_line_errors():
        sys.exit(main(*arguments(__doc__, arm=Path, step=Path)))
