"""Cracks: how long found ones last, what flaw a new arm may keep, when to look: `python -m analysis.fracture DIR`.

Reads arm.yaml, arm.msh, the stresses and bores/life.csv; writes cracks.csv, growth.csv, survival.csv, load-limit.csv and
inspection.csv to DIR/bores. Lives are for review by a licensed engineer; nothing here releases an arm to service.
"""

from __future__ import annotations

import sys
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import timedelta
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import NDArray

from analysis.elastic.mesh import Mesh
from analysis.elastic.sample import Sampler
from analysis.life import found as words
from analysis.life.bodies import Body
from analysis.life.charpy import counts, energies
from analysis.life.critical import critical_size
from analysis.life.driven import Driven, driven
from analysis.life.duty import Cycles
from analysis.life.embedded import ProfileEmbedded
from analysis.life.fad import Diagram
from analysis.life.flaws import Place, Steel, service_of
from analysis.life.growth import MOST_RATIO, End, Service, combined, swing, use
from analysis.life.growth_law import LAWS
from analysis.life.histories import histories, mesh_file
from analysis.life.inspection import Method, acceptable_flaw, interval
from analysis.life.load_limit import load_limits
from analysis.life.partial_factors import factored, partial_factors
from analysis.life.path import from_bore, from_surface
from analysis.life.remaining import Remaining, remaining_life
from analysis.life.residual import UNSAID, Case, cases
from analysis.life.survival import DAYS, Survival, survival
from analysis.life.toughness import KSI_ROOT_INCH, MPA_ROOT_M, fracture_energy
from analysis.life.variants import BY_HAND, CRACKED, REGIONS, THIS, Variant, variants
from analysis.life.year import year
from analysis.tables import read_csv, write_cautioned
from geometry.datums import centre
from geometry.meshfile import read_mesh
from params.arm import Arm
from params.bores import Region
from params.caution import CAUTION
from params.cracks import Cracks, CrackSection, Examination, FoundCrack, Inspection, Shape
from params.plainly import plainly
from params.problems import OutOfRange
from params.read import read_arm
from params.rules_cracks import bore_of
from params.units import inside, outside, shown_unit

Floats = NDArray[np.float64]
Rows = list[dict[str, Any]]
# Of cracks.csv (one), growth.csv, survival.csv and load-limit.csv.
Followed = tuple[dict[str, Any], Rows, Rows, Rows]
DISPROVED = "the duty's own cycles break this crack, yet the arm has carried them: size, residual stress, toughness or loads differ"
VOLUMETRIC = ("radiography", "ultrasonics")  # examinations that see inside the wall
FACTOR = 2.0  # on life, where the file has no inspection
HORIZON = 500.0  # years that a crack is followed
FLAW: dict[str, tuple[Shape, tuple[float, float]]] = {
    "bore": ("corner", (1.0, 1.0)),  # quarter circle at the rim
    "face": ("surface", (1.0, 2.5)),  # depth to half length 0.4: a flaw five times as long as deep
}
CRACK_COLUMNS = (
    "crack", "arm", "material", "region", "shape", "length", "depth", "length_unit", "angle_deg", "found", "residual",
    "residual_stress", "governs", "range", "highest", "stress_unit", "K_range", "ratio", "K_highest", "K_residual", "charpy",
    "charpy_counted", "energy_unit", "toughness", "toughness_unit", "Kr", "Lr", "Kr_factored", "Lr_factored", "holds_factored",
    "load_factor", "cycles", "years", "lasts_to", "end", "outage", "chance_at_outage", "beyond_range_at_outage", "note",
)  # fmt: skip
GROWTH_COLUMNS = ("crack", "residual", "governs", "years", "date", "size", "value", "unit")
SURVIVAL_COLUMNS = (
    "crack",
    "residual",
    "governs",
    "month",
    "date",
    "chance",
    "least",
    "most",
    "beyond_range",
)
LIMIT_COLUMNS = ("crack", "residual", "governs", "load_percent", "years", "factor_on_life", "until", "end")
LOOK_COLUMNS = (
    "region", "flaw", "arm", "material", "charpy", "charpy_counted", "energy_unit", "toughness", "toughness_unit",
    "fracture_energy", "fracture_energy_unit", "method", "found_depth", "found_length", "acceptable_depth", "acceptable_length",
    "critical_depth", "critical_length", "unit", "years_asked", "interval_years", "life_years", "end", "note",
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
        return driven(path, self.cycles, self.variant.residual or 0.0), float(turn)

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
        return driven(path, self.cycles, self.variant.residual or 0.0), path.wall


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


def steel_of(cracks: Cracks, variant: Variant, thickness: float) -> Steel:
    """What fracture asks of the variant's material in a wall of this thickness, mm."""
    material = variant.material
    said = cracks if variant.toughness is None else cracks.model_copy(update={"toughness": variant.toughness})
    diagram = Diagram(
        material.yield_strength, material.tensile_strength, material.elastic_modulus, cracks.yield_plateau
    )
    return Steel(diagram, words.toughness_of(said, material, thickness), LAWS[cracks.growth])


def found_place(held: Loads, crack: FoundCrack) -> tuple[Place, Driven, float | None]:
    """Body of a found crack, what drives it, and its angle about the bore in degrees."""
    wall = bore_of(crack.region, held.arm)
    if wall is not None and crack.region.endswith("_bore"):
        drive, angle = held.at_bore(crack.region, crack.angle, crack.shape in ("corner", "hole-through"))
    else:
        drive, angle = held.in_face(crack.region)[0], None
    body = words.found_body(crack, held.arm, drive.profile)
    return Place(body, (1.0,), drive.blocks, drive.highest, drive.residual), drive, angle


def follow(held: Loads, cracks: Cracks, crack: FoundCrack) -> list[Followed]:
    """Rows of cracks.csv (one), growth.csv, survival.csv and load-limit.csv of a found crack, for each residual stress."""
    place, drive, angle = found_place(held, crack)
    section = words.section_of(crack, held.arm)
    steel = steel_of(cracks, held.variant, section.thickness if section else 25.0)
    made = []
    for case in cases(held.variant.residual, held.variant.material.yield_strength):
        under = drive.under(case.stress)
        service = service_of(replace(place, residual=under.residual), steel)
        made.append(followed(held, cracks, crack, place.body, service, case, under, angle))
    return made


def followed(
    held: Loads, cracks: Cracks, crack: FoundCrack, body: Body, service: Service, case: Case, drive: Driven, angle: float | None,
) -> Followed:  # fmt: skip
    """The rows for one residual stress."""
    sizes = words.sizes_of(crack.shape, crack.length, crack.depth)
    lasts = remaining_life(body, sizes, service, crack.found, HORIZON)
    chances, told = None, []
    if cracks.scatter and cracks.outage:
        try:
            chances = survival(
                body, sizes, service, words.scatter_of(cracks.scatter), crack.found, cracks.outage
            )
        except OutOfRange as error:
            told.append(f"no chance of lasting: {error}")
    row = crack_row(held, cracks, crack, drive, angle, lasts, chances) | tough(
        held, cracks, service.toughness
    )
    row |= intensities(held, body, sizes, service) | with_factors(cracks, body, sizes, service, told)
    unit = shown_unit("stress", held.arm.units)
    row |= {
        "residual": case.name, "residual_stress": float(outside(case.stress, unit, "stress")),
        "governs": "yes" if case.governs else "no",
    }  # fmt: skip
    if service.blocks and use(body, sizes[:, None], service.carried)[2][0] >= 1.0:
        told.append(DISPROVED)
    row["note"] = "; ".join([row["note"], *notes(held, cracks, chances), *told])
    known = {"residual": case.name, "governs": row["governs"]}
    grown = [known | one for one in path_rows(held.arm, crack, body.names, lasts)]
    limits = [known | one for one in limit_rows(cracks, crack, body, service)]
    return row, grown, [known | one for one in chance_rows(crack, chances)], limits


def limit_rows(cracks: Cracks, crack: FoundCrack, body: Body, service: Service) -> Iterator[dict[str, Any]]:
    """Up to which share of its loads, and until when, the arm may run with the crack."""
    factor = cracks.inspection.factor_on_life if cracks.inspection else FACTOR
    sizes = words.sizes_of(crack.shape, crack.length, crack.depth)
    for one in load_limits(body, sizes, service, crack.found, factor, HORIZON):
        yield {
            "crack": crack.name, "load_percent": 100.0 * one.share, "years": one.years, "factor_on_life": factor,
            "until": one.until.isoformat() if one.until else "", "end": one.end,
        }  # fmt: skip


def notes(held: Loads, cracks: Cracks, chances: Survival | None) -> Iterator[str]:
    """What a reader of the row must know."""
    if held.variant.residual is None:
        yield UNSAID
    if told := counts(
        held.variant.toughness or cracks.toughness, held.variant.material, cracks.coldest, held.arm.units
    ):
        yield told
    if chances is None:
        return
    if chances.excluded > 0.0:
        share = f"{100.0 * chances.excluded:.3g} %"
        yield f"chance given that it lasted until found: {share} of the samples would not have carried the duty's loads"
    if chances.beyond[-1] > 0.0:
        yield f"{100.0 * chances.beyond[-1]:.3g} % of the samples beyond the range of the solution by the outage, in neither count"


def intensities(held: Loads, body: Body, sizes: Floats, service: Service) -> dict[str, Any]:
    """K at the crack as found, in the arm's units: of the cycle with the largest range, with R there, the highest, the residual."""
    units = held.arm.units
    k = body.influence(sizes[:, None])
    steady = np.broadcast_to(service.steady(k), (len(sizes), 1))[:, 0]
    swings = [[part[:, 0] for part in swing(service, block, k)] for block in service.blocks]
    ends = [(ranges.max(), ratios[np.argmax(ranges)]) for ranges, ratios in swings] or [(0.0, MOST_RATIO)]
    largest, at = max(ends, key=lambda one: one[0])
    highest = combined(service.highest, k).max()
    return {
        "K_range": shown_toughness(largest, units), "ratio": float(at), "K_highest": shown_toughness(highest, units),
        "K_residual": shown_toughness(steady.max(), units),
    }  # fmt: skip


def with_factors(
    cracks: Cracks, body: Body, sizes: Floats, service: Service, told: list[str]
) -> dict[str, Any]:
    """Kr and Lr with partial factors, and whether they hold; a reason in `told` where they cannot be had."""
    said = cracks.partial_factors
    if said is None:
        return {}
    try:
        factors = partial_factors(float(said.chance), said.stress, said.size, said.toughness)
        kr, lr, used = factored(body, sizes, service, factors)
    except OutOfRange as error:
        told.append(f"partial factors: {error}")
        return {}
    told.append(
        f"partial factors for {said.chance}: stress {factors.stress:g}, size {factors.size:g}, toughness {factors.toughness:g}, "
        f"yield {factors.yield_:g} (BS 7910 Annex K, from memory)"
    )
    return {"Kr_factored": kr, "Lr_factored": lr, "holds_factored": "yes" if used < 1.0 else "no"}


def shown_toughness(value: float, units: str) -> float:
    return float(value) / (MPA_ROOT_M if units == "si" else KSI_ROOT_INCH)


def tough(held: Loads, cracks: Cracks, value: float) -> dict[str, Any]:
    """Charpy energy and toughness in the arm's units."""
    units = held.arm.units
    energy, tough_unit = shown_unit("energy", units), "MPa m^0.5" if units == "si" else "ksi in^0.5"
    mean, counted = (
        float(outside(one, energy, "energy"))
        for one in energies(held.variant.toughness or cracks.toughness, cracks.coldest)
    )
    return {
        "charpy": mean, "charpy_counted": counted, "energy_unit": energy.replace("*", " "),
        "toughness": shown_toughness(value, units), "toughness_unit": tough_unit,
    }  # fmt: skip


def cracking_energy(held: Loads, value: float) -> dict[str, Any]:
    """Energy that a crack takes to extend, in the arm's units, of a toughness in N/mm^1.5."""
    steel, unit = held.variant.material, shown_unit("crack energy", held.arm.units)
    energy = float(fracture_energy(value, steel.elastic_modulus, steel.poisson_ratio))
    return {
        "fracture_energy": outside(energy, unit, "crack energy"),
        "fracture_energy_unit": unit.replace("*", " ").replace("^", ""),
    }


def crack_row(
    held: Loads, cracks: Cracks, crack: FoundCrack, drive: Driven, angle: float | None, lasts: Remaining, chances: Survival | None,
) -> dict[str, Any]:  # fmt: skip
    """The answer for one found crack."""
    length, stress = shown_unit("length", held.arm.units), shown_unit("stress", held.arm.units)
    return {
        "crack": crack.name, "arm": held.variant.name, "material": held.variant.material.name, "region": crack.region,
        "shape": crack.shape, "length": float(outside(crack.length, length, "length")),
        "depth": None if crack.depth is None else float(outside(crack.depth, length, "length")), "length_unit": length,
        "angle_deg": angle, "found": crack.found.isoformat(), "range": float(outside(drive.range, stress, "stress")),
        "highest": float(outside(drive.most, stress, "stress")), "stress_unit": stress,
        "Kr": lasts.kr, "Lr": lasts.lr, "load_factor": lasts.load_factor, "cycles": lasts.cycles, "years": lasts.years,
        "lasts_to": lasts.day.isoformat() if lasts.day else "", "end": lasts.end.value,
        "outage": cracks.outage.isoformat() if cracks.outage else "",
        "chance_at_outage": float(chances.chance[-1]) if chances else None,
        "beyond_range_at_outage": float(chances.beyond[-1]) if chances else None,
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
    for month, day, chance, least, most, beyond in zip(
        made.months, made.dates, made.chance, made.least, made.most, made.beyond, strict=True
    ):
        yield {
            "crack": crack.name, "month": int(month), "date": day.isoformat(), "chance": float(chance),
            "least": float(least), "most": float(most), "beyond_range": float(beyond),
        }  # fmt: skip


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
        yield region, shape, Place(body, form, drive.blocks, drive.highest, drive.residual), section.thickness


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
    """Acceptable flaw and inspection interval of every region by every method."""
    for region, shape, place, wall in new_places(held):
        service = service_of(place, steel_of(cracks, held.variant, wall))
        known = flaw_row(held, cracks, asked, place, service, 2.0 if shape == "surface" else 1.0)
        for said in asked.examinations:
            method = words.method_of(said, shape)
            yield noted(
                known
                | {"region": region, "flaw": shape}
                | look_row(held, asked, place, service, said, method)
            )
    yield from embedded_rows(held, cracks, asked)


def embedded_rows(held: Loads, cracks: Cracks, asked: Inspection) -> Iterator[dict[str, Any]]:
    """The same for flaws inside the wall, of the proportions of what each method that sees there finds."""
    for said in asked.examinations:
        half, long = said.depth / 2.0, said.length / 2.0
        for region in REGIONS:
            if said.method not in VOLUMETRIC or region not in held.worst:
                continue
            known = {"region": region, "flaw": "embedded"}
            try:
                places = list(inside_places(held, region, (1.0, long / half)))
                made = [
                    (place, service_of(place, steel_of(cracks, held.variant, wall))) for place, wall in places
                ]
                rows = [(flaw_row(held, cracks, asked, *one, 2.0, 2.0), *one) for one in made]
                row, place, service = worst_inside(rows)
                look = look_row(held, asked, place, service, said, Method(said.method, half, long))
                yield noted(row | known | look)
            except OutOfRange as error:
                yield known | {
                    "arm": held.variant.name, "material": held.variant.material.name, "method": said.method, "note": str(error),
                }  # fmt: skip


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


def noted(row: dict[str, Any]) -> dict[str, Any]:
    """The row with what was said of the flaw and of the look in one note."""
    parts = [row.pop(name) for name in ("note", "beyond", "look")]
    return row | {"note": "; ".join(filter(None, parts))}


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
        "acceptable_depth": deep * kept.sizes[0], "acceptable_length": long * kept.sizes[1],
        "critical_depth": deep * kept.critical[0], "critical_length": long * kept.critical[1],
    }  # fmt: skip
    told = (
        kept.note,
        counts(
            held.variant.toughness or cracks.toughness, held.variant.material, cracks.coldest, held.arm.units
        ),
        "" if held.variant.residual is not None else "residual stress not stated: none counted",
    )
    shown = {name: float(outside(float(value), unit, "length")) for name, value in sizes.items()}
    return tough(held, cracks, service.toughness) | cracking_energy(held, service.toughness) | shown | {
        "arm": held.variant.name, "material": held.variant.material.name, "unit": unit, "years_asked": kept.years,
        "note": "; ".join(filter(None, told)),
        "beyond": "larger flaws lie beyond the range of their solution" if limit is End.RANGE else "",
    }  # fmt: skip


def look_row(
    held: Loads, asked: Inspection, place: Place, service: Service, said: Examination, method: Method
) -> dict[str, Any]:
    """What one examination finds, and how often it must look."""
    unit = shown_unit("length", held.arm.units)
    look = interval(place.body, method, service, asked.factor_on_life)
    return {
        "method": said.method, "found_depth": float(outside(said.depth, unit, "length")),
        "found_length": float(outside(said.length, unit, "length")), "interval_years": look.years, "life_years": look.life,
        "end": look.end, "look": look.note,
    }  # fmt: skip


def main(folder: Path) -> int:
    arm = read_arm(folder / "arm.yaml")
    if arm.bores is None or arm.cracks is None:
        print(f"{folder / 'arm.yaml'}: needs the sections bores and cracks", file=sys.stderr)
        return 1
    cracks, mesh = arm.cracks, Mesh.of(read_mesh(mesh_file(folder)))
    cycles = year(arm, arm.bores)
    held = {v.name: loads(folder, arm, mesh, cycles, v) for v in variants(arm)}
    target, old = folder / "bores", held.get(CRACKED, held[THIS])
    made = []
    for index, crack in enumerate(arm.found_cracks):
        with words.of_crack(folder / "arm.yaml", index, crack):
            made += follow(old, cracks, crack)
    write_cautioned(target / "cracks.csv", CRACK_COLUMNS, [row for row, *_ in made])
    write_cautioned(target / "growth.csv", GROWTH_COLUMNS, [row for _, rows, *_ in made for row in rows])
    write_cautioned(
        target / "survival.csv", SURVIVAL_COLUMNS, [row for _, _, rows, _ in made for row in rows]
    )
    write_cautioned(target / "load-limit.csv", LIMIT_COLUMNS, [row for *_, rows in made for row in rows])
    looks = []
    if cracks.inspection:
        for variant in in_materials(held[THIS].variant, held.get(CRACKED)):
            looks += look_rows(replace(held[THIS], variant=variant), cracks, cracks.inspection)
    write_cautioned(target / "inspection.csv", LOOK_COLUMNS, looks)
    for row in (one for one, *_ in made if one["governs"] == "yes"):
        print(told(row))
    print(CAUTION)
    return 0


def told(row: dict[str, Any]) -> str:
    """A found crack in one line."""
    lasts = f"lasts {row['years']:.2g} years" if np.isfinite(row["years"]) else "does not come to an end"
    chance = row["chance_at_outage"]
    odds = "" if chance is None else f"; chance of lasting to {row['outage']} {100.0 * chance:.1f} %"
    return f"crack {row['crack']} ({row['material']}): {lasts}, {row['end']}{odds}"


if __name__ == "__main__":
    with plainly():
        sys.exit(main(Path(sys.argv[1])))
