"""The plan of the cuts: `python -m analysis.making.pieces.cutting ARM.yaml ROUTE.yaml DIR` writes plan.json and joints.csv.

A part of which no split fits the cell gets a plan without pieces and the reason in one line; the run goes on.
"""

from __future__ import annotations

import sys
from pathlib import Path
from typing import Any

from analysis.making.pieces.joints import Joints, joints, rows
from analysis.making.pieces.split import Blank, Split, blank, masses, split, why_not
from analysis.tables.files import write_csv, write_json
from geometry.datums import ARMS
from params.files.read import placed, read_arm, read_material
from params.files.readroute import read_route
from params.files.yamlfile import read_yaml
from params.schema.arm import Arm
from params.schema.route import Route
from params.schema.units import inside, shown_unit
from params.steps.arguments import Parser
from params.steps.caution import CAUTION
from params.steps.guard import one_line_errors
from params.steps.problems import Fault, ParameterError, Problem

MEND = "choose a larger cell, allow joints in more places or choose a lighter design"


def piece_names(split_: Split) -> list[str]:
    """hub, then input and output, numbered from the hub outward where an arm has more than one."""
    names = ["hub"]
    for name, cuts in zip(ARMS, split_.cuts, strict=True):
        names += [name] if len(cuts) == 1 else [f"{name}-{number}" for number in range(1, len(cuts) + 1)]
    return names


def planned(given: Blank, chosen: Split) -> dict[str, Any]:
    """plan.json: cuts and pieces, mm, kg and rad."""
    stations = [(name, given.stations[limb][k]) for limb, name in enumerate(ARMS) for k in chosen.cuts[limb]]
    heavy = masses(given, chosen.cuts)
    return {
        "caution": CAUTION,
        "days": chosen.days,
        "reason": "",
        "cuts": [{"arm": name, "s_mm": s} for name, s in stations],
        "pieces": [
            {"name": name, "turn_rad": box.turn, "estimated_kg": mass}
            for name, box, mass in zip(piece_names(chosen), chosen.boxes, heavy, strict=True)
        ],
    }


def refusal(given: Blank, route: Route, source: Path) -> tuple[dict[str, Any], Problem | None]:
    """A plan without pieces, and why in one line of the terminal."""
    nothing: dict[str, Any] = {"caution": CAUTION, "days": None, "reason": "", "cuts": [], "pieces": []}
    if route.deposition is None:
        return nothing | {"reason": f"the route {route.name} has no deposition"}, None
    key, value, limit = why_not(given, route, route.deposition)
    problem = placed(
        Fault(key, value, "cannot be split into pieces that fit the cell", limit, MEND), read_yaml(source)
    )
    return nothing | {"reason": f"cannot be split into pieces that fit the cell: {value}, {limit}"}, problem


def write(arm: Arm, route: Route, source: Path, folder: Path) -> Problem | None:
    """plan.json and joints.csv; a problem where no split fits."""
    material = read_material(arm.material, arm.library)
    stations = joints(arm, material, route)
    given = blank(arm, route, material.density, stations)
    chosen = split(
        given, route, (stations[0].stress[stations[0].allowed], stations[1].stress[stations[1].allowed])
    )
    plan, problem = (planned(given, chosen), None) if chosen else refusal(given, route, source)
    write_json(folder / "plan.json", plan)
    write_joints(stations, route, plan, arm, folder / "joints.csv")
    return problem


def write_joints(
    stations: tuple[Joints, Joints], route: Route, plan: dict[str, Any], arm: Arm, path: Path
) -> None:
    """Every station of both arms with the share of strength and of life that a joint there would use."""
    unit = shown_unit("length", arm.units)
    scale = inside(1.0, unit, "length")
    chosen = {name: {cut["s_mm"] for cut in plan["cuts"] if cut["arm"] == name} for name in ARMS}
    table = [row for one in stations for row in rows(one, route.name, chosen[one.arm], unit, scale)]
    write_csv(path, [*table[0], "caution"], (row | {"caution": CAUTION} for row in table))


def main(arguments: list[str] | None = None) -> int:
    parser = Parser(description="Where a deposited part is cut into pieces.")
    parser.add_argument("arm", type=Path, help="parameter file of the route's design")
    parser.add_argument("route", type=Path, help="route file")
    parser.add_argument("folder", type=Path, help="where plan.json and joints.csv go")
    options = parser.parse_args(arguments)
    try:
        problem = write(read_arm(options.arm), read_route(options.route), options.route, options.folder)
    except ParameterError as error:
        print(error, file=sys.stderr)
        return 1
    if problem:
        print(problem, file=sys.stderr)
    return 0


if __name__ == "__main__":
    with one_line_errors():
        sys.exit(main())
