"""Results of one arm for the record: the hand calculation as it is, stand-ins for the mesh, which takes minutes to make."""

from __future__ import annotations

import json
from pathlib import Path

from matplotlib.figure import Figure

from analysis.contracts.elastic import ElasticCase, ElasticFile, Fibre, Peak, PivotSection, Solver
from analysis.contracts.hand import HandCase, HandFile
from analysis.hand.evaluate import evaluate
from analysis.hand.files import write
from analysis.proof.beside import main as verify
from analysis.proof.summary import summary
from analysis.record.book import PICTURES
from analysis.tables.files import write_csv, write_json
from params.files.read import read_arm, read_material
from params.steps.contract import read_model
from tests.arms import ARMS
from tests.summaries import MESH

PLACES = ("pivot_bore", "input_bore", "output_bore", "outside")


def hand_only(name: str, root: Path, **fields: str) -> Path:
    """The files of the hand calculation; `fields` replaces lines of the parameter file by their key, `=` the whole line."""
    folder = root / "as-written"
    folder.mkdir(parents=True)
    lines = (ARMS / f"{name}.yaml").read_text().splitlines()
    for key, value in fields.items():
        index = next(i for i, line in enumerate(lines) if line.lstrip().startswith(f"{key}:"))
        indent = lines[index][: len(lines[index]) - len(lines[index].lstrip())]
        lines[index] = indent + (value[1:] if value.startswith("=") else f"{key}: {value}")
    if fields.get("kind") == "solid":
        lines = without(lines, ("flange_thickness", "web_thickness", "fillet"))
    (folder / "arm.yaml").write_text("\n".join(lines) + "\n")
    arm = read_arm(folder / "arm.yaml")
    write(evaluate(arm, read_material(arm.material)), folder)
    return root


def without(lines: list[str], keys: tuple[str, ...]) -> list[str]:
    """Lines of a parameter file less some keys and what is indented below them."""
    kept, gone = [], None
    for line in lines:
        depth = len(line) - len(line.lstrip())
        gone = gone if gone is not None and depth > gone else None
        gone = depth if gone is None and line.lstrip().startswith(tuple(f"{key}:" for key in keys)) else gone
        if gone is None:
            kept.append(line)
    return kept


def whole(name: str, root: Path, **fields: str) -> Path:
    """Everything that the record reads."""
    folder = hand_only(name, root, **fields) / "as-written"
    write_json(folder / "elastic.json", elastic(read_model(folder / "hand.json", HandFile)))
    columns = [
        "level",
        "per_quarter_bore",
        "unknowns",
        "place",
        "peak_MPa",
        "change_percent",
        "order",
        "band_percent",
        "settled",
    ]
    rows = [dict.fromkeys(columns, "1") | {"place": place, "settled": "yes"} for place in PLACES]
    write_csv(folder / "convergence.csv", columns, rows)
    verify(folder)
    write_json(folder / "summary.json", summary(folder))
    for picture in PICTURES:
        (folder / "pictures").mkdir(exist_ok=True)
        Figure(figsize=(2.0, 1.0)).savefig(folder / "pictures" / picture)
    return root


def elastic(hand: HandFile) -> ElasticFile:
    """A mesh that agrees with the hand calculation to the last digit."""
    return ElasticFile(
        caution="",
        mass_kg=hand.mass_kg,
        cg_mm=(*hand.cg_mm, 0.0),
        cases={name: solved(case) for name, case in hand.cases.items()},
        bands_percent=dict.fromkeys(PLACES, 1.0),
        fatigue={},
        flaws={},
        settled=True,
        mesh=MESH,
        solver=Solver(method="none", iterations=1, note=""),
        seconds={"prove": 1.0},
        peak_memory_MB=1.0,
    )


def solved(case: HandCase) -> ElasticCase:
    at = (0.0, 0.0, 0.0)
    peak = Peak(equivalent=1.0, equivalent_at=at, principal=1.0, principal_at=at)
    stations = {
        limb: tuple(
            Fibre(s=row.s, sigma_plus=row.sigma_plus, sigma_minus=row.sigma_minus, largest=row.equivalent)
            for row in rows
        )
        for limb, rows in case.stations.items()
    }
    return ElasticCase(
        pin_force=case.pin_force,
        deflection=case.deflection,
        stations=stations,
        fraction=case.fraction,
        peaks=dict.fromkeys(PLACES, peak),
        pivot_section=PivotSection(M3=1.0, mean_inner=1.0, mean_outer=1.0),
        reaction=0.0,
        imbalance=0.0,
        energy_error=0.01,
        rebalanced=0.0,
        residual=1e-9,
        load_mismatch=0.0,
        suction_MPa={},
    )


def quoted(text: str) -> str:
    """Text as a double-quoted scalar of the parameter file."""
    return json.dumps(text, ensure_ascii=False)
