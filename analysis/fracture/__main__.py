"""Cracks: how long found ones last, what flaw a new arm may keep, when to look: `python -m analysis.fracture DIR`.

Reads arm.yaml, arm.msh, the stresses and bores/life.csv; writes cracks.csv, growth.csv, survival.csv, load-limit.csv and
inspection.csv to DIR/bores. All of it is computed on the contact's coarser mesh (DIR/bores/coarser) too: what moves from there is
not settled. Lives are for review by a licensed engineer; nothing here releases an arm to service.
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
from analysis.fracture.inspection_table import LOOK_COLUMNS, in_materials, look_rows_settled
from analysis.fracture.loads import loads, loads_coarser, sizes_at
from analysis.fracture.settled import followed
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
    cycles, wanted = year(arm, arm.bores), variants(arm)
    held = {v.name: loads(folder, arm, mesh, cycles, v) for v in wanted}
    coarser = loads_coarser(folder, arm, cycles, wanted)
    target, name = folder / "bores", CRACKED if CRACKED in held else THIS
    old, before = held[name], coarser.get(name)
    found = []
    for crack in arm.found_cracks:
        others = follow(before, cracks, crack) if before else None
        found += followed(follow(old, cracks, crack), others, sizes_at(old, before, crack.region))
    tables = {"growth.csv": GROWTH_COLUMNS, "survival.csv": SURVIVAL_COLUMNS, "load-limit.csv": LIMIT_COLUMNS}
    write_cautioned(target / "cracks.csv", CRACK_COLUMNS, [row for row, *_ in found])
    for place, (table, columns) in enumerate(tables.items()):
        write_cautioned(target / table, columns, [row for _, *others in found for row in others[place]])
    looks = []
    if cracks.inspection:
        for variant in in_materials(held[THIS].variant, held.get(CRACKED)):
            own = replace(held[THIS], variant=variant)
            other = replace(coarser[THIS], variant=variant) if coarser else None
            looks += look_rows_settled(own, other, cracks, cracks.inspection)
    write_cautioned(target / "inspection.csv", LOOK_COLUMNS, looks)
    for row in governing(row for row, *_ in found):
        print(in_one_line(row))
    print(CAUTION)
    return 0


if __name__ == "__main__":
    with one_line_errors():
        sys.exit(main(*arguments(__doc__, folder=Path)))
