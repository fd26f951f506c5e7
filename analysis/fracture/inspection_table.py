"""Rows on inspection: flaws that a new arm may keep, and when to look."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import Any

from analysis.fatigue.variants import REGIONS, Variant
from analysis.fracture import found as words
from analysis.fracture.critical import critical_size
from analysis.fracture.flaws import Place, service_of
from analysis.fracture.growth import End
from analysis.fracture.inspection import acceptable_flaw, interval
from analysis.fracture.loads import Loads, steel_of, tough, width_of
from analysis.fracture.toughness import fracture_energy
from params.rules.cracks import bore_of
from params.schema.cracks import Cracks, CrackSection, Inspection, Shape
from params.schema.units import outside, shown_unit

FLAW: dict[str, tuple[Shape, tuple[float, float]]] = {
    "bore": ("corner", (1.0, 1.0)),  # quarter circle at the rim
    "face": ("surface", (1.0, 2.5)),  # depth to half length 0.4: a flaw five times as long as deep
}
LOOK_COLUMNS = (
    "region", "arm", "material", "charpy", "energy_unit", "toughness", "toughness_unit", "fracture_energy", "fracture_energy_unit",
    "method", "found_depth", "found_length", "acceptable_depth", "acceptable_length", "critical_depth", "critical_length", "unit",
    "years_asked", "interval_years", "life_years", "end", "note",
)  # fmt: skip


def cracking_energy(held: Loads, value: float) -> dict[str, Any]:
    """Energy that a crack takes to extend, in the arm's units, of a toughness in N/mm^1.5."""
    steel, unit = held.variant.material, shown_unit("crack energy", held.arm.units)
    energy = float(fracture_energy(value, steel.elastic_modulus, steel.poisson_ratio))
    return {
        "fracture_energy": outside(energy, unit, "crack energy"),
        "fracture_energy_unit": unit.replace("*", " ").replace("^", ""),
    }


def new_places(held: Loads) -> Iterator[tuple[str, Shape, Place, float]]:
    """Region, shape of flaw, place and wall in mm for every region of a new arm."""
    for region in REGIONS:
        if region not in held.worst:
            continue
        if region.endswith("_bore"):
            drive, _ = held.at_bore(region, None, edge=True)
            hole = bore_of(region, held.arm)
            assert hole is not None  # every region that ends so has one
            section = CrackSection.model_construct(thickness=hole.width, width=hole.outside)
            shape, form, radius = *FLAW["bore"], hole.bore / 2.0
        else:
            drive, wall = held.in_face(region)
            section, radius = (
                CrackSection.model_construct(thickness=wall, width=width_of(held.arm, region)),
                0.0,
            )
            shape, form = FLAW["face"]
        body = words.body_of(shape, section, radius, drive.profile)
        yield region, shape, Place(body, form, drive.blocks, drive.peak, drive.residual), section.thickness


def in_materials(this: Variant, old: Loads | None) -> list[Variant]:
    """This arm, and this arm made of the old one's material: the same stresses, another toughness."""
    if old is None:
        return [this]
    cast = old.variant
    name = f"this arm in {cast.material.name}"
    return [this, replace(this, name=name, material=cast.material, toughness=cast.toughness)]


def look_rows(held: Loads, cracks: Cracks, asked: Inspection) -> Iterator[dict[str, Any]]:
    """Acceptable flaw and inspection interval of every region by every method."""
    material, unit = held.variant.material, shown_unit("length", held.arm.units)
    for region, shape, place, wall in new_places(held):
        steel = steel_of(cracks, held.variant, wall)
        service = service_of(place, steel)
        limit = critical_size(place.body, place.shape, service).cause
        beyond = "larger flaws lie beyond the range of their solution" if limit is End.RANGE else ""
        kept = acceptable_flaw(place.body, place.shape, service, asked.service_years, asked.factor_on_life)
        twice = 2.0 if shape == "surface" else 1.0  # the body counts half the length of a surface crack
        sizes = {
            "acceptable_depth": kept.sizes[0], "acceptable_length": twice * kept.sizes[1],
            "critical_depth": kept.critical[0], "critical_length": twice * kept.critical[1],
        }  # fmt: skip
        known = tough(held, cracks, service.toughness) | cracking_energy(held, service.toughness)
        for said in asked.examinations:
            look = interval(place.body, words.method_of(said, shape), service, asked.factor_on_life)
            shown = sizes | {"found_depth": said.depth, "found_length": said.length}
            yield known | {
                "region": region, "arm": held.variant.name, "material": material.name, "method": said.method,
                **{name: float(outside(float(v), unit, "length")) for name, v in shown.items()}, "unit": unit,
                "years_asked": kept.years, "interval_years": look.years, "life_years": look.life, "end": look.end,
                "note": "; ".join(filter(None, (kept.note, beyond, look.note))),
            }  # fmt: skip
