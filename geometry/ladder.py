"""The ways in which a mesh is tried, one after the other, each in a process of its own and told in the log.

First the sizes that the arm's file asks for; then finer where elements failed; then other triangles on the faces and other
tetrahedra behind them.
"""

from __future__ import annotations

import json
import signal
import subprocess
import sys
from dataclasses import asdict, dataclass, replace
from pathlib import Path
from typing import Any

import numpy as np

from geometry.refused import MeshRefused, Place
from params.steps.results import read_json

ROOT = Path(__file__).resolve().parent.parent
LEAST_QUALITY = 0.05  # see geometry.quality: 1 a regular tetrahedron, 0 one that is flat or folds at a point
COMMAND = ("-m", "geometry.mesher_step")
Spot = tuple[float, float, float, float]  # place and edge of an element that failed, mm


@dataclass(frozen=True)
class Step:
    """One way to mesh."""

    told: str
    surface: str = "frontal"
    volume: str = "delaunay"
    shrink: float = 1.0  # on every size


STEPS = (
    Step("sizes of the arm's file"),
    Step("finer where elements failed"),
    Step("every size 3/4", shrink=0.75),
    Step("other triangles on the faces", surface="delaunay", shrink=0.85),
    Step("other tetrahedra", volume="frontal", shrink=0.75),
)


@dataclass(frozen=True)
class Job:
    """What one attempt needs; lengths in mm."""

    brep: str
    faces: str
    growth: float
    largest: float
    count: int  # elements to a quarter of each bore
    pins: dict[str, dict[str, Any]]
    targets: tuple[str, ...]
    least: float  # quality wanted
    step: Step
    spots: tuple[Spot, ...]  # where earlier attempts failed

    @staticmethod
    def read(text: str) -> Job:
        told = json.loads(text)
        return Job(**told | {"step": Step(**told["step"])})


def climb(job: Job) -> tuple[dict[str, Any], int]:
    """Figures of the first mesh that passes the gate (as geometry.quality.Quality), and the steps that it took.

    Raises
    ------
    MeshRefused
        where no step passes; names where, why, and the fields of the arm's file to change.
    """
    why, place = "", (0.0, 0.0, 0.0)
    for number, step in enumerate(STEPS, 1):
        answer = tried(replace(job, step=step))
        if "made" in answer:
            return answer["made"], number
        why, place = answer["why"], tuple(answer["place"])
        print(f"mesh: step {number} of {len(STEPS)}, {step.told}: {MeshRefused(why, place)}", flush=True)
        job = replace(job, spots=(*job.spots, *answer["spots"]))
    advice = mend(read_json(Path(job.faces)), place)
    raise MeshRefused(f"no sound mesh in {len(STEPS)} steps: {why}", place, advice)


def tried(job: Job) -> dict[str, Any]:
    """The answer of one attempt; one that ends without an answer ran out of time or memory."""
    command, told = [sys.executable, *COMMAND], json.dumps(asdict(job))
    done = subprocess.run(command, input=told, capture_output=True, text=True, check=False, cwd=ROOT)
    if done.returncode == 0:
        return json.loads(done.stdout.splitlines()[-1])
    if done.returncode == -signal.SIGXCPU:
        why = "the mesher did not end in the time that meshes of this size take"
    elif done.returncode < 0:
        why = f"the mesher was ended by signal {-done.returncode}"
    else:
        raise RuntimeError(done.stderr.strip() or f"the mesher ended with {done.returncode}")
    return {"why": why, "place": job.spots[0][:3] if job.spots else (0.0, 0.0, 0.0), "spots": []}


def mend(named: dict[str, Any], place: Place) -> str:
    """What to change for a mesh that fails at this place: fields of the arm's file."""
    away = {
        name.removesuffix("_bore"): float(
            np.hypot(*np.subtract(place[:2], bore["centre_mm"])) / bore["radius_mm"]
        )
        for name, bore in named["bores"].items()
    }
    part = min(away, key=lambda name: away[name])
    if away[part] < 1.5:
        return f"change geometry.{part}.chamfer or make mesh.largest smaller"
    if away[part] < 3.5:
        fields = f"geometry.blend_radius, geometry.{part}.outside or geometry.{part}.width"
        return f"change {fields} a little, or make mesh.growth smaller"
    return "change geometry.blend_radius or geometry.section.fillet a little, or make mesh.largest smaller"
