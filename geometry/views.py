"""Everything the drawing shows of the solid: `python -m geometry.views ARM.yaml OUT.json`; lengths in mm of the part."""

from __future__ import annotations

import json
import sys
from pathlib import Path
from typing import Any

import cadquery as cq

from geometry.cuts import aligned, square, station
from geometry.outline import SolidRefused
from geometry.projection import ABOVE, FROM_LEFT, FROM_RIGHT, FRONT, projected
from geometry.solid import REFUSED, solid
from geometry.tidy import tidied
from params.files.read import read_arm
from params.schema.arm import Arm
from params.steps.arguments import arguments
from params.steps.guard import one_line_errors
from params.steps.sealed import write_text

VIEWS = {"front": FRONT, "plan": ABOVE, "left": FROM_LEFT, "right": FROM_RIGHT}


def views(body: cq.Solid, arm: Arm) -> dict[str, Any]:
    """Projections, sections, and what the title block and notes need of the solid."""
    return {
        "views": {name: tidied(projected(body, view)) for name, view in VIEWS.items()},
        "sections": {"A": aligned(body, arm), "B": square(body, arm)},
        "station_B_mm": round(station(arm), 6),
        "volume_mm3": round(body.Volume(), 3),
        "centroid_mm": [round(value, 6) + 0.0 for value in body.Center().toTuple()],
        "box_mm": spans(body),
    }


def spans(body: cq.Solid) -> list[list[float]]:
    """Least and most along x, y and z."""
    box = body.BoundingBox()
    pairs = ((box.xmin, box.xmax), (box.ymin, box.ymax), (box.zmin, box.zmax))
    return [[round(value, 4) + 0.0 for value in pair] for pair in pairs]


def main(source: Path, target: Path) -> int:
    arm = read_arm(source)
    try:
        made = views(solid(arm), arm)
    except SolidRefused as refusal:
        print(f"{arm.name}: cannot be drawn: {refusal}", file=sys.stderr)
        return REFUSED
    write_text(target, json.dumps(made, sort_keys=True, separators=(",", ":")) + "\n")
    return 0


if __name__ == "__main__":
    with one_line_errors():
        sys.exit(main(*arguments(__doc__, arm=Path, target=Path)))
