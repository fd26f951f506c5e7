"""Fields of the contact on the arm: nodal displacement and stress by case, and pressure and gap over one bore for a picture."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any

import numpy as np

from analysis.contact.measures import seat
from analysis.contact.model import Fitted, FittedLoad
from analysis.contact.pairs import face_pressures
from analysis.elastic.invariants import von_mises
from analysis.elastic.recovery import stresses
from analysis.fatigue.cycles import field_at_least
from analysis.proof.cases import relative
from analysis.tables.columns import columns
from analysis.tables.files import write_csv
from params.steps.arrays import Floats

COLUMNS = columns("fits fit bore load_case angle_deg z_mm pressure_MPa gap_mm")


def tractions(model: Fitted, loads: Sequence[FittedLoad], pressure: Floats) -> list[dict[str, Floats]]:
    """Tractions (k, 6, 3) MPa on the arm's surfaces in each case: contact, and what acts beside it."""
    by_case = [
        {name: pull for name, pull in load.resultants.tractions.items() if name in model.arm.surfaces}
        for load in loads
    ]
    first = 0
    for name, pairs in model.pairs.items():
        part, surface = slice(first, first + len(pairs.outer)), f"{name}_bore"
        first = part.stop
        pushed = face_pressures(model.mesh, surface, pairs, pressure[:, part])
        away = model.arm.points[model.arm.surfaces[surface]].copy()
        away[..., :2] -= model.shapes[name].centre
        away[..., 2] = 0.0
        away /= np.linalg.norm(away, axis=2, keepdims=True)
        for c, case in enumerate(by_case):
            case[surface] = case.get(surface, 0.0) + pushed[c][..., None] * away
    return by_case


def fields(model: Fitted, solved: Any) -> dict[str, Floats]:
    """Nodal arrays of the arm by case under the names of stress.vtu: mm relative to the pivot bore, MPa; `solved` is a
    `contact.table.Solved`."""
    stress = stress_of(model, solved.loads, solved.displacement, solved.pressure)
    equivalent = von_mises(stress)
    nodal: dict[str, Floats] = {}
    for c, case in enumerate(solved.cases):
        nodal[f"displacement:{case}"] = relative(model.arm, solved.displacement[c, : len(model.arm.points)])
        nodal[f"stress:{case}"] = stress[c]
        nodal[f"equivalent_stress:{case}"] = equivalent[c]
    if solved.least:
        beside = solved.least_touched
        stress_at_least = stress_of(model, solved.least_loads, beside.displacement, beside.pressure)
        nodal |= {
            field_at_least(case): stress for case, stress in zip(solved.least, stress_at_least, strict=True)
        }
    return nodal


def stress_of(model: Fitted, loads: Sequence[FittedLoad], displacement: Floats, pressure: Floats) -> Floats:
    """Nodal stress (C, n, 6) of the arm."""
    own = np.ascontiguousarray(displacement[:, : len(model.arm.points)])
    return stresses(model.arm, model.law.laws[0], own, tractions(model, loads, pressure))


def table(path: Path, model: Fitted, rows: Sequence[Mapping[str, Any]], solutions: Mapping[str, Any]) -> None:
    """contact-field.csv: pressure and gap at the contact nodes of the first bore in its load case of the highest peak."""
    name = next(iter(model.pairs))
    own = [
        row
        for row in rows
        if row["bore"] == f"{name}_bore" and row["load_case"] in solutions["fit"].cases[:-1]
    ]
    case = max(own, key=lambda row: row["peak_pressure_MPa"])["load_case"]
    at = seat(model.mesh, name, model.shapes[name], model.pairs[name])
    count, field_rows = len(at.z), []
    for kind, solved in solutions.items():
        c = solved.cases.index(case)
        head = {"fits": kind, "fit": solved.named[name], "bore": f"{name}_bore", "load_case": case}
        for i in np.lexsort((at.z, at.angle)):
            field_rows.append(
                head
                | {
                    "angle_deg": float(np.rad2deg(at.angle[i])),
                    "z_mm": float(at.z[i]),
                    "pressure_MPa": float(solved.pressure[c, :count][i]),
                    "gap_mm": max(0.0, float(solved.gap[c, :count][i])),
                }
            )
    write_csv(path, COLUMNS, field_rows)
