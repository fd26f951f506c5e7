"""Years to a crack all over the arm: `python -m analysis.fatigue DIR` writes life.csv, around.csv, duty.csv and life.vtu to
DIR/bores.

Reads arm.yaml, arm.msh, loads.json, hand.json, convergence.csv and the stresses.
"""

from __future__ import annotations

import sys
from functools import partial
from pathlib import Path
from typing import Any

import numpy as np

from analysis.contracts.hand import HandFile
from analysis.elastic.mesh import Mesh
from analysis.fatigue.cycles import year
from analysis.fatigue.duty_table import COLUMNS as DUTY
from analysis.fatigue.duty_table import duty_rows
from analysis.fatigue.outside import banded
from analysis.fatigue.stresses import mesh_file
from analysis.fatigue.table import COLUMNS, RING, around, assess, compared, fields, head, rows, weld_rows
from analysis.fatigue.variants import Variant, variants
from analysis.tables.files import write_cautioned
from geometry.meshfile import read_mesh, write_vtu
from params.files.read import read_arm
from params.steps.arguments import arguments
from params.steps.caution import CAUTION
from params.steps.contract import read_model
from params.steps.guard import one_line_errors
from params.steps.out_of_range import NOT_SETTLED, or_reason, out_of_range


def main(folder: Path) -> int:
    arm = read_arm(folder / "arm.yaml")
    if arm.bores is None:
        print(
            f"{folder / 'arm.yaml'}: has no section `bores`; add one to compute fatigue lives",
            file=sys.stderr,
        )
        return 1
    bores, target = arm.bores, folder / "bores"
    arrays = read_mesh(mesh_file(folder))
    mesh, cycles, hand = Mesh.of(arrays), year(arm, bores), read_model(folder / "hand.json", HandFile)
    assessments, table = [], []
    coarser = folder / "bores" / "coarser"
    before = Mesh.of(read_mesh(coarser / "contact.msh")) if (coarser / "contact.msh").exists() else None
    for variant in variants(arm):
        one, reason = or_reason(arm.units, partial(assess, folder, arm, bores, mesh, variant))
        if one is None:
            table.append(out_of_range(head(variant, "outside", "all surfaces"), reason))
        else:
            assessments.append(one)
            own = list(rows(arm, bores, mesh, one, cycles))
            if before is not None:
                own = compared(arm, own, mesh, before, assess(folder, arm, bores, before, variant, coarser))
            table += banded(folder, arm, own, mesh, one)
        table += weld_rows(arm, bores, hand, variant, cycles)
        print(summary_line(table, variant), flush=True)
    write_cautioned(target / "life.csv", COLUMNS, table)
    write_cautioned(
        target / "around.csv", RING, [row for one in assessments for row in around(arm, mesh, one)]
    )
    worked = [row for one in assessments for row in duty_rows(arm, mesh, one, cycles)]
    write_cautioned(target / "duty.csv", DUTY, worked)
    if worked and worked[0]["note"]:
        print(worked[0]["note"])
    write_vtu(target / "life.vtu", arrays, fields(mesh, assessments), {})
    print(CAUTION)
    return 0


def summary_line(table: list[dict[str, Any]], variant: Variant) -> str:
    """The shortest life of a variant in one line."""
    own = [row for row in table if row["arm"] == variant.name]
    known = [row for row in own if least(row) is not None]
    head = f"{variant.name} ({variant.material.name}; {variant.fits})"
    if not known:
        return f"{head}: {own[0]['status']}, {own[0]['note']}"
    worst = min(known, key=least)
    if worst["years"] == "":
        lasts = f"years {NOT_SETTLED} ({worst['years_by_mesh']})"
    else:
        lasts = f"{worst['years']:.3g} years" if np.isfinite(worst["years"]) else "no damage"
    margin = (
        f"{NOT_SETTLED} ({worst['margin_by_mesh']})" if worst["margin"] == "" else f"{worst['margin']:+.0%}"
    )
    return f"{head}: {lasts} at {worst['region']}, margin {margin}"


def least(row: dict[str, Any]) -> Any:
    """The margin of a row, the less favourable of its values where it has not settled; None where there is none."""
    value = row.get("margin_least", row.get("margin"))
    return None if value == "" else value


if __name__ == "__main__":
    with one_line_errors():
        sys.exit(main(*arguments(__doc__, folder=Path)))
