"""Pins in their bores by contact: `python -m analysis.contact DIR` writes contact.csv, fields and a picture to DIR/bores.

Reads arm.yaml, arm.brep, faces.json and loads.json of DIR. The arm is meshed once more, with its pins, and solved for every load
case with the arm's fits and with those that the file names for comparison, each at its mean size at room temperature; and for
the fits alone, without load (the case `fitted`). contact.msh is the arm's part of that mesh, and stress-fit.vtu and
stress-compare.vtu hold its fields under the names of stress.vtu. Where no second fit is named the two are the same. Cases at
the position where they load the arm least (`least` of loads.json) are solved too; of them these files hold the stress only.
All of it is solved on a coarser mesh first, whose mesh and fields stand in `coarser`: what moves from there is not settled.
"""

from __future__ import annotations

import sys
import time
from pathlib import Path

from analysis.contact.fields import fields, table
from analysis.contact.model import Fitted
from analysis.contact.settled import meshes, side_by_side
from analysis.contact.table import (
    COLUMNS,
    KINDS,
    Solved,
    figures,
    in_contact,
    modelled,
    rows,
    solve_line,
    solved,
)
from analysis.contracts.loads import LoadsFile
from analysis.elastic.status import Status
from analysis.pictures.contact import contact_picture
from analysis.tables.files import write_csv, write_json
from geometry.mesher import MeshRefused, MeshReport
from geometry.meshfile import read_mesh, write_vtu
from params.files.read import read_arm, read_material
from params.schema.arm import Arm
from params.schema.bores import BoreFit
from params.schema.material import Material
from params.steps.arguments import arguments
from params.steps.contract import read_of_cases
from params.steps.exit_codes import REFUSED
from params.steps.guard import one_line_errors


def main(folder: Path) -> int:
    arm, start = read_arm(folder / "arm.yaml"), time.perf_counter()
    material, fits = read_material(arm.material, arm.library), in_contact(arm)
    if not fits:
        print(
            f"{arm.name}: every bore in bores.fits has a bush or there is no fit: no contact to solve",
            file=sys.stderr,
        )
        return REFUSED
    wanted = read_of_cases(folder / "loads.json", LoadsFile, arm.load_cases)
    for name in arm.bores.fits if arm.bores else {}:
        if name not in fits:
            print(
                f"{name}: the bush is not modelled, so this bore is loaded by a half-cosine pressure",
                flush=True,
            )
    target, (coarse, finer) = folder / "bores", meshes(arm.mesh.per_quarter_bore)
    before = on_mesh(folder, arm, material, fits, wanted, coarse, target / "coarser")
    last = before and on_mesh(folder, arm, material, fits, wanted, finer, target)
    if before is None or last is None:
        return REFUSED
    (model, report, solutions), (old, old_report, old_solutions) = last, before
    own, other = (
        [row for one in runs for row in rows(of, one)]
        for of, runs in ((model, solutions), (old, old_solutions))
    )
    write_csv(target / "contact.csv", COLUMNS, side_by_side(own, other))
    table(target / "contact-field.csv", model, own, {one.kind: one for one in solutions})
    write_json(
        target / "contact.json",
        figures(solutions, report, folder)
        | {"coarser_unknowns": old_report.unknowns, "seconds": time.perf_counter() - start},
    )
    contact_picture(folder)
    return 0


def on_mesh(
    folder: Path,
    arm: Arm,
    material: Material,
    fits: dict[str, BoreFit],
    wanted: LoadsFile,
    per_quarter: int,
    place: Path,
) -> tuple[Fitted, MeshReport, list[Solved]] | None:
    """Model and solutions of every set of fits on one mesh, fields written to `place`; None where it stops, which is said."""
    try:
        model, report = modelled(folder, arm, material, fits, per_quarter, place)
    except MeshRefused as refusal:
        print(refusal, file=sys.stderr)
        return None
    solutions: list[Solved] = []
    for kind in KINDS:
        solutions.append(solved(model, arm, material, fits, kind, wanted))
        for run in (solutions[-1].touched, solutions[-1].alone):
            if run.status is not Status.OK:
                print(f"{kind}: {run.message}", file=sys.stderr)
                return None
        print(solve_line(solutions[-1]), flush=True)
        write_vtu(
            place / f"stress-{kind}.vtu", read_mesh(place / "contact.msh"), fields(model, solutions[-1]), {}
        )
    return model, report, solutions


if __name__ == "__main__":
    with one_line_errors():
        sys.exit(main(*arguments(__doc__, folder=Path)))
