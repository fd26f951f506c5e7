"""Rows of life.csv and around.csv, and the years to a crack as a field.

A cycle between two load cases passes each at the positions of
the swing that load the arm most and least, and counts from the least to the most normal stress of these on a plane; the year's
cycles add up by Palmgren-Miner on each node's worst plane.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import partial
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import NDArray

from analysis.contracts.hand import HandFile
from analysis.elastic.mesh import Mesh
from analysis.fatigue import welds
from analysis.fatigue.curve import Curve
from analysis.fatigue.curve_at import NodeCurves, curves_at_nodes, welds_of
from analysis.fatigue.cycles import year
from analysis.fatigue.damage import Life, life, worst_places
from analysis.fatigue.duty import Cycles
from analysis.fatigue.in_surface import seated
from analysis.fatigue.plane import Search, search
from analysis.fatigue.reading import read_nodes
from analysis.fatigue.regions import surfaces
from analysis.fatigue.settled import SETTLED, nearby, place, sizes_at, told, typical
from analysis.fatigue.spread import SPREAD, spread
from analysis.fatigue.stresses import histories, interference
from analysis.fatigue.variants import BY_HAND, Variant
from params.schema.arm import Arm
from params.schema.bores import Bores, Region
from params.schema.geometry import BoreName
from params.schema.units import outside, show, shown_unit
from params.steps.arrays import Floats
from params.steps.out_of_range import STATUS, or_reason, out_of_range

PLACES = 3  # of each region in the table
APART = 0.25  # of the pivot's bore, from one place to the next
MOST_YEARS = 1e6  # in the field for drawing; beyond it no number means anything
AROUND = 72  # sectors about a bore
COLUMNS = (
    "arm",
    "fits",
    "material",
    "region",
    "surface",
    "x",
    "y",
    "z",
    "length_unit",
    "from_case",
    "to_case",
    "range",
    "mean",
    "equivalent_range",
    "allowable_range",
    "stress_unit",
    "years",
    "utilisation",
    "margin",
    "status",
    "note",
    *SPREAD,
    *SETTLED,
)
RING = ("arm", "bore", "angle_deg", "range", "mean", "stress_unit", "years")


@dataclass(frozen=True)
class Assessed:
    """One variant's life at the surface's nodes (k,); `nodes` are their numbers in the mesh of n."""

    variant: Variant
    nodes: NDArray[np.int64]
    worst_plane: Search
    life: Life
    curves: NodeCurves
    source: str
    stress: Floats  # (S, n, 6) MPa of all nodes, by state
    read: dict[Region, NDArray[np.int64]]  # nodes of each region at which its life is read


def assess(
    folder: Path, arm: Arm, bores: Bores, mesh: Mesh, variant: Variant, solved: Path | None = None
) -> Assessed:
    """Life of one variant at every node of its surface; `solved` holds the contact's fields, `folder`/bores by default."""
    points, stress, source = histories(folder, arm, variant, solved)
    if len(points) != len(mesh.points) or np.abs(points - mesh.points).max() > 1e-2:
        raise ValueError(
            f"{folder}: stresses and arm.msh and its mesh do not go together; delete them and run again"
        )
    regions = surfaces(arm, mesh)
    tight: list[BoreName] = [name for name, most in interference(arm, variant).items() if most > 0.0]
    cycles = year(arm, bores)
    curves = curves_at_nodes(bores, variant, regions, tight, len(mesh.points), len(cycles) > 1)
    nodes = np.unique(np.concatenate(list(regions.values())))
    worst_plane = search(
        seated(stress, arm, mesh)[:, nodes],
        cycles,
        curves.curves,
        curves.rules,
        curves.which[nodes],
        arm.duty.service_years,
    )
    read = read_nodes(arm, mesh, regions, tight)
    return Assessed(variant, nodes, worst_plane, life(worst_plane), curves, source, stress, read)


def rows(arm: Arm, bores: Bores, mesh: Mesh, assessed: Assessed, cycles: Cycles) -> Iterator[dict[str, Any]]:
    """The worst places of every region."""
    points = mesh.points[assessed.nodes]
    number = np.full(len(mesh.points), -1)
    number[assessed.nodes] = np.arange(len(assessed.nodes))
    regions = {name: number[nodes] for name, nodes in assessed.read.items()}
    apart = APART * arm.geometry.pivot.bore
    places = worst_places(assessed.life, points, regions, PLACES, apart)
    at_nodes = assessed.nodes[[one.node for one in places]]
    spreads = spread(arm, bores, mesh, assessed.variant, assessed.stress, at_nodes, cycles)
    for worst, beside in zip(places, spreads, strict=True):
        k, curve = worst.node, assessed.curves.which[assessed.nodes[worst.node]]
        note = "; ".join(filter(None, (assessed.source, beside.pop("opens", None))))
        yield (
            head(assessed.variant, worst.region, assessed.curves.names[curve])
            | at(arm, worst.at)
            | figures(
                arm,
                assessed.worst_plane,
                assessed.life,
                k,
                cycles,
                assessed.curves.curves[curve],
                note,
            )
            | beside
        )


def compared(
    arm: Arm, own: list[dict[str, Any]], mesh: Mesh, before: Mesh, coarser: Assessed
) -> list[dict[str, Any]]:
    """These rows of a variant with what a coarser mesh says of the same places: of the worst within the distance of one row's place
    to the next."""
    number = np.full(len(before.points), -1)
    number[coarser.nodes] = np.arange(len(coarser.nodes))
    pairs: list[tuple[dict[str, Any], list[list[float]] | None]] = []
    earlier: dict[str, list[Floats]] = {}
    for row in own:
        nodes, others = coarser.read[row["region"]], earlier.setdefault(row["region"], [])
        apart = APART * arm.geometry.pivot.bore
        known = nearby(row, others, before, number[nodes], nodes, coarser.life, apart)
        others.append(place(row))
        judged_too = known is not None and row["status"] != STATUS
        values = [list(pair) for pair in zip(known or (), (row["years"], row["margin"]), strict=False)]
        pairs.append((row, values if judged_too else None))
    usual = typical([values for _, values in pairs if values])
    return [
        told(row, sizes_at(row, before, mesh), values[0], values[1], usual) if values else row
        for row, values in pairs
    ]


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
    arm: Arm, plane: Search, lives: Life, k: int, cycles: Cycles, curve: Curve, note: str
) -> dict[str, Any]:
    """What was found at node k; years are empty where no cycle does damage; beyond its curve a life only looks like one."""
    unit, cases = shown_unit("stress", arm.units), list(arm.load_cases)
    worst = int(plane.cycle[k])
    values = {
        "range": plane.range[k],
        "mean": plane.mean[k],
        "equivalent_range": plane.equivalent[k],
        "allowable_range": lives.allowable_range[k],
    }
    shown = {name: float(outside(float(value), unit, "stress")) for name, value in values.items()}
    status, values = judged(
        float(plane.equivalent[k]), float(lives.years[k]), float(lives.margin[k]), curve, arm
    )
    return shown | {
        "stress_unit": unit,
        "from_case": cases[cycles.start[worst]],
        "to_case": cases[cycles.end[worst]],
        "years": float(lives.years[k]),
        "utilisation": float(lives.utilisation[k]),
        "margin": float(lives.margin[k]),
        "status": status,
        "note": "; ".join(filter(None, (note, values))),
    }


def judged(largest: float, years: float, margin: float, curve: Curve, arm: Arm) -> tuple[str, str]:
    """Status of a place, and what there is to say of it."""
    if largest > curve.most:
        return STATUS, f"range over {show(curve.most, 'stress', arm.units)}, the most of the curve"
    note = "" if np.isfinite(years) else "every range below the limit: no damage"
    return ("ok" if margin >= 0.0 else "fails"), note


def weld_rows(
    arm: Arm, bores: Bores, hand: HandFile, variant: Variant, cycles: Cycles
) -> Iterator[dict[str, Any]]:
    """Welds with a station: nominal stress of the hand calculation at both flanges against their class."""
    for weld in welds_of(bores, variant):
        if weld.arm is None or weld.station is None:
            continue
        known = head(variant, weld.region, welds.name(weld))
        assessed, reason = or_reason(arm.units, partial(welds.judge, arm, hand, weld, variant, cycles))
        if assessed is None:
            yield out_of_range(known, reason)
            continue
        x, y, z = (float(part) for part in welds.place(arm, weld))
        note = f"{weld.arm} arm, {'upper' if assessed.worse == 0 else 'lower'} flange, {BY_HAND}"
        values = figures(
            arm, assessed.worst_plane, assessed.life, assessed.worse, cycles, assessed.curve, note
        )
        yield known | at(arm, (x, y, z)) | values


def around(arm: Arm, mesh: Mesh, assessed: Assessed) -> Iterator[dict[str, Any]]:
    """The shortest life in each sector about the pivot bore, with its range and mean; angles from the output arm."""
    unit = shown_unit("stress", arm.units)
    number = np.full(len(mesh.points), -1)
    number[assessed.nodes] = np.arange(len(assessed.nodes))
    nodes = number[np.intersect1d(mesh.nodes("pivot_bore"), assessed.read["pivot_bore"])]
    x, y, _ = mesh.points[assessed.nodes[nodes]].T
    sector = np.floor(np.degrees(np.arctan2(y, x)) % 360.0 / (360.0 / AROUND)).astype(int)
    for k in range(AROUND):
        within = nodes[sector == k]
        if not len(within):
            continue
        worst = within[np.argmin(assessed.life.margin[within])]
        yield {
            "arm": assessed.variant.name,
            "bore": "pivot",
            "angle_deg": (k + 0.5) * 360.0 / AROUND,
            "range": float(outside(float(assessed.worst_plane.range[worst]), unit, "stress")),
            "mean": float(outside(float(assessed.worst_plane.mean[worst]), unit, "stress")),
            "stress_unit": unit,
            "years": float(min(assessed.life.years[worst], MOST_YEARS)),
        }


def fields(mesh: Mesh, assessments: list[Assessed]) -> dict[str, Floats]:
    """Nodal fields for drawing; nan within the body, where no crack starts."""
    arrays = {}
    for one in assessments:
        values = {
            "years": np.minimum(one.life.years, MOST_YEARS),
            "utilisation": one.life.utilisation,
            "range_MPa": one.worst_plane.range,
            "mean_MPa": one.worst_plane.mean,
        }
        for name, value in values.items():
            field = np.full(len(mesh.points), np.nan)
            field[one.nodes] = value
            arrays[f"{name}:{one.variant.name}"] = field
    return arrays
