"""One random arm through check, hand calculation, solid and mesh, up to where it ends."""

from __future__ import annotations

import time
from dataclasses import dataclass
from pathlib import Path

from analysis.hand.evaluate import evaluate
from geometry.mesher import MeshRefused, mesh_arm
from geometry.outline import SolidRefused
from geometry.solid import solid, written
from geometry.soundness import reread, soundness
from params.files.read import read_arm, read_material
from params.schema.arm import Arm
from params.steps.problems import OutOfRange, ParameterError
from tests.random_arms.made import arm
from tests.random_arms.yamltext import yaml_text


@dataclass
class Outcome:
    """Where an arm ended: `refused`, `no hand`, `no solid`, `not sound`, `no mesh` or `through`; why; figures."""

    name: str
    ended: str
    why: str = ""
    seconds: float = 0.0
    rows: int = 0  # of checks.csv
    quality: float = 0.0
    elements: int = 0
    steps: int = 0

    def __str__(self) -> str:
        figures = f"{self.rows:4d} rows" if self.rows else ""
        if self.elements:
            figures += f", {self.elements} elements, worst quality {self.quality:.3f}, step {self.steps}"
        return f"{self.name} {self.ended:9s} {self.seconds:6.1f} s  {figures} {self.why}".rstrip()


def tried(seed: int, index: int, folder: Path, count: int, hand: bool) -> Outcome:
    """What comes of one arm; `count` elements to a quarter bore, none: no mesh. Files go to a folder of its own."""
    data, row = arm(seed, index)
    path = folder / f"{row['name']}.yaml"
    path.write_text("\n".join(yaml_text(data)) + "\n", encoding="utf-8")
    start, made = time.perf_counter(), Outcome(str(row["name"]), "through")
    try:
        one = read_arm(path)
        if hand:
            made.rows = len(evaluate(one, read_material(one.material)).rows())
        built(one, folder / path.stem, count, made)
    except ParameterError as error:
        made.ended, made.why = "refused", str(error).splitlines()[0].removeprefix(f"{folder}/")
    except OutOfRange as error:
        made.ended, made.why = "no hand", str(error)
    except SolidRefused as refusal:
        made.ended, made.why = "no solid", str(refusal)
    except MeshRefused as refusal:
        made.ended, made.why = "no mesh", str(refusal)
    made.seconds = time.perf_counter() - start
    return made


def built(one: Arm, folder: Path, count: int, made: Outcome) -> None:
    """Solid, its measures before and after reading it again, and mesh."""
    body = solid(one)
    folder.mkdir()
    written(body, one, folder)
    if faults := [*soundness(body).faults, *reread(folder / "arm.step", body)]:
        made.ended, made.why = "not sound", "; ".join(faults)
    if count:
        report = mesh_arm(folder / "arm.brep", folder / "faces.json", one.mesh, folder / "arm.msh", count)
        made.quality, made.elements, made.steps = report.worst_quality, report.elements, report.attempts
