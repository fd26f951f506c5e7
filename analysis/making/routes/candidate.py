"""A design of a route as a parameter file of its own: `python -m analysis.making.routes.candidate results/ARM ROUTE.yaml ID`.

Writes results/ARM/making/ROUTE/designs/ID/arm.yaml: the arm's file with the sizes, material and factors of the route.
"""

from __future__ import annotations

import copy
from pathlib import Path
from typing import Any

from analysis.making.routes.sweep import SIZES
from analysis.sweep.file_sections import put_in
from analysis.sweep.on_route import FACTORS, WALLS, Fitted, fitted
from analysis.sweep.swept import with_sizes
from analysis.tables.files import read_csv
from params.files.commented import commented
from params.files.read import read_arm, read_material
from params.files.readroute import read_route
from params.files.yamlfile import read_yaml
from params.schema.arm import Arm
from params.schema.route import Route
from params.schema.units import inside, outside, shown_unit
from params.steps.arguments import arguments
from params.steps.guard import one_line_errors
from params.steps.results import ResultFile


def written(data: dict[str, Any], adapted: Fitted, row: dict[str, str], route: Route) -> str:
    """The parameter file `data` with the sizes of a row of front.csv and all that the route changes."""
    unit = shown_unit("length", adapted.arm.units)
    result, new = copy.deepcopy(data), adapted.arm
    section, geometry = result["geometry"]["section"], result["geometry"]
    for name in (*WALLS, "fillet"):
        section.pop(name, None)
    for name in SIZES:
        if text := row[f"{name}_{unit}"]:
            (geometry["pivot"] if name == "hub" else section)["outside" if name == "hub" else name] = (
                f"{text} {unit}"
            )
    section["kind"] = new.geometry.section.kind
    geometry["blend_radius"] = f"{outside(new.geometry.blend_radius, unit, 'length'):.7g} {unit}"
    result["material"], result["route"] = new.material, route.name
    for name, case in new.load_cases.items():
        if case.design_factor is not None:
            result["load_cases"][name]["design_factor"] = case.design_factor
    for name in FACTORS:
        if name in result["criteria"] or getattr(new.criteria, name) != 1.0:
            result["criteria"][name] = getattr(new.criteria, name)
    result["sweep"] = {name: value for name, value in result["sweep"].items() if name not in WALLS}
    sizes = {
        name: inside(float(row[f"{name}_{unit}"]), unit, "length") for name in SIZES if row[f"{name}_{unit}"]
    }
    put_in(result, with_sizes(new, sizes), route)
    head = f"{data['name']} made by the route {row['route']}: design {row['id']}. {row['notes']}."
    return commented(result, Arm, head)


def text_of_candidate(folder: Path, route: Route, identifier: str) -> str:
    """The parameter file of a design that results/ARM/making/ROUTE/front.csv lists, as the arm's file and the route now have it."""
    arm, table = folder / "as-written" / "arm.yaml", folder / "making" / route.name / "front.csv"
    row = ResultFile({row["id"]: row for row in read_csv(table)}, table)[identifier]
    given = read_arm(arm)
    adapted = fitted(
        given,
        route,
        read_material(given.material, given.library),
        read_material(row["material"], given.library),
    )
    return written(read_yaml(arm).data, adapted, row, route)


def main(folder: Path, source: Path, identifier: str) -> None:
    route = read_route(source)
    target = folder / "making" / route.name / "designs" / identifier / "arm.yaml"
    target.parent.mkdir(parents=True, exist_ok=True)
    target.write_text(text_of_candidate(folder, route, identifier))
    read_arm(target)


if __name__ == "__main__":
    with one_line_errors():
        main(*arguments(__doc__, results=Path, route=Path, design=str))
