"""This arm in other materials: `python -m analysis.sweep.materials DIR` writes DIR/bores/materials.csv.

For every file in params/materials: margin of the sizes as written, mass of the lightest swept design that passes by hand within
the limits and with the factors of the material's route, years to a crack at the places that life.csv lists, and the flaw at which
the highest load breaks it. Stresses are those of the arm: all are steels of nearly one modulus. Reads arm.yaml, arm.msh, the
stresses, bores/life.csv and the routes.
"""

from __future__ import annotations

import sys
from collections.abc import Callable, Sequence
from functools import partial
from pathlib import Path
from typing import Any

import numpy as np

from analysis.elastic.mesh import Mesh
from analysis.fatigue.curve_at import surface_law
from analysis.fatigue.cycles import year
from analysis.fatigue.damage import life
from analysis.fatigue.duty import Cycles
from analysis.fatigue.in_surface import seated
from analysis.fatigue.outside import ONE_MESH
from analysis.fatigue.plane import search
from analysis.fatigue.stresses import interference, mesh_file
from analysis.fatigue.variants import CAST, Variant, this_arm
from analysis.fracture.critical import critical_size
from analysis.fracture.flaws import Place, service_of
from analysis.fracture.inspection_table import new_place, regions_of
from analysis.fracture.loads import Loads, loads, loads_coarser, steel_of, tough
from analysis.fracture.settled import SIZES, Rule, both, steady
from analysis.fracture.toughness_data import toughness_data
from analysis.hand.evaluate import evaluate
from analysis.sweep.grid import spans as spans_of
from analysis.sweep.on_route import on_own_route, owned
from analysis.sweep.screen_all import feasible
from analysis.sweep.swept import swept
from analysis.tables.columns import columns
from analysis.tables.files import read_csv, write_cautioned
from geometry.meshfile import read_mesh
from params.files.read import material_names, read_arm, read_material
from params.schema.arm import Arm
from params.schema.bores import Bores, Finish, Region
from params.schema.cracks import Cracks, Toughness
from params.schema.material import Material
from params.schema.units import inside, outside, shown_unit
from params.steps.arguments import arguments
from params.steps.guard import one_line_errors
from params.steps.out_of_range import NOT_SETTLED, STATUS, joined, or_reason

COLUMNS = columns(
    "material title form yield_strength tensile_strength stress_unit charpy charpy_counted energy_unit toughness "
    "toughness_unit margin governing lightest saved_percent mass_unit years life_margin life_settled weakest_region "
    "critical_at_pivot_bore critical_outside length_unit status note critical_settled critical_at_pivot_bore_least "
    "critical_outside_least"
)
FINISH: dict[str, Finish] = {"cast": CAST, "plate": "hot-rolled", "deposited": "as-deposited"}
WIDER = 1.5
CRITICAL = {"pivot_bore": "critical_at_pivot_bore", "outside": "critical_outside"}
CUT = ("ground", "machined")
Places = dict[str, tuple[Place, float]]  # of a mesh, by region; walls in mm


def variant_of(arm: Arm, material: Material, toughness: Toughness | None) -> Variant:
    """This arm in another material, with the surface finish that its manufacture leaves."""
    this = this_arm(arm, material)
    finishes: dict[Region, Finish] = {
        region: finish if finish in CUT else FINISH[material.form] for region, finish in this.finish.items()
    }
    return Variant(this.name, material, this.sizes, finishes, this.contact, toughness, this.residual)


def by_hand(arm: Arm, material: Material) -> dict[str, Any]:
    """Margin of the arm as written and mass of the lightest swept design that passes."""
    now = evaluate(arm, material)
    least = lightest(arm, material)
    if np.isnan(least):
        least = lightest(wider(arm), material)
    unit = shown_unit("mass", arm.units)
    return {
        "margin": float(now.margin[0]),
        "governing": str(now.governing[0]),
        "lightest": float(outside(least, unit, "mass")),
        "saved_percent": 100.0 * (1.0 - least / float(now.mass[0])),
        "mass_unit": unit,
    }


def lightest(arm: Arm, material: Material) -> float:
    """Mass in kg of the lightest swept design that passes by hand, made by the material's route; nan where none does."""
    own = owned(arm).model_copy(update={"material": material.name, "route": None})
    adapted, route = on_own_route(own, material)
    _, judged = swept(adapted, material, route)
    good = feasible(arm, judged)
    return float(judged.mass[good].min()) if good.any() else np.nan


def wider(arm: Arm) -> Arm:
    """The arm with swept sizes up to `WIDER` times the largest of the file, so that a design passes in weak materials too."""
    spans = {
        name: span.model_copy(update={"most": WIDER * span.most}) for name, span in spans_of(arm).items()
    }
    return arm.model_copy(update={"sweep": arm.sweep.model_copy(update=spans)})


def fatigue_life(
    arm: Arm, bores: Bores, held: Loads, variant: Variant, places: Sequence[dict[str, str]], cycles: Cycles
) -> dict[str, Any]:
    """Years to a crack in this material at the listed places, and the place of the shortest; planes and laws are those of
    life.csv."""
    at = [np.array([inside(float(row[k]), row["length_unit"], "length") for k in "xyz"]) for row in places]
    nodes = [int(np.argmin(((held.mesh.points - place) ** 2).sum(axis=1))) for place in at]
    tight = [name for name, most in interference(arm, variant).items() if most > 0.0]
    laws = [surface_law(bores, variant, row["region"], tight) for row in places]  # type: ignore[arg-type]
    counted = seated(np.moveaxis(held.stress, 1, 0), arm, held.mesh)[:, nodes]
    curves, rules = [law.curve for law in laws], [law.rule for law in laws]
    searched = search(counted, cycles, curves, rules, np.arange(len(laws)), arm.duty.service_years)
    lives = life(searched)
    worst = int(np.argmin(lives.margin))
    place = places[worst]
    return {  # what has not settled in the arm's own steel is no figure in another
        "years": "" if f"years {NOT_SETTLED}" in place["note"] else float(lives.years[worst]),
        "life_margin": "" if place["status"] == NOT_SETTLED else float(lives.margin[worst]),
        "life_settled": place.get("settled", ""),
        "weakest_region": place["region"],
    }


def critical(
    cracks: Cracks, held: Loads, places: Sequence[Places], region: str, column: str
) -> dict[str, Any]:
    """Depth of the flaw at which the highest load breaks a region, the toughness there, and a note where it is a bound or has
    not settled between the meshes: `places` of the finer, and of the coarser where there is one."""
    unit = shown_unit("length", held.arm.units)
    depths = []
    for known in places:
        place, wall = known[region]
        material = steel_of(cracks, held.variant, wall, held.arm.units)
        service = service_of(place, material)
        least = critical_size(place.body, place.shape, service).sizes[0]
        depths.append(float(outside(least, unit, "length")))
    rule, said = Rule(SIZES, unit), [material.bound]
    result = {
        "length_unit": unit,
        column: depths[0],
        f"{column}_least": min(depths),
        "critical_settled": ONE_MESH,
    }
    if len(depths) > 1:
        holds = steady(depths[::-1], rule)
        result["critical_settled"] = "yes" if holds else "no"
        if not holds:
            result[column] = ""
            said.append(f"{column.replace('_', ' ')} {NOT_SETTLED}: {both(depths[::-1], rule, unit)}")
    result["note"] = joined(*said)
    return result | (tough(held, cracks, service.toughness) if region == "pivot_bore" else {})


def row(
    arm: Arm, name: str, held: Loads, places: Sequence[Places], listed: list[dict[str, str]]
) -> dict[str, Any]:
    """One material."""
    material = read_material(name, arm.library)
    said, source = toughness_data(arm, material)
    variant = variant_of(arm, material, said)
    stress = shown_unit("stress", arm.units)
    head = {
        "material": name,
        "title": material.title,
        "form": material.form,
        "stress_unit": stress,
        "note": source,
        "yield_strength": float(outside(material.yield_strength, stress, "stress")),
        "tensile_strength": float(outside(material.tensile_strength, stress, "stress")),
    }
    parts: list[Callable[[], dict[str, Any]]] = [partial(by_hand, arm, material)]
    if arm.bores:
        parts.append(partial(fatigue_life, arm, arm.bores, held, variant, listed, held.cycles))
    if said is not None and arm.cracks is not None:
        own = Loads(held.arm, held.mesh, held.sampler, variant, held.stress, held.cycles, held.worst)
        parts += [
            partial(critical, arm.cracks, own, places, region, column)
            for region, column in CRITICAL.items()
            if all(region in known for known in places)
        ]
    return together(arm, head, parts)


def together(arm: Arm, known: dict[str, Any], parts: list[Callable[[], dict[str, Any]]]) -> dict[str, Any]:
    """The row put together; a part that is out of range leaves its columns empty and adds its reason to the note."""
    values, notes, settled = {}, [], []
    for part in parts:
        result, reason = or_reason(arm.units, part)
        values |= result or {}
        settled += [(result or {}).get("critical_settled", "")]
        notes += [reason or (result or {}).get("note", "")]
    note = joined(*dict.fromkeys(notes))
    if any(settled):
        values["critical_settled"] = next(word for word in ("no", ONE_MESH, "yes") if word in settled)
    limited = any(one and NOT_SETTLED not in one for one in notes)
    status = STATUS if limited else NOT_SETTLED if note else "ok"
    return known | values | {"status": status, "note": joined(known["note"], note)}


def places_of(held: Loads) -> Places:
    """Place and wall of each region in which a flaw can be followed; inspection.csv says why not in the others."""
    places = {
        region: or_reason(held.arm.units, partial(new_place, held, region))[0] for region in regions_of(held)
    }
    return {region: (place[1], place[2]) for region, place in places.items() if place is not None}


def main(folder: Path) -> int:
    arm = read_arm(folder / "arm.yaml")
    if arm.bores is None:
        print(f"{folder / 'arm.yaml'}: section bores is missing; materials.csv needs it", file=sys.stderr)
        return 1
    mesh = Mesh.of(read_mesh(mesh_file(folder)))
    this = this_arm(arm, read_material(arm.material, arm.library))
    held = loads(folder, arm, mesh, year(arm, arm.bores), this)
    coarser = loads_coarser(folder, arm, held.cycles, [this]).values() if arm.cracks else ()
    places = [places_of(one) for one in (held, *coarser)] if arm.cracks else [{}]
    listed = [
        row
        for row in read_csv(folder / "bores" / "life.csv", 1)
        if row["arm"] == this.name and not row["surface"].startswith("weld")
    ]
    table = [row(arm, name, held, places, listed) for name in material_names(arm.library)]
    write_cautioned(folder / "bores" / "materials.csv", COLUMNS, table)
    return 0


if __name__ == "__main__":
    with one_line_errors():
        sys.exit(main(*arguments(__doc__, folder=Path)))
