"""Cracks: how long found ones last, what flaw a new arm may keep, when to look: `python -m analysis.fracture DIR`.

Reads arm.yaml, arm.msh, the stresses and bores/life.csv; writes cracks.csv, growth.csv, survival.csv, load-limit.csv and
inspection.csv to DIR/bores. Lives are for review by a licensed engineer; nothing here releases an arm to service.
"""

from __future__ import annotations

import sys
from dataclasses import replace
from pathlib import Path

from analysis.elastic.mesh import Mesh
from analysis.fatigue.cycles import year
from analysis.fatigue.stresses import mesh_file
from analysis.fatigue.variants import CRACKED, THIS, variants
from analysis.fracture.found_table import (
    CRACK_COLUMNS,
    GROWTH_COLUMNS,
    LIMIT_COLUMNS,
    SURVIVAL_COLUMNS,
    follow,
    in_one_line,
)
from analysis.fracture.inspection_table import LOOK_COLUMNS, in_materials, look_rows
from analysis.fracture.loads import loads
from analysis.tables.files import write_cautioned
from analysis.tables.governing import governing
from geometry.meshfile import read_mesh
from params.files.read import read_arm
from params.steps.arguments import arguments
from params.steps.caution import CAUTION
from params.steps.guard import one_line_errors


def main(folder: Path) -> int:
    arm = read_arm(folder / "arm.yaml")
    if arm.bores is None or arm.cracks is None:
        print(f"{folder / 'arm.yaml'}: needs the sections bores and cracks", file=sys.stderr)
        return 1
    cracks, mesh = arm.cracks, Mesh.of(read_mesh(mesh_file(folder)))
    cycles = year(arm, arm.bores)
    held = {v.name: loads(folder, arm, mesh, cycles, v) for v in variants(arm)}
    target, old = folder / "bores", held.get(CRACKED, held[THIS])
    followed = [one for crack in arm.found_cracks for one in follow(old, cracks, crack)]
    tables = {"growth.csv": GROWTH_COLUMNS, "survival.csv": SURVIVAL_COLUMNS, "load-limit.csv": LIMIT_COLUMNS}
    write_cautioned(target / "cracks.csv", CRACK_COLUMNS, [row for row, *_ in followed])
    for place, (name, columns) in enumerate(tables.items()):
        write_cautioned(target / name, columns, [row for _, *others in followed for row in others[place]])
    looks = []
    if cracks.inspection:
        for variant in in_materials(held[THIS].variant, held.get(CRACKED)):
            looks += look_rows(replace(held[THIS], variant=variant), cracks, cracks.inspection)
    write_cautioned(target / "inspection.csv", LOOK_COLUMNS, looks)
    for row in governing(row for row, *_ in followed):
        print(in_one_line(row))
    print(CAUTION)
    return 0


if __name__ == "__main__":
    with one_line_errors():
        sys.exit(main(*arguments(__doc__, folder=Path)))
