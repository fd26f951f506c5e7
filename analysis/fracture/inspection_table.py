"""Rows on inspection: flaws that a new arm may keep, and when to look."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from functools import partial
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
from params.schema.bores import Region
from params.schema.cracks import Cracks, CrackSection, Examination, Inspection, Shape
from params.schema.units import outside, shown_unit
from params.steps.out_of_range import STATUS, joined, or_reason, out_of_range

FLAW: dict[str, tuple[Shape, tuple[float, float]]] = {
    "bore": ("corner", (1.0, 1.0)),  # quarter circle at the rim
    "face": ("surface", (1.0, 2.5)),  # depth to half length 0.4: a flaw five times as long as deep
}
LOOK_COLUMNS = (
    "region", "arm", "material", "charpy", "energy_unit", "toughness", "toughness_unit", "fracture_energy", "fracture_energy_unit",
    "method", "found_depth", "found_length", "acceptable_depth", "acceptable_length", "critical_depth", "critical_length", "unit",
    "years_asked", "interval_years", "life_years", "end", "status", "note",
)  # fmt: skip


def cracking_energy(held: Loads, value: float) -> dict[str, Any]:
    """Energy that a crack takes to extend, in the arm's units, of a toughness in N/mm^1.5."""
    steel, unit = held.variant.material, shown_unit("crack energy", held.arm.units)
    energy = float(fracture_energy(value, steel.elastic_modulus, steel.poisson_ratio))
    return {
        "fracture_energy": outside(energy, unit, "crack energy"),
        "fracture_energy_unit": unit.replace("*", " ").replace("^", ""),
    }


def regions_of(held: Loads) -> list[Region]:
    """The regions of a new arm that have a worst place."""
    return [region for region in REGIONS if region in held.worst]


def new_place(held: Loads, region: Region) -> tuple[Shape, Place, float]:
    """Shape of flaw, place and wall in mm of a region of a new arm; refused where its path leaves the metal."""
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
    return shape, Place(body, form, drive.blocks, drive.peak, drive.residual), section.thickness


def in_materials(this: Variant, old: Loads | None) -> list[Variant]:
    """This arm, and this arm made of the old one's material: the same stresses, another toughness."""
    if old is None:
        return [this]
    cast = old.variant
    name = f"this arm in {cast.material.name}"
    return [this, replace(this, name=name, material=cast.material, toughness=cast.toughness)]


def look_head(held: Loads, asked: Inspection, region: Region, said: Examination) -> dict[str, Any]:
    """What the file says of a region's examination."""
    unit = shown_unit("length", held.arm.units)
    return {
        "region": region, "arm": held.variant.name, "material": held.variant.material.name, "method": said.method,
        "found_depth": float(outside(said.depth, unit, "length")), "found_length": float(outside(said.length, unit, "length")),
        "unit": unit, "years_asked": asked.service_years * asked.factor_on_life,
    }  # fmt: skip


def region_rows(held: Loads, cracks: Cracks, asked: Inspection, region: Region) -> list[dict[str, Any]]:
    """The rows of one region, refused where a value is out of its solution's range."""
    unit = shown_unit("length", held.arm.units)
    shape, place, wall = new_place(held, region)
    steel = steel_of(cracks, held.variant, wall, held.arm.units)
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
    known |= {name: float(outside(float(v), unit, "length")) for name, v in sizes.items()}
    rows = []
    for said in asked.examinations:
        look = interval(place.body, words.method_of(said, shape), service, asked.factor_on_life)
        rows.append(
            look_head(held, asked, region, said)
            | known
            | {
                "years_asked": kept.years, "interval_years": look.years, "life_years": look.life, "end": look.end,
                "status": STATUS if steel.bound else "ok", "note": joined(steel.bound, kept.note, beyond, look.note),
            }
        )  # fmt: skip
    return rows


def look_rows(held: Loads, cracks: Cracks, asked: Inspection) -> Iterator[dict[str, Any]]:
    """Acceptable flaw and inspection interval of every region by every method; why there is none, where one is out of range."""
    units = held.arm.units
    for region in regions_of(held):
        made, reason = or_reason(units, partial(region_rows, held, cracks, asked, region))
        yield from made or [
            out_of_range(look_head(held, asked, region, said), reason) for said in asked.examinations
        ]
