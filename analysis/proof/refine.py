"""Mesh, solve, refine until the peaks of the bores and outside have settled.

Reads arm.yaml, arm.brep, faces.json, loads.json and hand.json of DIR; writes arm.msh, stress.vtu, convergence.csv and elastic.json.
"""

from __future__ import annotations

import time
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import NDArray

from analysis.contracts.elastic import ElasticCase, ElasticFile, FlawMargin, MeshSize, Peak, Solver
from analysis.contracts.hand import HandFile
from analysis.contracts.loads import LoadsFile
from analysis.elastic.invariants import peak, von_mises
from analysis.elastic.mesh import Mesh
from analysis.elastic.richardson import band, size_at
from analysis.fatigue.cycles import by_load_state
from analysis.fatigue.margins import mesh_margins
from analysis.fatigue.welds import weld_margins
from analysis.fracture.margins import flaw_margins
from analysis.proof.bore_surface import settled_surface
from analysis.proof.cases import Proof, elastic, fields, prove, triple
from analysis.proof.cuts import Solved
from analysis.proof.measures import Measured, measures
from analysis.tables.files import write_csv, write_json
from geometry.datums import BORES
from geometry.ladder import STEPS
from geometry.mesher import MeshRefused, MeshReport, mesh_arm
from geometry.meshfile import MeshArrays, read_mesh, write_vtu
from params.files.read import read_arm, read_material
from params.schema.arm import Arm
from params.schema.material import Material
from params.steps.arrays import Floats
from params.steps.caution import CAUTION
from params.steps.contract import read_of_cases
from params.steps.results import read_json

BORE_FACES = tuple(f"{name}_bore" for name in BORES)
PEAKS = (*BORE_FACES, "outside")  # surfaces whose peaks are followed from mesh to mesh
FINER = 1.35  # each level has this many times more elements per quarter bore
FEWEST = 3  # meshes needed for a statement on convergence
AHEAD = "arm-next.msh"  # a mesh while the one before it is being solved
SWEEP_QUARTER = 6  # elements per quarter bore for a design of the sweep
COLUMNS = [
    "level",
    "per_quarter_bore",
    "unknowns",
    "place",
    "element_mm",
    "peak_MPa",
    "change_percent",
    "order",
    "band_percent",
    "settled",
]


@dataclass
class Level:
    """One mesh and its solution."""

    per_quarter: int
    report: MeshReport
    arrays: MeshArrays
    proof: Proof
    surface: (
        Floats  # (C, n, 6) MPa, stress of the cases with that of the bores' surfaces settled (`bore_surface`)
    )
    peaks: dict[str, float]  # its largest equivalent stress of all load cases on each surface, MPa
    places: dict[str, Floats]  # (3,) where it lies, mm


def meshed(folder: Path, arm: Arm, per_quarter: int) -> tuple[MeshReport, MeshArrays]:
    """Mesh once, into the file `AHEAD`; `refine` renames it when its turn comes."""
    path = folder / AHEAD
    report = mesh_arm(folder / "arm.brep", folder / "faces.json", arm.mesh, path, per_quarter=per_quarter)
    return report, read_mesh(path)


def level(folder: Path, arm: Arm, material: Material, report: MeshReport, arrays: MeshArrays) -> Level:
    """Solve every load case on one mesh."""
    print(f"mesh: {report}", flush=True)
    wanted = read_of_cases(folder / "loads.json", LoadsFile, arm.load_cases)
    proof = prove(Mesh.of(arrays), arm, material, wanted.cases, wanted.least)
    print(f"solve: {solve_line(proof)}", flush=True)
    peaks: dict[str, float] = {}
    places: dict[str, Floats] = {}
    surface = settled_surface(arm, proof.mesh, proof.stress) if proof.solution.ok else proof.stress
    for place in PEAKS if proof.solution.ok else ():
        nodes = proof.mesh.nodes(place)
        most = von_mises(surface[:, nodes]).max(axis=0)
        peaks[place], places[place] = float(most.max()), proof.mesh.points[nodes[int(np.argmax(most))]]
    return Level(report.per_quarter, report, arrays, proof, surface, peaks, places)


def solve_line(proof: Proof) -> str:
    """Method, iterations, residual and time of the solve in one line, or why it failed."""
    solved = proof.solution.figures
    if not proof.solution.ok:
        return proof.solution.message
    seconds = sum((solved.seconds or {}).values())
    return (
        f"{solved.method}, {solved.iterations} iterations, residual {max(solved.residual):.0e}, "
        f"support reactions {max(solved.reaction):.0e} of the load, {seconds:.1f} s"
    )


def quarters(arm: Arm, sweep: bool) -> list[int]:
    """Elements per quarter bore of each level."""
    if sweep:
        return [min(SWEEP_QUARTER, arm.mesh.per_quarter_bore)]
    return [round(arm.mesh.per_quarter_bore * FINER**step) for step in range(arm.mesh.levels)]


def settled(levels: list[Level], share: float) -> bool:
    """Whether, on at least three meshes, every peak changed by less than `share` in the last refinement."""
    return not unsettled(levels, share)


def unsettled(levels: list[Level], share: float) -> tuple[str, ...]:
    """Surfaces whose peak changed by `share` or more in the last refinement; all of them before the third mesh."""
    if len(levels) < FEWEST:
        return PEAKS
    last, before = levels[-1].peaks, levels[-2].peaks
    return tuple(place for place in PEAKS if abs(last[place] - before[place]) >= share * abs(last[place]))


def refine(folder: Path, arm: Arm, material: Material, sweep: bool) -> list[Level]:
    """Levels up to the one whose peaks have settled, the last that the file allows, or one that cannot be solved.

    The mesher works on one thread: meshes that are needed in any case are made while the one before is solved.
    """
    levels: list[Level] = []
    wanted = quarters(arm, sweep)
    try:
        with ThreadPoolExecutor(1) as beside:
            coming = beside.submit(meshed, folder, arm, wanted[0])
            for number, following in enumerate([*wanted[1:], None], 1):
                report, arrays = coming.result()
                (folder / AHEAD).replace(folder / "arm.msh")
                if following and number < FEWEST:
                    coming = beside.submit(meshed, folder, arm, following)
                levels.append(level(folder, arm, material, report, arrays))
                if not levels[-1].proof.solution.ok or settled(levels, arm.mesh.peak_change):
                    break
                if following and number >= FEWEST:
                    coming = beside.submit(meshed, folder, arm, following)
    finally:
        (folder / AHEAD).unlink(missing_ok=True)
    return levels


def convergence(levels: list[Level], share: float) -> list[dict[str, Any]]:
    """The rows of convergence.csv: peak, change, observed order and error band of each surface at each level; element sizes are
    those about the peak of the last level."""
    rows = []
    for place in PEAKS:
        sizes = [size_at(step.proof.mesh, levels[-1].places[place]) for step in levels]
        for index in range(len(levels)):
            size = sizes[: index + 1]
            value = [step.peaks[place] for step in levels[: index + 1]]
            estimate = band(size, value)
            change = 100.0 * (value[-1] / value[-2] - 1.0) if index else None
            rows.append(
                {
                    "level": index + 1,
                    "per_quarter_bore": levels[index].per_quarter,
                    "unknowns": levels[index].report.unknowns,
                    "place": place,
                    "element_mm": size[-1],
                    "peak_MPa": value[-1],
                    "change_percent": change,
                    "order": estimate.order,
                    "band_percent": None if estimate.band is None else 100.0 * estimate.band,
                    "settled": "" if change is None else abs(change) < 100.0 * share,
                }
            )
    return rows


def cases(last: Level, arm: Arm, material: Material, hand: HandFile) -> dict[str, ElasticCase]:
    """What the last mesh says of each case, at the stations of the hand calculation; N, mm, MPa."""
    proof = last.proof
    first = hand.cases[proof.cases[0]].stations
    places = {limb: np.array([row.s for row in rows]) for limb, rows in first.items()}
    body = np.array([load.body for load in proof.loaded])
    solved_all = Solved(proof.mesh, elastic(material), proof.solution.displacement, proof.stress, body)
    read = measures(arm, solved_all, places)
    return {
        name: solved(last, index, read[index], hand.cases[name].fraction)
        for index, name in enumerate(proof.cases)
    }


def solved(last: Level, index: int, read: Measured, fraction: float) -> ElasticCase:
    """Peaks, measures, applied forces and what is left unbalanced in one case."""
    proof = last.proof
    load, done = proof.loaded[index], proof.solution.figures
    worst = {place: peak(last.surface[index], proof.mesh, place) for place in PEAKS}
    return ElasticCase(
        **vars(read),
        fraction=fraction,
        peaks={place: Peak(**vars(one)) for place, one in worst.items()},
        pin_force={bore: float(np.hypot(*one.force[:2])) for bore, one in load.bores.items()},
        load_mismatch=max(load.resultants.mismatch.values()),
        rebalanced=load.rebalanced,
        imbalance=float(np.linalg.norm(load.resultants.force)),
        reaction=done.reaction[index],
        residual=done.residual[index],
        energy_error=proof.error[index],
        suction_MPa=load.resultants.suction,
    )


def meshed_size(levels: list[Level], differs: list[str]) -> MeshSize:
    """Figures of the last mesh, with what differs in its solid from the arm's file."""
    last = levels[-1]
    return MeshSize(
        nodes=last.report.nodes,
        elements=last.report.elements,
        unknowns=last.report.unknowns,
        per_quarter_bore=last.per_quarter,
        worst_quality=last.report.worst_quality,
        volume_mm3=last.report.volume,
        levels=len(levels),
        attempts=last.report.attempts,
        notes=(*differs, *harder(last.report.attempts)),
    )


def harder(attempts: int) -> list[str]:
    """A line where the sizes of the arm's file did not give a sound mesh at once."""
    if attempts == 1:
        return []
    return [f"The mesh passed its gate at attempt {attempts} of {len(STEPS)}: {STEPS[attempts - 1].told}."]


class Unproved(Exception):  # noqa: N818 - an answer, not a fault of the program
    """The arm cannot be meshed or solved; the message says why."""


def run(folder: Path, sweep: bool) -> None:
    """Mesh, solve and refine the arm of `folder`.

    Raises
    ------
    Unproved
        where the arm cannot be meshed soundly or the last solve failed.
    """
    start, arm = time.perf_counter(), read_arm(folder / "arm.yaml")
    material, hand = (
        read_material(arm.material, arm.library),
        read_of_cases(folder / "hand.json", HandFile, arm.load_cases),
    )
    try:
        levels = refine(folder, arm, material, sweep)
    except MeshRefused as refusal:
        raise Unproved(str(refusal)) from refusal
    last = levels[-1]
    if not last.proof.solution.ok:
        raise Unproved(solve_line(last.proof))
    rows = convergence(levels, arm.mesh.peak_change)
    write_csv(folder / "convergence.csv", COLUMNS, rows)
    write_vtu(folder / "stress.vtu", last.arrays, *fields(last.proof))
    proof, done = last.proof, last.proof.solution.figures
    states = settled_surface(arm, proof.mesh, stress_states(proof, arm))
    fatigue = mesh_margins(arm, material, proof.mesh, states)
    flaws = flaw_margins(arm, material, proof.mesh, proof.cases, last.surface)
    answer = ElasticFile(
        caution=CAUTION,
        mass_kg=proof.mass,
        cg_mm=triple(proof.cg),
        cases=cases(last, arm, material, hand),
        bands_percent={row["place"]: row["band_percent"] for row in rows if row["level"] == len(levels)},
        fatigue=fatigue | weld_margins(arm, material, hand),
        flaws={
            place: FlawMargin.model_validate(one | {"at": triple(one["at"])}) for place, one in flaws.items()
        },
        settled=settled(levels, arm.mesh.peak_change),
        unsettled=unsettled(levels, arm.mesh.peak_change),
        mesh=meshed_size(levels, read_json(folder / "faces.json")["notes"]),
        solver=Solver(method=done.method, iterations=done.iterations, note=done.note),
        seconds={"prove": time.perf_counter() - start, **(done.seconds or {})},
        peak_memory_MB=done.peak_bytes / 1e6,
    )
    write_json(folder / "elastic.json", answer)


def stress_states(proof: Proof, arm: Arm) -> NDArray[np.float64]:
    """Stress (S, n, 6) MPa of the stress states between which the duty's cycles run, numbered as in `fatigue.cycles`."""
    return by_load_state(arm, dict(zip(proof.cases, proof.stress, strict=True)), proof.least)
