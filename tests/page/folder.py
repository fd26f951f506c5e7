"""A folder of results that is quick to make: hand calculation and sweep are real, mesh and stresses are made up on a block."""

from __future__ import annotations

import hashlib
from pathlib import Path
from shutil import copyfile

import numpy as np
from PIL import Image
from skfem import MeshTet

from analysis.contracts.hand import HandFile
from analysis.contracts.summary import Position
from analysis.hand import __main__ as hand
from analysis.making.dates.table import write_dates
from analysis.page import data
from analysis.pictures.diagrams import free_body, section_forces
from analysis.proof.resultants import COLUMNS as STATICS
from analysis.proof.rows import COLUMNS as BESIDE
from analysis.sweep import __main__ as sweep
from analysis.sweep import front
from analysis.tables.files import read_csv, write_csv, write_json
from geometry.meshfile import TET_EDGES, MeshArrays, write_vtu
from params.files.origin import TO_SUMMARY, Origin
from params.files.read import read_arm
from params.steps.contract import read_model
from params.steps.program import digest
from tests.arms import ARMS
from tests.summaries import a_summary

TOP = Path(__file__).parent.parent.parent
SIDES = (200.0, 60.0, 40.0)  # mm, of the block
LEVELS = [("1", "4", "1000", "120.5", ""), ("2", "5", "3000", "123.25", "2.2")]
LINES = [
    (
        "mass",
        "arm",
        "any",
        "4.34794",
        "4.39843",
        "kg",
        "1.16109",
        "2",
        "agrees",
        "blends",
        "4.34794",
        "",
        "",
        "",
        "",
        "0.05049",
        "2",
    ),
    (
        "flange stress, mean over its thickness, plus flange",
        "input arm, 76.12 mm from the pivot",
        "raise",
        "-98.7814",
        "-106.62",
        "MPa",
        "7.93529",
        "3",
        "explain",
        "ends",
        "-97.7814",
        "-1",
        "",
        "",
        "",
        "-7.8386",
        "30",
    ),
]
FORCES = [
    (
        "M3",
        "input arm, 76.12 mm from the pivot",
        "raise",
        "1.5",
        "1.5",
        "1.49",
        "kN m",
        "0",
        "0.1",
        "-0.7",
        "5",
        "agrees",
        "",
    )
]


def block(refined: int = 2) -> MeshArrays:
    """Second-order tetrahedra that fill a block of SIDES."""
    coarse = MeshTet().refined(refined)
    points, tets = coarse.p.T * np.array(SIDES), coarse.t.T
    sides = points[tets[:, 1:]] - points[tets[:, :1]]
    tets = np.where(np.linalg.det(sides)[:, None] > 0.0, tets, tets[:, [0, 2, 1, 3]])  # all of one handedness
    edges = np.sort(tets[:, np.array(TET_EDGES)], axis=2).reshape(-1, 2)
    pairs, which = np.unique(edges, axis=0, return_inverse=True)
    middles = points[pairs].mean(axis=1)
    ten = np.hstack([tets, len(points) + which.reshape(-1, len(TET_EDGES))])
    return MeshArrays(np.vstack([points, middles]), ten, {})


def stress_of(points, case: int):
    """An equivalent stress that differs from node to node and case to case, MPa."""
    x, y, z = (points / np.array(SIDES)).T
    return (case + 1.0) * (20.0 + 70.0 * x**2 + 9.0 * y + 3.0 * z)


def write_stresses(folder: Path, cases: list[str], refined: int = 2) -> MeshArrays:
    """stress.vtu of a block with every load case."""
    mesh = block(refined)
    nodal, cells = {}, {}
    for number, case in enumerate(cases):
        nodal[f"displacement:{case}"] = 0.001 * mesh.points
        nodal[f"equivalent_stress:{case}"] = stress_of(mesh.points, number)
        cells[f"error:{case}"] = np.linspace(0.5, 2.0, len(mesh.tets)) * (number + 1.0)
    write_vtu(folder / "stress.vtu", mesh, nodal, cells)
    return mesh


def made_from(arm: Path, *steps: str, **inputs: str) -> Origin:
    """What a product says that it was made from: files as they are now, `inputs` by their place below `params`, the program."""
    shas = {
        name: hashlib.sha256((TOP / "params" / name).read_bytes()).hexdigest() for name in inputs.values()
    }
    return Origin(arm=hashlib.sha256(arm.read_bytes()).hexdigest(), inputs=shas, program=digest(*steps))


def summary(folder: Path, source: Path | None = None, **changes) -> None:
    """summary.json with what the mesh would have said, made from `source`, else the folder's own file."""
    found = read_model(folder / "hand.json", HandFile)
    arm = read_arm(folder / "arm.yaml")
    section = arm.geometry.section
    made = made_from(source or folder / "arm.yaml", *TO_SUMMARY, material=f"materials/{arm.material}.yaml")
    by_hand = found.governing
    own = {
        "arm": arm.name,
        "revision": arm.revision,
        "mass_kg": found.mass_kg,
        "mesh_mass_kg": found.mass_kg,
        "sizes_mm": {
            "depth_at_hub": section.depth_at_hub,
            "hub": arm.geometry.pivot.outside,
            "width": section.width,
        },
        "governing": f"{by_hand.check} at {by_hand.place}, {by_hand.load_case}",
        "hand_margin": found.least_margin,
        "parameter_sha256": made.arm,
        "origin": made,
        "cases": {case: Position(at="100 % of the swing", fraction=1.0) for case in arm.load_cases},
    }
    write_json(folder / "summary.json", a_summary(**own | changes))


def one_arm(folder: Path, text: str) -> list[str]:
    """Everything of one folder with an arm.yaml of this text; its load cases."""
    folder.mkdir(parents=True, exist_ok=True)
    (folder / "arm.yaml").write_text(text, encoding="utf-8")
    hand.main(folder / "arm.yaml", folder)
    cases = list(read_arm(folder / "arm.yaml").load_cases)
    write_stresses(folder, cases)
    summary(folder)
    return cases


def results(folder: Path, text: str | None = None) -> Path:
    """A whole folder of one arm up to the page's data, with dates of the demo routes."""
    text = text or (ARMS / "bench-lever.yaml").read_text()
    written = folder / "as-written"
    one_arm(written, text)
    write_csv(written / "resultants.csv", STATICS, [dict(zip(STATICS, line, strict=True)) for line in FORCES])
    write_csv(written / "verify.csv", BESIDE, [dict(zip(BESIDE, line, strict=True)) for line in LINES])
    heads = ["level", "per_quarter_bore", "unknowns", "peak_MPa", "change_percent"]
    write_csv(written / "convergence.csv", heads, [dict(zip(heads, line, strict=True)) for line in LEVELS])
    pictures(written)
    sweep.main(written / "arm.yaml", folder / "sweep" / "designs.csv")
    front.choose(folder)
    for row in read_csv(folder / "sweep" / "chosen.csv"):
        one_arm(folder / "designs" / row["id"], text)
    front.judge(folder)
    routes = sorted((TOP / "params" / "routes").glob("*.yaml"))
    write_dates(routes, TOP / "params" / "outages" / "early-summer.yaml", folder / "making")
    data.main(folder)
    return folder


def pictures(folder: Path) -> None:
    """Blank pictures where a run would have drawn the mesh; the two drawings are real."""
    target = folder / "pictures"
    target.mkdir()
    for name in data.STILLS:
        Image.new("RGB", (1560, 888), "white").save(target / f"{name}.png")
    free_body(folder, target / "free-body.svg")
    section_forces(folder, target / "diagrams.svg")


def params_of(folder: Path, name: str = "bench-lever") -> Path:
    """A folder of parameter files with one arm of the demo."""
    folder.mkdir(parents=True)
    copyfile(ARMS / f"{name}.yaml", folder / f"{name}.yaml")
    return folder
