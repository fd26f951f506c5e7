"""Thirty simulated arms of all kinds, surveyed: `python -m tests.survey.study FIRST LAST OUT.csv`. Seeded.

Sizes are drawn within the rules of building; the instrument's scale, offset and shared errors are drawn anew for each arm.
"""

from __future__ import annotations

import csv
import sys
from pathlib import Path

import numpy as np

from analysis.survey import sizes as named
from analysis.survey.arm import find
from analysis.survey.covariance import covariance
from analysis.survey.fit import Expected, fit
from analysis.survey.normals import crowded
from analysis.survey.reduce import thinned
from geometry.outline import SolidRefused
from params.rules.build import building
from params.schema.arm import Arm
from tests.arms import changed, demo
from tests.survey import simulator
from tests.survey.simulator import Instrument

BASES = ("linkspan-rocker", "sluice-crank", "linkspan-rocker")
KINDS = ("i", "box", "solid")
COLUMNS = ("arm", "kind", "size", "true", "found", "uncertainty", "determined", "z")


def drawn(seed: int) -> Arm:
    """An arm of random sizes that keeps the rules of building."""
    random = np.random.default_rng(seed)
    kind = KINDS[seed % 3]
    while True:
        depth = random.uniform(120.0, 500.0)
        end = depth * random.uniform(0.5, 0.9)
        hub, boss = depth * random.uniform(1.08, 1.3), end * random.uniform(1.05, 1.3)
        width = depth * random.uniform(0.3, 0.5)
        reach = 0.5 * (hub + boss + end)
        sizes = {
            "included_angle": np.radians(random.uniform(95.0, 179.0)),
            "blend_radius": depth * random.uniform(0.08, 0.25),
            "input_arm": reach * random.uniform(1.2, 1.7),
            "output_arm": reach * random.uniform(1.75, 2.6),
            "pivot__outside": hub,
            "pivot__bore": hub * random.uniform(0.4, 0.6),
            "pivot__width": width * random.uniform(1.15, 1.5),
            "section__depth_at_hub": depth,
            "section__depth_at_pins": end,
            "section__width": width,
            "section__kind": kind,
        }
        for name in ("input", "output"):
            sizes |= {
                f"{name}__outside": boss * (1.0 if name == "input" else 1.05),
                f"{name}__bore": boss * random.uniform(0.4, 0.55),
                f"{name}__width": width * random.uniform(1.1, 1.3),
            }
        for name in ("pivot", "input", "output"):
            sizes |= {
                f"{name}__chamfer": max(2.0, 0.02 * sizes[f"{name}__bore"]),
                f"{name}__pin__diameter": sizes[f"{name}__bore"],
            }
        plates = {
            "flange_thickness": end * random.uniform(0.1, 0.18),
            "web_thickness": width * random.uniform(0.15, 0.25),
            "fillet": width * 0.08,
        }
        sizes |= {f"section__{name}": None if kind == "solid" else value for name, value in plates.items()}
        arm = changed(
            demo(BASES[seed % 3]),
            **{f"geometry__{name}": value for name, value in sizes.items()},
            mesh__largest=2.0 * depth,
        )
        if list(building(arm)):
            continue
        try:
            simulator.arm_mesh(arm)
        except SolidRefused:
            continue
        return arm


def surveyed(seed: int, noise: float = 0.15) -> list[dict]:
    """One arm's sizes with their truth."""
    arm = drawn(seed)
    kind = arm.geometry.section.kind
    tool = Instrument(
        noise, mixed=0.1, outliers=0.05, scale=10e-6, offset=0.01, waves=0.03 if seed % 2 else 0.0
    )
    scan = simulator.scan(arm, simulator.around(arm, 6, seed), 22_000, tool, seed)
    parts = [np.vstack(scan.setups[:3]), np.vstack(scan.setups[3:])]
    points = np.vstack(parts)
    points = points[crowded(points)]
    guess = find(points[thinned(points, 60_000)], "output")
    state = fit(
        [part[thinned(part, 12_000)] for part in parts],
        guess.kind,
        guess.sizes,
        [guess.pose] * 2,
        Expected(10e-6, 0.01, together=1.0),
        0.015 * (arm.geometry.input_arm + arm.geometry.output_arm),
    )
    certain = covariance(state)
    true = named.of(arm.geometry, "i" if kind == "i" else "solid")
    if state.kind != ("i" if kind == "i" else "solid"):
        raise AssertionError(f"arm {seed}: taken for {state.kind}, is {kind}")
    return [
        {
            "arm": seed,
            "kind": kind,
            "size": row.name,
            "true": true[row.name],
            "found": row.value,
            "uncertainty": row.uncertainty,
            "determined": row.determined,
            "z": (row.value - true[row.name]) / row.uncertainty,
        }
        for row in certain.rows
    ]


def main(first: int, last: int, path: Path) -> None:
    with path.open("w", newline="") as file:
        writer = csv.DictWriter(file, COLUMNS)
        writer.writeheader()
        for seed in range(first, last):
            try:
                writer.writerows(surveyed(seed))
            except Exception as error:  # a study goes on
                print(seed, repr(error), flush=True)
            file.flush()
            print(seed, flush=True)


if __name__ == "__main__":
    main(int(sys.argv[1]), int(sys.argv[2]), Path(sys.argv[3]))
