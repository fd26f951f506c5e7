"""Rows on inspection: flaws that a new arm may keep, and when to look."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from functools import partial
from typing import Any

from analysis.fatigue.variants import REGIONS, Variant
from analysis.fracture import found as words
from analysis.fracture.charpy import counts
from analysis.fracture.critical import critical_size
from analysis.fracture.embedded import ProfileEmbedded
from analysis.fracture.flaws import Place, service_of
from analysis.fracture.growth import End, Service
from analysis.fracture.inspection import Method, acceptable_flaw, interval
from analysis.fracture.loads import Loads, sizes_at, steel_of, tough, width_of
from analysis.fracture.settled import LOOK, beside, columns, least_bands, value
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
VOLUMETRIC = ("radiography", "ultrasonics")  # examinations that see inside the wall
LOOK_COLUMNS = (
    "region",
    "flaw",
    "arm",
    "material",
    "charpy",
    "charpy_counted",
    "energy_unit",
    "toughness",
    "toughness_unit",
    "fracture_energy",
    "fracture_energy_unit",
    "method",
    "found_depth",
    "found_length",
    "acceptable_depth",
    "acceptable_length",
    "critical_depth",
    "critical_length",
    "unit",
    "years_asked",
    "interval_years",
    "life_years",
    "end",
    "status",
    "note",
    *columns(LOOK),
    "acceptable_length_least",
)


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
    return shape, Place(body, form, drive.blocks, drive.highest, drive.residual), section.thickness


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
        "region": region,
        "arm": held.variant.name,
        "material": held.variant.material.name,
        "method": said.method,
        "found_depth": float(outside(said.depth, unit, "length")),
        "found_length": float(outside(said.length, unit, "length")),
        "unit": unit,
        "years_asked": asked.service_years * asked.factor_on_life,
    }


def region_rows(held: Loads, cracks: Cracks, asked: Inspection, region: Region) -> list[dict[str, Any]]:
    """The rows of flaws in a region's surface, refused where a value is out of its solution's range."""
    shape, place, wall = new_place(held, region)
    steel = steel_of(cracks, held.variant, wall, held.arm.units)
    service = service_of(place, steel)
    known = flaw_row(held, cracks, asked, place, service, 2.0 if shape == "surface" else 1.0)
    return [
        noted(
            look_head(held, asked, region, said)
            | {"flaw": shape}
            | known
            | look_row(asked, place, service, words.method_of(said, shape)),
            steel.bound,
        )
        for said in asked.examinations
    ]


def look_rows(held: Loads, cracks: Cracks, asked: Inspection) -> Iterator[dict[str, Any]]:
    """Acceptable flaw and inspection interval of every region by every method; why there is none, where one is out of range."""
    units = held.arm.units
    for region in regions_of(held):
        rows, reason = or_reason(units, partial(region_rows, held, cracks, asked, region))
        yield from rows or [
            out_of_range(look_head(held, asked, region, said), reason) for said in asked.examinations
        ]
    for said in asked.examinations:
        if said.method in VOLUMETRIC:
            for region in regions_of(held):
                row, reason = or_reason(units, partial(embedded_row, held, cracks, asked, region, said))
                inside = look_head(held, asked, region, said) | {"flaw": "embedded"}
                yield out_of_range(inside, reason) if row is None else row


def look_rows_settled(
    held: Loads, before: Loads | None, cracks: Cracks, asked: Inspection
) -> Iterator[dict[str, Any]]:
    """The rows of `look_rows` with those of a coarser mesh beside them."""
    own = list(look_rows(held, cracks, asked))
    others = list(look_rows(before, cracks, asked)) if before else [None] * len(own)
    sizes = {region: sizes_at(held, before, region) for region in regions_of(held)}
    for row, other in zip(own, others, strict=True):
        least = least_bands(held.bands.get(row["region"], 0.0))
        if row.get("interval_years") == (other or {}).get("interval_years"):
            least.pop("interval_years")  # the longest that is asked, or none at all
        told = beside(row, other, LOOK, sizes[row["region"]], least)
        lengths = [value(one.get("acceptable_length")) for one in (other or row, row)]
        yield told | {"acceptable_length_least": min((x for x in lengths if x is not None), default=None)}


def embedded_row(
    held: Loads, cracks: Cracks, asked: Inspection, region: Region, said: Examination
) -> dict[str, Any]:
    """The same for a flaw inside the wall, of the proportions of what a method that sees there finds."""
    half, long = said.depth / 2.0, said.length / 2.0
    rows = []
    for place, wall in inside_places(held, region, (1.0, long / half)):
        steel = steel_of(cracks, held.variant, wall, held.arm.units)
        service = service_of(place, steel)
        rows.append(
            (flaw_row(held, cracks, asked, place, service, 2.0, 2.0) | {"bound": steel.bound}, place, service)
        )
    row, place, service = worst_inside(rows)
    look = look_row(asked, place, service, Method(said.method, half, long))
    bound = row.pop("bound")
    return noted(look_head(held, asked, region, said) | {"flaw": "embedded"} | row | look, bound)


def inside_places(held: Loads, region: Region, shape: tuple[float, float]) -> Iterator[tuple[Place, float]]:
    """Flaws with their middle at an eighth, a quarter and a half of the wall, and the wall in mm."""
    hole = bore_of(region, held.arm) if region.endswith("_bore") else None
    if hole is None:
        drive, wall = held.in_face(region)
        width = width_of(held.arm, region)
    else:
        drive, _ = held.at_bore(region, None, edge=False)
        wall, width = (hole.outside - hole.bore) / 2.0, hole.width
    for share in (0.125, 0.25, 0.5):
        body = ProfileEmbedded(drive.profile, share * wall, wall, width)
        yield Place(body, shape, drive.blocks, drive.highest, drive.residual), wall


def worst_inside(rows: list[tuple[dict[str, Any], Place, Service]]) -> tuple[dict[str, Any], Place, Service]:
    """The least acceptable flaw of those that loads limit; where only the solution's range does, the largest it takes."""
    limited = [one for one in rows if not one[0]["beyond"]]
    ranked = sorted(limited or rows, key=lambda one: one[0]["acceptable_depth"])
    return ranked[0 if limited else -1]


def noted(row: dict[str, Any], bound: str) -> dict[str, Any]:
    """The row with what is to be said of toughness, flaw and look in one note."""
    parts = [row.pop(name) for name in ("note", "beyond", "look")]
    return row | {"status": STATUS if bound else "ok", "note": joined(bound, *parts)}


def flaw_row(
    held: Loads,
    cracks: Cracks,
    asked: Inspection,
    place: Place,
    service: Service,
    long: float,
    deep: float = 1.0,
) -> dict[str, Any]:
    """Acceptable and critical flaw of a place; `long` and `deep` are 2 where the body counts half of a size."""
    unit = shown_unit("length", held.arm.units)
    limit = critical_size(place.body, place.shape, service).cause
    kept = acceptable_flaw(place.body, place.shape, service, asked.service_years, asked.factor_on_life)
    sizes = {
        "acceptable_depth": deep * kept.sizes[0],
        "acceptable_length": long * kept.sizes[1],
        "critical_depth": deep * kept.critical[0],
        "critical_length": long * kept.critical[1],
    }
    remarks = (
        kept.note,
        counts(
            held.variant.toughness or cracks.toughness, held.variant.material, cracks.coldest, held.arm.units
        ),
        "" if held.variant.residual is not None else "residual stress not stated: none counted",
    )
    shown = {name: float(outside(float(value), unit, "length")) for name, value in sizes.items()}
    return (
        tough(held, cracks, service.toughness)
        | cracking_energy(held, service.toughness)
        | shown
        | {
            "unit": unit,
            "years_asked": kept.years,
            "note": joined(*remarks),
            "beyond": "larger flaws lie beyond the range of their solution" if limit is End.RANGE else "",
        }
    )


def look_row(asked: Inspection, place: Place, service: Service, method: Method) -> dict[str, Any]:
    """How often one examination must look."""
    look = interval(place.body, method, service, asked.factor_on_life)
    return {"interval_years": look.years, "life_years": look.life, "end": look.end, "look": look.note}
