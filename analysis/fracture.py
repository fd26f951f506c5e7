"""Cracks: how long found ones last, what flaw a new arm may keep, when to look: `python -m analysis.fracture DIR`.

Reads arm.yaml, arm.msh, the stresses and bores/life.csv; writes cracks.csv, growth.csv, survival.csv and inspection.csv to
DIR/bores. Lives are for review by a licensed engineer; nothing here releases an arm to service.
"""

from __future__ import annotations

import sys
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import timedelta
from functools import partial
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import NDArray

from analysis.elastic.mesh import Mesh
from analysis.elastic.sample import Sampler
from analysis.life import found as words
from analysis.life.critical import critical_size
from analysis.life.driven import Driven, driven
from analysis.life.duty import Cycles
from analysis.life.fad import Diagram
from analysis.life.flaws import Place, Steel, service_of
from analysis.life.growth import End, Service
from analysis.life.growth_law import LAWS
from analysis.life.histories import histories, mesh_file
from analysis.life.inspection import acceptable_flaw, interval
from analysis.life.path import from_bore, from_surface
from analysis.life.remaining import Remaining, remaining_life
from analysis.life.survival import DAYS, Survival, survival
from analysis.life.toughness import KSI_ROOT_INCH, MPA_ROOT_M, fracture_energy
from analysis.life.toughness_bound import toughness_or_bound
from analysis.life.variants import BY_HAND, CRACKED, REGIONS, THIS, Variant, variants
from analysis.life.year import year
from analysis.tables import read_csv, write_cautioned
from geometry.datums import centre
from geometry.meshfile import read_mesh
from params.arm import Arm
from params.bores import Region
from params.caution import CAUTION
from params.cracks import Cracks, CrackSection, Examination, FoundCrack, Inspection, Shape
from params.out_of_range import STATUS, joined, or_reason, out_of_range
from params.plainly import plainly
from params.read import read_arm
from params.rules_cracks import bore_of
from params.units import System, inside, outside, shown_unit

Floats = NDArray[np.float64]
HORIZON = 500.0  # years that a crack is followed
FLAW: dict[str, tuple[Shape, tuple[float, float]]] = {
    "bore": ("corner", (1.0, 1.0)),  # quarter circle at the rim
    "face": ("surface", (1.0, 2.5)),  # depth to half length 0.4: a flaw five times as long as deep
}
CRACK_COLUMNS = (
    "crack", "arm", "material", "region", "shape", "length", "depth", "length_unit", "angle_deg", "found", "range", "highest",
    "stress_unit", "ratio", "charpy", "energy_unit", "toughness", "toughness_unit", "Kr", "Lr", "load_factor", "cycles", "years",
    "lasts_to", "end", "outage", "chance_at_outage", "status", "note",
)  # fmt: skip
GROWTH_COLUMNS = ("crack", "years", "date", "size", "value", "unit")
SURVIVAL_COLUMNS = ("crack", "month", "date", "chance", "least", "most")
LOOK_COLUMNS = (
    "region", "arm", "material", "charpy", "energy_unit", "toughness", "toughness_unit", "fracture_energy", "fracture_energy_unit",
    "method", "found_depth", "found_length", "acceptable_depth", "acceptable_length", "critical_depth", "critical_length", "unit",
    "years_asked", "interval_years", "life_years", "end", "status", "note",
)  # fmt: skip


@dataclass(frozen=True)
class Loads:
    """One variant's stresses on its mesh, and the worst node of each region with the plane that fatigue found."""

    arm: Arm
    mesh: Mesh
    sampler: Sampler
    variant: Variant
    stress: Floats  # (n, S, 6), states as `year` numbers them
    cycles: Cycles
    worst: Mapping[str, Floats]  # region: place (3,)

    def at_bore(self, region: str, angle: float | None, edge: bool) -> tuple[Driven, float]:
        """What drives a crack at a bore, and its angle from the output arm in degrees."""
        name = region.split("_", maxsplit=1)[0]
        middle = centre(self.arm, name)
        place = self.worst[region].copy()
        if angle is not None:
            reach = np.hypot(*(place[:2] - middle))
            place[:2] = middle + reach * np.array([np.cos(angle), np.sin(angle)])
        path = from_bore(self.arm, self.sampler, self.stress, name, place, edge)
        turn = np.degrees(np.arctan2(*(place[:2] - middle)[::-1])) % 360.0
        return driven(path, self.cycles, self.variant.residual), float(turn)

    def in_face(self, region: Region) -> tuple[Driven, float]:
        """What drives a crack in a face, and the wall that it runs into, mm."""
        nodes = self.mesh.nodes(region)
        node = int(nodes[np.argmin(np.linalg.norm(self.mesh.points[nodes] - self.worst[region], axis=1))])
        low, high = self.cycles.ends(self.stress[node], tensor=True)
        change = (high - low)[int(np.argmax(np.abs(high - low).max(axis=1)))]
        xx, yy, zz, xy, yz, zx = change
        values, vectors = np.linalg.eigh(np.array([[xx, xy, zx], [xy, yy, yz], [zx, yz, zz]]))
        normal = vectors[:, int(np.argmax(np.abs(values)))]
        most = 1.5 * self.arm.geometry.pivot.outside
        path = from_surface(self.mesh, self.sampler, self.stress, region, node, normal, most)
        return driven(path, self.cycles, self.variant.residual), path.wall


def loads(folder: Path, arm: Arm, mesh: Mesh, cycles: Cycles, variant: Variant) -> Loads:
    """The variant's stresses, with the worst places of life.csv."""
    _, stress, _ = histories(folder, arm, variant)
    worst: dict[str, Floats] = {}
    for row in read_csv(folder / "bores" / "life.csv", 1):
        if row["arm"] == variant.name and BY_HAND not in row["note"]:
            place = np.array([inside(float(row[k]), row["length_unit"], "length") for k in "xyz"])
            worst.setdefault(row["region"], place)
    field = np.ascontiguousarray(np.moveaxis(stress, 0, 1))
    return Loads(arm, mesh, Sampler(mesh), variant, field, cycles, worst)


def steel_of(cracks: Cracks, variant: Variant, thickness: float, units: System) -> Steel:
    """What fracture asks of the variant's material in a wall of this thickness, mm; its bound is told in `units`."""
    material = variant.material
    said = cracks if variant.toughness is None else cracks.model_copy(update={"toughness": variant.toughness})
    diagram = Diagram(
        material.yield_strength, material.tensile_strength, material.elastic_modulus, cracks.yield_plateau
    )
    tough = toughness_or_bound(said, material, thickness, units)
    return Steel(diagram, tough.value, LAWS[cracks.growth], tough.note)


def charpy_at(variant: Variant, cracks: Cracks) -> float:
    """Charpy energy at the coldest temperature, J."""
    said = variant.toughness or cracks.toughness
    return float(
        np.interp(
            cracks.coldest, [p.temperature for p in said.charpy], [p.energy for p in said.charpy]
        )
    )  # fmt: skip


def found_service(
    held: Loads, cracks: Cracks, crack: FoundCrack
) -> tuple[Any, Service, Driven, float | None, str]:
    """Body and service of a found crack, what drives it, its angle about the bore in degrees, and the bound of its toughness."""
    wall = bore_of(crack.region, held.arm)
    if wall is not None and crack.region.endswith("_bore"):
        drive, angle = held.at_bore(crack.region, crack.angle, crack.shape in ("corner", "hole-through"))
    else:
        drive, angle = held.in_face(crack.region)[0], None
    section = words.section_of(crack, held.arm)
    steel = steel_of(cracks, held.variant, section.thickness if section else 25.0, held.arm.units)
    place = Place(
        words.found_body(crack, held.arm, drive.profile), (1.0,), drive.blocks, drive.peak, drive.residual
    )
    return place.body, service_of(place, steel), drive, angle, steel.bound


Followed = tuple[dict[str, Any], list[dict[str, Any]], list[dict[str, Any]]]


def follow(held: Loads, cracks: Cracks, crack: FoundCrack) -> Followed:
    """Rows of cracks.csv (one), growth.csv and survival.csv of a found crack.

    One that its solution does not hold for has a row without figures, that says why.
    """
    made, reason = or_reason(held.arm.units, lambda: judged(held, cracks, crack))
    return (out_of_range(head(held, cracks, crack), reason), [], []) if made is None else made


def judged(held: Loads, cracks: Cracks, crack: FoundCrack) -> Followed:
    """The same, refused where a value is out of its solution's range; the chance alone may be missing, with the reason."""
    body, service, drive, angle, bound = found_service(held, cracks, crack)
    sizes = words.sizes_of(crack.shape, crack.length, crack.depth)
    lasts = remaining_life(body, sizes, service, crack.found, HORIZON)
    chances, no_chance = None, ""
    if (scatter := cracks.scatter) and (outage := cracks.outage):
        chances, no_chance = or_reason(
            held.arm.units,
            lambda: survival(body, sizes, service, words.scatter_of(scatter), crack.found, outage),
        )
    row = (
        head(held, cracks, crack)
        | crack_row(held, cracks, drive, angle, lasts, chances)
        | tough(held, cracks, service.toughness)
    )
    if bound or no_chance:
        row |= {"status": STATUS, "note": joined(bound, no_chance, row["note"])}
    return row, list(path_rows(held.arm, crack, body.names, lasts)), list(chance_rows(crack, chances))


def tough(held: Loads, cracks: Cracks, value: float) -> dict[str, Any]:
    """Charpy energy and toughness in the arm's units."""
    units = held.arm.units
    energy, tough_unit = shown_unit("energy", units), "MPa m^0.5" if units == "si" else "ksi in^0.5"
    return {
        "charpy": float(outside(charpy_at(held.variant, cracks), energy, "energy")), "energy_unit": energy.replace("*", " "),
        "toughness": value / (MPA_ROOT_M if units == "si" else KSI_ROOT_INCH), "toughness_unit": tough_unit,
    }  # fmt: skip


def cracking_energy(held: Loads, value: float) -> dict[str, Any]:
    """Energy that a crack takes to extend, in the arm's units, of a toughness in N/mm^1.5."""
    steel, unit = held.variant.material, shown_unit("crack energy", held.arm.units)
    energy = float(fracture_energy(value, steel.elastic_modulus, steel.poisson_ratio))
    return {
        "fracture_energy": outside(energy, unit, "crack energy"),
        "fracture_energy_unit": unit.replace("*", " ").replace("^", ""),
    }


def head(held: Loads, cracks: Cracks, crack: FoundCrack) -> dict[str, Any]:
    """What the file says of a found crack."""
    length = shown_unit("length", held.arm.units)
    return {
        "crack": crack.name, "arm": held.variant.name, "material": held.variant.material.name, "region": crack.region,
        "shape": crack.shape, "length": float(outside(crack.length, length, "length")),
        "depth": None if crack.depth is None else float(outside(crack.depth, length, "length")), "length_unit": length,
        "found": crack.found.isoformat(), "outage": cracks.outage.isoformat() if cracks.outage else "",
    }  # fmt: skip


def crack_row(
    held: Loads, cracks: Cracks, drive: Driven, angle: float | None, lasts: Remaining, chances: Survival | None
) -> dict[str, Any]:  # fmt: skip
    """The answer for one found crack."""
    stress = shown_unit("stress", held.arm.units)
    return {
        "angle_deg": angle, "range": float(outside(drive.range, stress, "stress")), "status": "ok",
        "highest": float(outside(drive.most, stress, "stress")), "stress_unit": stress, "ratio": drive.ratio,
        "Kr": lasts.kr, "Lr": lasts.lr, "load_factor": lasts.load_factor, "cycles": lasts.cycles, "years": lasts.years,
        "lasts_to": lasts.day.isoformat() if lasts.day else "", "end": lasts.end.value,
        "chance_at_outage": float(chances.chance[-1]) if chances else None,
        "note": f"at the law's {cracks.growth} line, no factor on life; look again before half of it is gone",
    }  # fmt: skip


def path_rows(
    arm: Arm, crack: FoundCrack, names: tuple[str, ...], lasts: Remaining
) -> Iterator[dict[str, Any]]:
    """How a crack grows: sizes over the years."""
    unit = shown_unit("length", arm.units)
    for years, sizes in zip(lasts.growth.path_years, lasts.growth.path_sizes.T, strict=True):
        day = crack.found + timedelta(days=float(years) * DAYS) if years < 500.0 else None
        for name, size in zip(names, sizes, strict=True):
            shown = float(outside(float(size), unit, "length"))
            yield {
                "crack": crack.name, "years": float(years), "date": day.isoformat() if day else "", "size": name,
                "value": shown, "unit": unit,
            }  # fmt: skip


def chance_rows(crack: FoundCrack, made: Survival | None) -> Iterator[dict[str, Any]]:
    """The chance of lasting, month by month to the outage."""
    if made is None:
        return
    for month, day, chance, least, most in zip(
        made.months, made.dates, made.chance, made.least, made.most, strict=True
    ):
        yield {
            "crack": crack.name, "month": int(month), "date": day.isoformat(), "chance": float(chance),
            "least": float(least), "most": float(most),
        }  # fmt: skip


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


def width_of(arm: Arm, region: str) -> float:
    """Width of the face that a flaw lies in, mm: of the flange, or of the ring beside a bore."""
    hole = bore_of(region, arm)
    return arm.geometry.section.width if hole is None else (hole.outside - hole.bore) / 2.0


def in_materials(this: Variant, old: Loads | None) -> list[Variant]:
    """This arm, and this arm made of the old one's material: the same stresses, another toughness."""
    if old is None:
        return [this]
    cast = old.variant
    name = f"this arm in {cast.material.name}"
    return [this, replace(this, name=name, material=cast.material, toughness=cast.toughness)]


def look_rows(held: Loads, cracks: Cracks, asked: Inspection) -> Iterator[dict[str, Any]]:
    """Acceptable flaw and inspection interval of every region by every method; why there is none, where one is out of range."""
    units = held.arm.units
    for region in regions_of(held):
        made, reason = or_reason(units, partial(region_rows, held, cracks, asked, region))
        yield from made or [
            out_of_range(look_head(held, asked, region, said), reason) for said in asked.examinations
        ]


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


def main(folder: Path) -> int:
    arm = read_arm(folder / "arm.yaml")
    if arm.bores is None or arm.cracks is None:
        print(f"{folder / 'arm.yaml'}: needs the sections bores and cracks", file=sys.stderr)
        return 1
    cracks, mesh = arm.cracks, Mesh.of(read_mesh(mesh_file(folder)))
    cycles = year(arm, arm.bores)
    held = {v.name: loads(folder, arm, mesh, cycles, v) for v in variants(arm)}
    target, old = folder / "bores", held.get(CRACKED, held[THIS])
    made = [follow(old, cracks, crack) for crack in arm.found_cracks]
    write_cautioned(target / "cracks.csv", CRACK_COLUMNS, [row for row, _, _ in made])
    write_cautioned(target / "growth.csv", GROWTH_COLUMNS, [row for _, rows, _ in made for row in rows])
    write_cautioned(target / "survival.csv", SURVIVAL_COLUMNS, [row for _, _, rows in made for row in rows])
    looks = []
    if cracks.inspection:
        for variant in in_materials(held[THIS].variant, held.get(CRACKED)):
            looks += look_rows(replace(held[THIS], variant=variant), cracks, cracks.inspection)
    write_cautioned(target / "inspection.csv", LOOK_COLUMNS, looks)
    for row, _, _ in made:
        print(told(row))
    print(CAUTION)
    return 0


def told(row: dict[str, Any]) -> str:
    """A found crack in one line."""
    if "years" not in row:
        return f"crack {row['crack']} ({row['material']}): {row['status']}, {row['note']}"
    lasts = f"lasts {row['years']:.2g} years" if np.isfinite(row["years"]) else "does not come to an end"
    chance = row["chance_at_outage"]
    odds = "" if chance is None else f"; chance of lasting to {row['outage']} {100.0 * chance:.1f} %"
    return f"crack {row['crack']} ({row['material']}): {lasts}, {row['end']}{odds}"


if __name__ == "__main__":
    with plainly():
        sys.exit(main(Path(sys.argv[1])))
