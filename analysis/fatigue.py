"""Years to a crack all over the arm: `python -m analysis.fatigue DIR` writes life.csv, around.csv and life.vtu to DIR/bores.

Reads arm.yaml, arm.msh, loads.json, hand.json and the stresses. A cycle between two load cases passes each at the positions of
the swing that load the arm most and least, and counts from the least to the most normal stress of these on a plane; the year's
cycles add up by Palmgren-Miner on each node's worst plane.
"""

from __future__ import annotations

import sys
from collections.abc import Iterator
from dataclasses import dataclass
from functools import partial
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import NDArray

from analysis.elastic.mesh import Mesh
from analysis.life import welds
from analysis.life.curve import Curve
from analysis.life.damage import Life, life, worst_places
from analysis.life.duty import Cycles
from analysis.life.histories import histories, interference, mesh_file
from analysis.life.plane import Search, search
from analysis.life.regions import surfaces
from analysis.life.states import States, states
from analysis.life.variants import BY_HAND, Variant, variants
from analysis.life.year import year
from analysis.tables import read_json, write_cautioned
from geometry.meshfile import read_mesh, write_vtu
from params.arm import Arm
from params.bores import Bores
from params.caution import CAUTION
from params.out_of_range import STATUS, or_reason, out_of_range
from params.plainly import plainly
from params.read import read_arm
from params.units import outside, show, shown_unit

Floats = NDArray[np.float64]
PLACES = 3  # of each region in the table
MOST_YEARS = 1e6  # in the field for drawing; beyond it no number means anything
AROUND = 72  # sectors about a bore
COLUMNS = (
    "arm", "fits", "material", "region", "surface", "x", "y", "z", "length_unit", "from_case", "to_case", "range", "mean",
    "equivalent_range", "allowable_range", "stress_unit", "years", "utilisation", "margin", "status", "note",
)  # fmt: skip
RING = ("arm", "bore", "angle_deg", "range", "mean", "stress_unit", "years")


@dataclass(frozen=True)
class Assessed:
    """One variant's life at the surface's nodes (k,); `nodes` are their numbers in the mesh of n."""

    variant: Variant
    nodes: NDArray[np.int64]
    found: Search
    life: Life
    states: States
    source: str


def assess(folder: Path, arm: Arm, bores: Bores, mesh: Mesh, variant: Variant) -> Assessed:
    """Life of one variant at every node of its surface."""
    points, stress, source = histories(folder, arm, variant)
    if len(points) != len(mesh.points) or np.abs(points - mesh.points).max() > 1e-2:
        raise ValueError(
            f"{folder}: stresses and arm.msh and its mesh do not go together; delete them and run again"
        )
    regions = surfaces(arm, mesh)
    tight = [name for name, most in interference(arm, variant).items() if most > 0.0]
    cycles = year(arm, bores)
    state = states(bores, variant, regions, tight, len(mesh.points), len(cycles) > 1)
    nodes = np.unique(np.concatenate(list(regions.values())))
    found = search(
        stress[:, nodes],
        cycles,
        state.curves,
        state.rules,
        state.which[nodes],
        arm.duty.service_years,
    )
    return Assessed(variant, nodes, found, life(found), state, source)


def rows(arm: Arm, mesh: Mesh, made: Assessed, cycles: Cycles) -> Iterator[dict[str, Any]]:
    """The worst places of every region."""
    points = mesh.points[made.nodes]
    number = np.full(len(mesh.points), -1)
    number[made.nodes] = np.arange(len(made.nodes))
    regions = {name: number[nodes] for name, nodes in surfaces(arm, mesh).items()}
    apart = 0.25 * arm.geometry.pivot.bore
    for place in worst_places(made.life, points, regions, PLACES, apart):
        k, curve = place.node, made.states.which[made.nodes[place.node]]
        yield (
            head(made.variant, place.region, made.states.names[curve])
            | at(arm, place.at)
            | figures(arm, made.found, made.life, k, cycles, made.states.curves[curve], made.source)
        )


def head(variant: Variant, region: str, surface: str) -> dict[str, Any]:
    return {
        "arm": variant.name,
        "fits": variant.fits,
        "material": variant.material.name,
        "region": region,
        "surface": surface,
    }


def at(arm: Arm, place: tuple[float, float, float]) -> dict[str, Any]:
    unit = shown_unit("length", arm.units)
    return {name: float(outside(v, unit, "length")) for name, v in zip("xyz", place, strict=True)} | {
        "length_unit": unit
    }


def figures(
    arm: Arm, found: Search, lives: Life, k: int, cycles: Cycles, curve: Curve, note: str
) -> dict[str, Any]:
    """What was found at node k; years are empty where no cycle does damage; beyond its curve a life only looks like one."""
    unit, cases = shown_unit("stress", arm.units), list(arm.load_cases)
    worst = int(found.cycle[k])
    told = {
        "range": found.range[k], "mean": found.mean[k], "equivalent_range": found.equivalent[k],
        "allowable_range": lives.allowable_range[k],
    }  # fmt: skip
    shown = {name: float(outside(float(value), unit, "stress")) for name, value in told.items()}
    status, told = judged(
        float(found.equivalent[k]), float(lives.years[k]), float(lives.margin[k]), curve, arm
    )
    return shown | {
        "stress_unit": unit,
        "from_case": cases[cycles.start[worst]],
        "to_case": cases[cycles.end[worst]],
        "years": float(lives.years[k]),
        "utilisation": float(lives.utilisation[k]),
        "margin": float(lives.margin[k]),
        "status": status,
        "note": "; ".join(filter(None, (note, told))),
    }


def judged(largest: float, years: float, margin: float, curve: Curve, arm: Arm) -> tuple[str, str]:
    """Status of a place, and what there is to say of it."""
    if largest > curve.most:
        return STATUS, f"range over {show(curve.most, 'stress', arm.units)}, the most of the curve"
    told = "" if np.isfinite(years) else "every range below the limit: no damage"
    return ("ok" if margin >= 0.0 else "fails"), told


def weld_rows(
    arm: Arm, bores: Bores, hand: dict[str, Any], variant: Variant, cycles: Cycles
) -> Iterator[dict[str, Any]]:
    """Welds with a station: nominal stress of the hand calculation at both flanges against their class."""
    for weld in bores.welds:
        if weld.arm is None or weld.station is None:
            continue
        known = head(variant, weld.region, welds.name(weld))
        made, reason = or_reason(arm.units, partial(welds.judge, arm, hand, weld, variant, cycles))
        if made is None:
            yield out_of_range(known, reason)
            continue
        x, y, z = (float(part) for part in welds.place(arm, weld))
        note = f"{weld.arm} arm, {'upper' if made.worse == 0 else 'lower'} flange, {BY_HAND}"
        told = figures(arm, made.found, made.life, made.worse, cycles, made.curve, note)
        yield known | at(arm, (x, y, z)) | told


def around(arm: Arm, mesh: Mesh, made: Assessed) -> Iterator[dict[str, Any]]:
    """The shortest life in each sector about the pivot bore, with its range and mean; angles from the output arm."""
    unit = shown_unit("stress", arm.units)
    number = np.full(len(mesh.points), -1)
    number[made.nodes] = np.arange(len(made.nodes))
    nodes = number[mesh.nodes("pivot_bore")]
    x, y, _ = mesh.points[made.nodes[nodes]].T
    sector = np.floor(np.degrees(np.arctan2(y, x)) % 360.0 / (360.0 / AROUND)).astype(int)
    for k in range(AROUND):
        within = nodes[sector == k]
        if not len(within):
            continue
        worst = within[np.argmin(made.life.margin[within])]
        yield {
            "arm": made.variant.name,
            "bore": "pivot",
            "angle_deg": (k + 0.5) * 360.0 / AROUND,
            "range": float(outside(float(made.found.range[worst]), unit, "stress")),
            "mean": float(outside(float(made.found.mean[worst]), unit, "stress")),
            "stress_unit": unit,
            "years": float(min(made.life.years[worst], MOST_YEARS)),
        }


def fields(mesh: Mesh, made: list[Assessed]) -> dict[str, Floats]:
    """Nodal fields for drawing; nan within the body, where no crack starts."""
    found = {}
    for one in made:
        values = {
            "years": np.minimum(one.life.years, MOST_YEARS), "utilisation": one.life.utilisation,
            "range_MPa": one.found.range, "mean_MPa": one.found.mean,
        }  # fmt: skip
        for name, value in values.items():
            field = np.full(len(mesh.points), np.nan)
            field[one.nodes] = value
            found[f"{name}:{one.variant.name}"] = field
    return found


def main(folder: Path) -> int:
    arm = read_arm(folder / "arm.yaml")
    if arm.bores is None:
        print(f"{folder / 'arm.yaml'}: has no section bores; add one to learn lives", file=sys.stderr)
        return 1
    bores, target = arm.bores, folder / "bores"
    arrays = read_mesh(mesh_file(folder))
    mesh, cycles, hand = Mesh.of(arrays), year(arm, bores), read_json(folder / "hand.json")
    made, table = [], []
    for variant in variants(arm):
        one, reason = or_reason(arm.units, partial(assess, folder, arm, bores, mesh, variant))
        if one is None:
            table.append(out_of_range(head(variant, "outside", "all surfaces"), reason))
        else:
            made.append(one)
            table += rows(arm, mesh, one, cycles)
        table += weld_rows(arm, bores, hand, variant, cycles)
        print(told(table, variant), flush=True)
    write_cautioned(target / "life.csv", COLUMNS, table)
    write_cautioned(target / "around.csv", RING, [row for one in made for row in around(arm, mesh, one)])
    write_vtu(target / "life.vtu", arrays, fields(mesh, made), {})
    print(CAUTION)
    return 0


def told(table: list[dict[str, Any]], variant: Variant) -> str:
    """The shortest life of a variant in one line."""
    own = [row for row in table if row["arm"] == variant.name]
    known = [row for row in own if "margin" in row]
    if not known:
        return (
            f"{variant.name} ({variant.material.name}; {variant.fits}): {own[0]['status']}, {own[0]['note']}"
        )
    worst = min(known, key=lambda row: row["margin"])
    lasts = f"{worst['years']:.3g} years" if np.isfinite(worst["years"]) else "no damage"
    return f"{variant.name} ({variant.material.name}; {variant.fits}): {lasts} at {worst['region']}, margin {worst['margin']:+.0%}"


if __name__ == "__main__":
    with plainly():
        sys.exit(main(Path(sys.argv[1])))
