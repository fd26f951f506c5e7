"""Makes the demo survey: `python -m tests.survey.demo` writes params/surveys/quay-rocker. Everything in it is invented; seeded."""

from __future__ import annotations

from pathlib import Path

import numpy as np
from plyfile import PlyData, PlyElement

from params.schema.arm import Arm
from tests.arms import changed, demo
from tests.survey import simulator
from tests.survey.simulator import Instrument

FOLDER = Path(__file__).parents[2] / "params" / "surveys" / "quay-rocker"
POINTS = 32_000  # of each setup, so that the whole demo stays near a megabyte
SIZES = {
    "geometry__input_arm": 1246.0,
    "geometry__output_arm": 1755.0,
    "geometry__included_angle": np.radians(164.2),
    "geometry__blend_radius": 110.0,
    "geometry__pivot__bore": 320.04,
    "geometry__pivot__outside": 702.0,
    "geometry__pivot__width": 361.0,
    "geometry__input__bore": 140.05,
    "geometry__input__outside": 321.0,
    "geometry__input__width": 261.0,
    "geometry__output__bore": 150.03,
    "geometry__output__outside": 333.0,
    "geometry__output__width": 262.0,
    "geometry__section__depth_at_hub": 596.0,
    "geometry__section__depth_at_pins": 303.0,
    "geometry__section__width": 241.0,
    "geometry__section__flange_thickness": 44.2,
    "geometry__section__web_thickness": 39.1,
    "geometry__section__fillet": 22.0,
}
WORN, OVAL = 0.35, 0.12  # mm: the output bore's wear on one side; two lobes of the pivot bore
PIT = (1000.0, 0.0, 4.0, 140.0)  # a corroded place of the output arm's edge: s, z, depth and half length, mm


def arm() -> Arm:
    return changed(demo("linkspan-rocker"), **SIZES)


def worn(places: np.ndarray, normals: np.ndarray) -> np.ndarray:
    """How far the surface lies below the true one, mm."""
    made = np.zeros(len(places))
    end = places[:, :2] - [SIZES["geometry__output_arm"], 0.0]
    wall = (np.hypot(*end.T) < 75.5) & (np.abs(normals[:, 2]) < 0.1)
    turn = np.arctan2(end[:, 1], end[:, 0])
    made[wall] = WORN * np.clip(np.cos(turn[wall] - 1.0), 0.0, None) ** 2
    hub = (np.hypot(*places[:, :2].T) < 160.5) & (np.abs(normals[:, 2]) < 0.1)
    made[hub] = OVAL * np.cos(2.0 * (np.arctan2(*places[hub, 1::-1].T) - 0.4))
    s, _, depth, half = PIT
    edge = (normals[:, 1] > 0.9) & (np.abs(places[:, 0] - s) < half) & (places[:, 1] > 80.0)
    made[edge] = depth * np.cos(np.pi * (places[edge, 0] - s) / half / 2.0) ** 2
    return made


def points() -> list[np.ndarray]:
    """The setups, in mm, in common axes."""
    one = arm()
    stations = np.vstack(
        [simulator.around(one, 2, seed=2, side=1.0), simulator.around(one, 2, seed=5, side=-1.0)]
    )[[0, 1, 2]]
    tool = Instrument(noise=0.15, mixed=0.2, outliers=0.01, scale=10e-6, offset=0.01)
    trestles = [simulator.box((80.0, 600.0, 80.0), (x, -620.0, 0.0)) for x in (-650.0, 1000.0)]
    scan = simulator.scan(one, stations, 200_000, tool, seed=11, depth=worn, clutter=trestles)
    random = np.random.default_rng(3)
    return [part[np.sort(random.permutation(len(part))[:POINTS])] for part in scan.setups]


def main() -> None:
    FOLDER.mkdir(parents=True, exist_ok=True)
    for number, part in enumerate(points(), 1):
        table = np.zeros(len(part), dtype=[(axis, "<f4") for axis in "xyz"])
        for k, axis in enumerate("xyz"):
            table[axis] = part[:, k]
        made = PlyData(
            [PlyElement.describe(table, "vertex")], comments=["invented, made by a simulated scanner"]
        )
        made.write(str(FOLDER / f"setup-{number}.ply"))
        print(len(part))


if __name__ == "__main__":
    main()
