"""What drives a crack in one arm of one material: stresses, load cycles, toughness."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import NDArray

from analysis.elastic.mesh import Mesh
from analysis.elastic.richardson import size_at
from analysis.elastic.sample import Sampler
from analysis.fatigue.duty import Cycles
from analysis.fatigue.stresses import histories
from analysis.fatigue.variants import BY_HAND, Variant
from analysis.fracture.charpy import energies
from analysis.fracture.driven import Driven, driven
from analysis.fracture.fad import Diagram
from analysis.fracture.flaws import Steel
from analysis.fracture.growth_law import law_in
from analysis.fracture.path import from_bore, from_surface
from analysis.fracture.toughness import KSI_ROOT_INCH, MPA_ROOT_M
from analysis.fracture.toughness_bound import toughness_or_bound
from analysis.tables.files import read_csv
from geometry.datums import centre
from geometry.meshfile import read_mesh
from params.rules.cracks import bore_of
from params.schema.arm import Arm
from params.schema.bores import Region
from params.schema.cracks import Cracks
from params.schema.units import System, inside, outside, shown_unit

Floats = NDArray[np.float64]


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
    bands: Mapping[str, float] = field(
        default_factory=dict
    )  # region: band of the stress there in percent, where it is known

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


def loads(
    folder: Path, arm: Arm, mesh: Mesh, cycles: Cycles, variant: Variant, solved: Path | None = None
) -> Loads:
    """The variant's stresses, with the worst places of life.csv; `solved` holds the contact's fields, `folder`/bores by default."""
    _, stress, _ = histories(folder, arm, variant, solved)
    worst: dict[str, Floats] = {}
    bands: dict[str, float] = {}
    for row in read_csv(folder / "bores" / "life.csv", 1):
        if row["arm"] == variant.name and BY_HAND not in row["note"]:
            place = np.array([inside(float(row[k]), row["length_unit"], "length") for k in "xyz"])
            worst.setdefault(row["region"], place)
            if row.get("stress_band_percent"):
                bands.setdefault(row["region"], float(row["stress_band_percent"]))
    nodal = np.ascontiguousarray(np.moveaxis(stress, 0, 1))
    return Loads(arm, mesh, Sampler(mesh), variant, nodal, cycles, worst, bands)


def loads_coarser(folder: Path, arm: Arm, cycles: Cycles, wanted: Sequence[Variant]) -> dict[str, Loads]:
    """The same by variant on the contact's coarser mesh, at the same places; empty where no contact was solved."""
    place = folder / "bores" / "coarser"
    if not (place / "contact.msh").exists():
        return {}
    mesh = Mesh.of(read_mesh(place / "contact.msh"))
    return {one.name: loads(folder, arm, mesh, cycles, one, place) for one in wanted}


def sizes_at(held: Loads, before: Loads | None, region: str) -> list[float]:
    """Element sizes at the worst place of a region on the coarser mesh and the finer, mm."""
    if before is None or region not in held.worst:
        return []
    return [size_at(one.mesh, held.worst[region]) for one in (before, held)]


def steel_of(cracks: Cracks, variant: Variant, thickness: float, units: System) -> Steel:
    """What fracture asks of the variant's material in a wall of this thickness, mm; its bound is told in `units`."""
    material = variant.material
    said = cracks if variant.toughness is None else cracks.model_copy(update={"toughness": variant.toughness})
    diagram = Diagram(
        material.yield_strength, material.tensile_strength, material.elastic_modulus, cracks.yield_plateau
    )
    tough = toughness_or_bound(said, material, thickness, units)
    return Steel(diagram, tough.value, law_in(variant.environment, cracks.growth), tough.note)


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
        "charpy": mean,
        "charpy_counted": counted,
        "energy_unit": energy.replace("*", " "),
        "toughness": shown_toughness(value, units),
        "toughness_unit": tough_unit,
    }


def width_of(arm: Arm, region: str) -> float:
    """Width of the face that a flaw lies in, mm: of the flange, or of the ring beside a bore."""
    hole = bore_of(region, arm)
    return arm.geometry.section.width if hole is None else (hole.outside - hole.bore) / 2.0
