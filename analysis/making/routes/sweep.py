"""One route's own sweep and its front: `python -m analysis.making.routes.sweep ARM.yaml ROUTE.yaml DIR`.

Writes designs.csv, as the sweep of the arm does, and front.csv: the designs that are feasible by hand and that no other beats in
both mass and margin, lightest first, or one row that says why there is none.
"""

from __future__ import annotations

import sys
from collections import Counter
from dataclasses import replace
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import NDArray

from analysis.hand.screen import Least
from analysis.mechanics.sizes import SWEPT
from analysis.sweep.front import non_dominated
from analysis.sweep.on_route import Fitted, fitted, least_wall
from analysis.sweep.screen_all import columns, feasible, rows
from analysis.sweep.swept import at, swept, with_sizes
from analysis.tables.files import write_csv
from analysis.tables.names import names
from analysis.tables.number import percent
from params.files.read import read_arm, read_material
from params.files.readroute import read_route
from params.schema.arm import Arm
from params.schema.route import Route
from params.schema.units import outside, show, shown_unit
from params.steps.arguments import Parser
from params.steps.arrays import Floats
from params.steps.caution import CAUTION
from params.steps.guard import one_line_errors
from params.steps.problems import ParameterError

SIZES = (*SWEPT, "fillet")


def fit(arm: Arm, route: Route) -> tuple[Fitted, dict[str, Floats], Least]:
    """The sweep in the first of the route's materials that has a feasible design; in the last where none has."""
    own, vain = read_material(arm.material, arm.library), []
    for name in route.materials:
        material = read_material(name, arm.library)
        adapted = fitted(arm, route, own, material)
        sizes, screened = swept(adapted, material, route)
        if len(front(adapted.arm, screened)):
            break
        vain.append(f"no design in {name} passes the hand checks{with_margin(arm)}")
    return replace(adapted, notes=(*adapted.notes, *vain)), sizes, screened


def front(arm: Arm, screened: Least) -> NDArray[np.intp]:
    """Indices of the feasible designs that no other beats in both mass and margin, lightest first."""
    good = np.flatnonzero(feasible(arm, screened))
    return good[non_dominated(screened.mass[good], screened.margin[good])]


def with_margin(arm: Arm) -> str:
    """The least margin wanted, as the end of a sentence; empty where none is."""
    wanted = arm.criteria.least_margin
    return f" with a margin of {percent(wanted)}" if wanted else ""


def why_none(arm: Arm, screened: Least, route: Route) -> str:
    """The reason in a line: what most designs fail by, or by how much the best of them fails."""
    if not len(screened.mass):
        return (
            f"no plate in stock reaches {least_wall(route):g} mm, the route's least wall, and the arm's range"
        )
    built = np.flatnonzero(screened.reason == "")
    if not len(built):
        reason, count = Counter(screened.reason.tolist()).most_common(1)[0]
        return f"none of {len(screened.mass)} designs can be made: {reason} ({count} of them)"
    nearest = int(built[np.argmax(screened.margin[built])])
    least = f"{screened.margin[nearest]:+.3f} ({screened.governing[nearest]})"
    passes = f"passes the hand checks{with_margin(arm)}"
    return f"none of {len(built)} designs {passes}; the best, d{nearest:06d}, has a least margin of {least}"


def front_rows(
    adapted: Fitted, route: Route, sizes: dict[str, Floats], screened: Least
) -> tuple[list[str], list[dict[str, Any]]]:
    """Columns and the rows of front.csv."""
    unit, indices = shown_unit("length", adapted.arm.units), front(adapted.arm, screened)
    named = [f"{name}_{unit}" for name in SIZES]
    common: dict[str, Any] = {
        "route": route.name,
        "title": route.title,
        "form": route.form,
        "deposits": route.deposition is not None,
        "material": adapted.arm.material,
        "section": adapted.arm.geometry.section.kind,
        "designs": len(screened.mass),
        "buildable": int(np.sum(screened.reason == "")),
        "feasible": int(np.sum(feasible(adapted.arm, screened))),
        "least_margin": adapted.arm.criteria.least_margin,
        "notes": "; ".join(adapted.notes),
        "caution": CAUTION,
    }
    columns = [
        *names("route title form deposits material section id"),
        *named,
        *names(
            "mass_kg hand_margin hand_governing least_margin designs buildable feasible reason notes caution"
        ),
    ]
    if not len(indices):
        return columns, [common | {"reason": why_none(adapted.arm, screened, route)}]
    return columns, [common | of_design(adapted, sizes, screened, index, unit) for index in map(int, indices)]


def of_design(
    adapted: Fitted, sizes: dict[str, Floats], screened: Least, index: int, unit: str
) -> dict[str, Any]:
    """What a row of front.csv says of its design."""
    design = with_sizes(adapted.arm, at(sizes, index))
    return {
        "id": f"d{index:06d}",
        "mass_kg": screened.mass[index],
        "hand_margin": screened.margin[index],
        "hand_governing": screened.governing[index],
        **{f"{name}_{unit}": size_of(design, name, unit) for name in SIZES},
    }


def size_of(arm: Arm, field: str, unit: str) -> float | None:
    """One size in the unit of the tables; none in a bar for its plates."""
    size = arm.geometry.pivot.outside if field == "hub" else getattr(arm.geometry.section, field)
    return None if size is None else outside(size, unit, "length")


def main(arguments: list[str] | None = None) -> int:
    parser = Parser(description="The front of an arm's designs by one route.")
    parser.add_argument("arm", type=Path, help="parameter file of the arm")
    parser.add_argument("route", type=Path, help="route file")
    parser.add_argument("folder", type=Path, help="where designs.csv and front.csv go")
    options = parser.parse_args(arguments)
    try:
        arm, route = read_arm(options.arm), read_route(options.route)
    except ParameterError as error:
        print(error, file=sys.stderr)
        return 1
    adapted, sizes, screened = fit(arm, route)
    write_csv(options.folder / "designs.csv", columns(arm, sizes), rows(arm, sizes, screened))
    heads, kept = front_rows(adapted, route, sizes, screened)
    write_csv(options.folder / "front.csv", heads, kept)
    first = kept[0]
    outcome = (
        first.get("reason")
        or f"lightest {first['id']}, {show(first['mass_kg'], 'mass', arm.units)}, {len(kept)} on the front"
    )
    print(f"{route.name}: {first['feasible']} of {first['designs']} designs pass the hand checks; {outcome}")
    return 0


if __name__ == "__main__":
    with one_line_errors():
        sys.exit(main())
