"""Pins in their bores by contact: `python -m analysis.contact DIR` writes contact.csv, fields and a picture to DIR/bores.

Reads arm.yaml, arm.brep, faces.json and loads.json of DIR. The arm is meshed once more, with its pins, and solved for every load
case with the arm's fits and with those that the file sets beside them, each at its mean size at room temperature; and for
the fits alone, without load (the case `fitted`). contact.msh is the arm's part of that mesh, and stress-fit.vtu and
stress-compare.vtu hold its fields under the names of stress.vtu. Where no second fit is named the two are the same. Cases at
their least (`least` of loads.json) are solved along and leave their stress in these files, nothing else.
"""

from __future__ import annotations

import sys
import time
from pathlib import Path

from analysis.contact.fields import fields, table
from analysis.contact.table import COLUMNS, KINDS, Solved, figures, in_contact, modelled, rows, solved, told
from analysis.elastic.status import Status
from analysis.pictures.contact import contact_picture
from analysis.tables.files import write_csv, write_json
from geometry.mesher import MeshRefused
from geometry.meshfile import read_mesh, write_vtu
from params.files.read import read_arm, read_material
from params.steps.arguments import arguments
from params.steps.guard import one_line_errors
from params.steps.results import read_cases


def main(folder: Path) -> int:
    arm, start = read_arm(folder / "arm.yaml"), time.perf_counter()
    material, fits = read_material(arm.material, arm.library), in_contact(arm)
    if not fits:
        print(f"{arm.name}: bores.fits names no fit without a bush: no contact to solve", file=sys.stderr)
        return 3
    wanted = read_cases(folder / "loads.json", arm.load_cases)
    try:
        model, report = modelled(folder, arm, material, fits)
    except MeshRefused as refusal:
        print(refusal, file=sys.stderr)
        return 3
    for name in arm.bores.fits if arm.bores else {}:
        if name not in fits:
            print(f"{name}: has a bush, which is not modelled: loaded by a half-cosine pressure", flush=True)
    made: list[Solved] = []
    for kind in KINDS:
        made.append(solved(model, arm, material, fits, kind, wanted))
        for run in (made[-1].touched, made[-1].alone):
            if run.status is not Status.OK:
                print(f"{kind}: {run.told}", file=sys.stderr)
                return 3
        print(told(made[-1]), flush=True)
        write_vtu(
            folder / "bores" / f"stress-{kind}.vtu",
            read_mesh(folder / "bores" / "contact.msh"),
            fields(model, made[-1]),
            {},
        )
    found = [row for one in made for row in rows(model, one)]
    write_csv(folder / "bores" / "contact.csv", COLUMNS, found)
    table(folder / "bores" / "contact-field.csv", model, found, {one.kind: one for one in made})
    write_json(
        folder / "bores" / "contact.json",
        figures(made, report, folder) | {"seconds": time.perf_counter() - start},
    )
    contact_picture(folder)
    return 0


if __name__ == "__main__":
    with one_line_errors():
        sys.exit(main(*arguments(__doc__, folder=Path)))
