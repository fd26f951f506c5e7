"""Tables of pins in their bores, contact.csv and contact.json, and the solves behind them."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import Any

import numpy as np

from analysis.bores.fit import assemble
from analysis.contact.measures import measured, seat
from analysis.contact.model import Fitted, FittedLoad, begin, fitted, fitted_load, unloaded
from analysis.contact.pairs import joined
from analysis.contact.solve import Touched, touch
from analysis.contracts.elastic import ElasticFile
from analysis.contracts.loads import LoadsFile
from analysis.elastic.loads import Seats
from analysis.elastic.mesh import Mesh
from analysis.tables.columns import columns
from geometry.datums import bore
from geometry.mesher import MeshReport, mesh_with_pins
from geometry.meshfile import read_mesh
from geometry.pins import pin_shape
from params.schema.arm import Arm
from params.schema.bores import BoreFit, Sizes
from params.schema.material import Material
from params.steps.arrays import Floats
from params.steps.caution import CAUTION
from params.steps.contract import read_model

KINDS = ("fit", "compare")
ALONE = "fitted"  # the case without load
COLUMNS = columns(
    "fits bore fit interference_mm load_case contact_arc_deg peak_pressure_MPa peak_angle_deg "
    "peak_z_mm read_from_edge_mm edge_mean_MPa peak_middle_MPa largest_gap_mm lift_off_share least_pressure_MPa overlap_mm "
    "overlap_share force_balance passes coarser_contact_arc_deg coarser_peak_pressure_MPa "
    "coarser_edge_mean_MPa coarser_peak_middle_MPa status"
)


@dataclass(frozen=True)
class Solved:
    """One set of fits: all load cases, then the fits alone; interference of each bore on the diameter, mm.

    `least`: load cases where they load the arm least, with their loads and their solution.
    """

    kind: str
    interference: dict[str, float]
    named: dict[str, str]
    cases: tuple[str, ...]
    loads: list[FittedLoad]
    touched: Touched
    alone: Touched
    least: tuple[str, ...]
    least_loads: list[FittedLoad]
    least_touched: Touched

    @property
    def displacement(self) -> Floats:
        return np.concatenate([self.touched.displacement, self.alone.displacement])

    @property
    def pressure(self) -> Floats:
        return np.concatenate([self.touched.pressure, self.alone.pressure])

    @property
    def gap(self) -> Floats:
        return np.concatenate([self.touched.gap, self.alone.gap])

    @property
    def passes(self) -> tuple[int, ...]:
        return (*self.touched.figures.passes, *self.alone.figures.passes)


def in_contact(arm: Arm) -> dict[str, BoreFit]:
    """Bores whose pin is modelled; a bush between pin and arm is not, such a bore keeps the half-cosine pressure."""
    fits = arm.bores.fits if arm.bores else {}
    return {name: fit for name, fit in fits.items() if fit.bush is None}


def modelled(
    folder: Path, arm: Arm, material: Material, fits: dict[str, BoreFit], per_quarter: int, place: Path
) -> tuple[Fitted, MeshReport]:
    """Mesh with pins of the arm in `folder`, read back as one model; contact.msh and pins.msh stay in `place`."""
    shapes = {name: pin_shape(arm, name, fit.shaft.inside) for name, fit in fits.items()}
    targets = place / "contact.msh", place / "pins.msh"
    place.mkdir(parents=True, exist_ok=True)
    report = mesh_with_pins(
        folder / "arm.brep", folder / "faces.json", arm.mesh, shapes, targets, per_quarter
    )
    print(f"mesh: {report}", flush=True)
    parts = [Mesh.of(read_mesh(target)) for target in targets]
    return fitted(
        parts[0], parts[1], material, shapes, {name: fit.shaft for name, fit in fits.items()}
    ), report


def solved(
    model: Fitted, arm: Arm, material: Material, fits: dict[str, BoreFit], kind: str, wanted: LoadsFile
) -> Solved:
    """Every case of loads.json with one set of fits, those at their least in lockstep with the others."""
    sizes: dict[str, Sizes] = {
        name: (fit.compare or fit.fit) if kind == "compare" else fit.fit for name, fit in fits.items()
    }
    mean = {
        name: float(assemble(fits[name], size, bore(arm, name), material).interference[1, 0])
        for name, size in sizes.items()
    }
    gaps, pairs = {name: -0.5 * value for name, value in mean.items()}, joined(list(model.pairs.values()))
    cases, least = wanted.cases, wanted.least
    seats: Seats = {}
    loads = [fitted_load(model, arm, case, seats) for case in (*cases.values(), *least.values())]
    own, at_least, alone = slice(len(cases)), slice(len(cases), None), [unloaded(model)]
    runs = [
        touch(
            model.mesh,
            model.law,
            np.stack([one.vector for one in part]),
            pairs,
            begin(model, gaps, part),
            model.fixed,
        )
        for part in (loads, alone)
    ]
    named = {
        name: str(size.fit) if size.fit else f"measured {size.measured.bore:g}/{size.measured.shaft:g} mm"  # type: ignore[union-attr]
        for name, size in sizes.items()
    }
    return Solved(
        kind,
        mean,
        named,
        (*cases, ALONE),
        loads[own] + alone,
        runs[0].of(own),
        runs[1],
        tuple(least),
        loads[at_least],
        runs[0].of(at_least),
    )


def rows(model: Fitted, solution: Solved) -> list[dict[str, Any]]:
    """The rows of contact.csv."""
    table_rows, first = [], 0
    for name, pairs in model.pairs.items():
        part, at = slice(first, first + len(pairs.outer)), seat(model.mesh, name, model.shapes[name], pairs)
        first = part.stop
        for c, case in enumerate(solution.cases):
            head = {
                "fits": solution.kind,
                "bore": f"{name}_bore",
                "fit": solution.named[name],
                "load_case": case,
                "interference_mm": solution.interference[name],
                "passes": solution.passes[c],
                "status": "ok",
            }
            load = solution.loads[c].bores.get(f"{name}_bore")
            table_rows.append(
                head
                | measured(
                    at, solution.pressure[c, part], solution.gap[c, part], load, model.law.laws[0].modulus
                )
            )
    return table_rows


def solve_line(solution: Solved) -> str:
    """Size, passes, iterations and time of the solve in one line."""
    done = solution.touched.figures
    return (
        f"{solution.kind}: {done.unknowns:,} unknowns, {done.pairs:,} contact nodes, {max(done.passes)} passes, "
        f"{done.iterations} iterations, support reactions {done.reaction:.0e} of the load, {(done.seconds or {})['all']:.1f} s"
    )


def figures(solutions: list[Solved], report: MeshReport, folder: Path) -> dict[str, Any]:
    """contact.json: mesh, solver and time; the plain solve's time is that of elastic.json, of the mesh it used."""
    source = folder / "elastic.json"
    plain = read_model(source, ElasticFile) if source.exists() else None
    parts = ("pattern", "assembly", "solve", "check")
    seconds = sum(plain.seconds.get(name, 0.0) for name in parts) if plain else None
    solver = {}
    for one in solutions:
        done = one.touched.figures
        solver[one.kind] = {
            "interference_mm": one.interference,
            "passes": done.passes,
            "iterations": done.iterations,
            "coarse_factors": done.factors,
            "reaction": done.reaction,
            "seconds": done.seconds,
            "seconds_over_plain": (done.seconds or {})["all"] / seconds if seconds else None,
        }
    last = solutions[-1].touched.figures
    return {
        "caution": CAUTION,
        "mesh": {
            "nodes": report.nodes,
            "elements": report.elements,
            "worst_quality": report.worst_quality,
            "attempts": report.attempts,
        },
        "unknowns": last.unknowns,
        "contact_nodes": last.pairs,
        "peak_memory_MB": last.peak_bytes / 1e6,
        "plain_unknowns": plain.mesh.unknowns if plain else None,
        "plain_seconds": seconds,
        "solver": solver,
    }
