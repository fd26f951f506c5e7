"""This arm in other materials: `python -m analysis.sweep.materials DIR` writes DIR/bores/materials.csv.

For every file in params/materials: margin of the sizes as written, mass of the lightest swept design that passes by hand, years
to a crack at the places that life.csv lists, and the flaw that the highest load breaks. Stresses are those of this arm's mesh:
all are steels of nearly one modulus. Reads arm.yaml, arm.msh, the stresses and bores/life.csv.
"""

from __future__ import annotations

import sys
from collections.abc import Callable, Sequence
from functools import partial
from pathlib import Path
from typing import Any

import numpy as np

from analysis.elastic.mesh import Mesh
from analysis.fatigue.curve_at import rule_of, surface_curve
from analysis.fatigue.cycles import year
from analysis.fatigue.damage import life
from analysis.fatigue.duty import Cycles
from analysis.fatigue.plane import search
from analysis.fatigue.stresses import mesh_file
from analysis.fatigue.variants import CAST, Variant, this_arm
from analysis.fracture.critical import critical_size
from analysis.fracture.flaws import Place, service_of
from analysis.fracture.inspection_table import new_place, regions_of
from analysis.fracture.loads import Loads, loads, steel_of, tough
from analysis.hand.evaluate import evaluate
from analysis.sweep.grid import designs
from analysis.sweep.grid import spans as spans_of
from analysis.sweep.screen_all import screen
from analysis.tables.files import read_csv, write_cautioned
from geometry.meshfile import read_mesh
from params.files.read import material_names, read_arm, read_material
from params.schema.arm import Arm
from params.schema.bores import Bores, Finish, Region
from params.schema.cracks import CharpyPoint, Cracks, Toughness
from params.schema.material import Material
from params.schema.units import inside, outside, shown_unit
from params.steps.arguments import arguments
from params.steps.guard import one_line_errors
from params.steps.out_of_range import STATUS, joined, or_reason

COLUMNS = (
    "material", "title", "form", "yield_strength", "tensile_strength", "stress_unit", "charpy", "energy_unit", "toughness",
    "toughness_unit", "margin", "governing", "lightest", "saved_percent", "mass_unit", "years", "life_margin", "weakest_region",
    "critical_at_pivot_bore", "critical_outside", "length_unit", "status", "note",
)  # fmt: skip
SKIN: dict[str, Finish] = {"cast": CAST, "plate": "hot-rolled", "deposited": "as-deposited"}
WIDER = 1.5
CRITICAL = {"pivot_bore": "critical_at_pivot_bore", "outside": "critical_outside"}
CUT = ("ground", "machined")


def toughness_for(arm: Arm, material: Material) -> tuple[Toughness | None, str]:
    """What is known of a material's Charpy energy at the arm's coldest temperature, and where it comes from."""
    cracks = arm.cracks
    if cracks is None:
        return None, "no section cracks"
    if material.name == arm.material:
        return cracks.toughness, ""
    if cracks.old_arm and material.name == cracks.old_arm.material:
        return cracks.old_arm.toughness, "Charpy of the old arm"
    charpy = material.charpy_for(cracks.coldest)
    if charpy is None:
        return None, "no Charpy energy specified at the coldest temperature"
    point = CharpyPoint.model_construct(temperature=charpy.temperature, energy=charpy.energy)
    said = Toughness.model_construct(
        charpy=(point,), held_when_warmer=True, method="lower bound", reference_temperature=None
    )
    return (
        said,
        "specified minimum Charpy" if charpy == material.charpy else "Charpy to be asked for at purchase",
    )


def variant_of(arm: Arm, material: Material, toughness: Toughness | None) -> Variant:
    """This arm in another material, with the skin that its making leaves."""
    this = this_arm(arm, material)
    skin: dict[Region, Finish] = {
        region: state if state in CUT else SKIN[material.form] for region, state in this.finish.items()
    }
    return Variant(this.name, material, this.sizes, skin, this.contact, toughness, this.residual)


def by_hand(arm: Arm, material: Material) -> dict[str, Any]:
    """Margin of the arm as written and mass of the lightest swept design that passes."""
    now = evaluate(arm, material)
    least = lightest(arm, material)
    if np.isnan(least):
        least = lightest(wider(arm), material)
    unit = shown_unit("mass", arm.units)
    return {
        "margin": float(now.margin[0]), "governing": str(now.governing[0]),
        "lightest": float(outside(least, unit, "mass")), "saved_percent": 100.0 * (1.0 - least / float(now.mass[0])),
        "mass_unit": unit,
    }  # fmt: skip


def lightest(arm: Arm, material: Material) -> float:
    """Mass in kg of the lightest design of the sweep that passes by hand; nan where none does."""
    swept = screen(arm, material, designs(arm))
    feasible = (swept.margin >= 0.0) & (swept.reason == "")
    return float(swept.mass[feasible].min()) if feasible.any() else np.nan


def wider(arm: Arm) -> Arm:
    """The arm with swept sizes up to `WIDER` times the largest of the file, so that weak materials find a design too."""
    spans = {
        name: span.model_copy(update={"most": WIDER * span.most}) for name, span in spans_of(arm).items()
    }
    return arm.model_copy(update={"sweep": arm.sweep.model_copy(update=spans)})


def lasting(
    arm: Arm, bores: Bores, held: Loads, variant: Variant, places: Sequence[dict[str, str]], cycles: Cycles
) -> dict[str, Any]:
    """Years to a crack in this material at the listed places, and where the shortest is."""
    at = [np.array([inside(float(row[k]), row["length_unit"], "length") for k in "xyz"]) for row in places]
    nodes = [int(np.argmin(((held.mesh.points - place) ** 2).sum(axis=1))) for place in at]
    made = [surface_curve(bores, variant, row["region"], False)[0] for row in places]  # type: ignore[arg-type]
    stress = np.ascontiguousarray(np.moveaxis(held.stress[nodes], 1, 0))
    rules = [rule_of(bores, variant)] * len(made)
    found = search(stress, cycles, made, rules, np.arange(len(made)), arm.duty.service_years)
    lives = life(found)
    worst = int(np.argmin(lives.margin))
    return {
        "years": float(lives.years[worst]), "life_margin": float(lives.margin[worst]),
        "weakest_region": places[worst]["region"],
    }  # fmt: skip


def critical(
    cracks: Cracks, held: Loads, places: dict[str, tuple[Place, float]], region: str, column: str
) -> dict[str, Any]:
    """Depth of the flaw that the highest load breaks in a region; the toughness there, and its bound as the note."""
    unit = shown_unit("length", held.arm.units)
    place, wall = places[region]
    steel = steel_of(cracks, held.variant, wall, held.arm.units)
    service = service_of(place, steel)
    least = critical_size(place.body, place.shape, service).sizes[0]
    found = {"length_unit": unit, column: float(outside(least, unit, "length")), "note": steel.bound}
    return found | (tough(held, cracks, service.toughness) if region == "pivot_bore" else {})


def row(
    arm: Arm, name: str, held: Loads, places: dict[str, tuple[Place, float]], listed: list[dict[str, str]]
) -> dict[str, Any]:
    """One material."""
    material = read_material(name, arm.library)
    said, source = toughness_for(arm, material)
    variant = variant_of(arm, material, said)
    stress = shown_unit("stress", arm.units)
    made = {
        "material": name, "title": material.title, "form": material.form, "stress_unit": stress, "note": source,
        "yield_strength": float(outside(material.yield_strength, stress, "stress")),
        "tensile_strength": float(outside(material.tensile_strength, stress, "stress")),
    }  # fmt: skip
    parts: list[Callable[[], dict[str, Any]]] = [partial(by_hand, arm, material)]
    if arm.bores:
        parts.append(partial(lasting, arm, arm.bores, held, variant, listed, held.cycles))
    if said is not None and arm.cracks is not None:
        own = Loads(held.arm, held.mesh, held.sampler, variant, held.stress, held.cycles, held.worst)
        parts += [
            partial(critical, arm.cracks, own, places, region, column)
            for region, column in CRITICAL.items()
            if region in places
        ]
    return together(arm, made, parts)


def together(arm: Arm, known: dict[str, Any], parts: list[Callable[[], dict[str, Any]]]) -> dict[str, Any]:
    """The row of all parts; a part that is out of range leaves its columns empty and its reason in the note."""
    made, notes = {}, []
    for part in parts:
        found, reason = or_reason(arm.units, part)
        made |= found or {}
        notes += [reason or (found or {}).get("note", "")]
    told = joined(*dict.fromkeys(notes))
    return known | made | {"status": STATUS if told else "ok", "note": joined(known["note"], told)}


def places_of(held: Loads) -> dict[str, tuple[Place, float]]:
    """Place and wall of each region in which a flaw can be followed; inspection.csv says why others cannot."""
    found = {
        region: or_reason(held.arm.units, partial(new_place, held, region))[0] for region in regions_of(held)
    }
    return {region: (made[1], made[2]) for region, made in found.items() if made is not None}


def main(folder: Path) -> int:
    arm = read_arm(folder / "arm.yaml")
    if arm.bores is None:
        print(f"{folder / 'arm.yaml'}: has no section bores", file=sys.stderr)
        return 1
    mesh = Mesh.of(read_mesh(mesh_file(folder)))
    this = this_arm(arm, read_material(arm.material, arm.library))
    held = loads(folder, arm, mesh, year(arm, arm.bores), this)
    places = places_of(held) if arm.cracks else {}
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
