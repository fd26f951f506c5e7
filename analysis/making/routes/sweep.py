"""One route's own sweep and its front: `python -m analysis.making.routes.sweep ARM.yaml ROUTE.yaml DIR`.

Writes designs.csv, as the sweep of the arm does, and front.csv: the designs that are feasible by hand and that no other beats in
both mass and margin, lightest first, or one row that says why there is none.
"""

from __future__ import annotations

import sys
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
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
from params.schema.units import System, outside, show, shown_unit
from params.steps.arguments import Parser
from params.steps.arrays import Floats
from params.steps.caution import CAUTION
from params.steps.guard import one_line_errors
from params.steps.out_of_range import joined
from params.steps.problems import ParameterError

SIZES = (*SWEPT, "fillet")


@dataclass(frozen=True)
class Swept:
    """The sweep in one of the route's materials; `first` is the number of its first design among those of all materials."""

    adapted: Fitted
    sizes: dict[str, Floats]
    screened: Least
    first: int = 0

    @property
    def material(self) -> str:
        return self.adapted.arm.material

    @property
    def checked(self) -> bool:
        """Whether its flaws are checked; a material without known toughness has fewer checks to pass."""
        return self.adapted.arm.cracks is not None


def fit(arm: Arm, route: Route) -> list[Swept]:
    """The sweep in each of the route's materials, in their order."""
    own, result, count = read_material(arm.material, arm.library), [], 0
    for name in route.materials:
        material = read_material(name, arm.library)
        adapted = fitted(arm, route, own, material)
        sizes, screened = swept(adapted, material, route)
        result.append(Swept(adapted, sizes, screened, count))
        count += len(screened.mass)
    return result


def fronts(sweeps: list[Swept]) -> list[tuple[Swept, int]]:
    """The front of each material, lightest first, that with the lightest design first.

    Each has its own, for what the mesh sees need not follow strength. Materials whose flaws cannot be checked count only where no
    other has a feasible design.
    """
    own = [(one, front(one.adapted.arm, one.screened)) for one in sweeps]
    own = [(one, found) for one, found in own if len(found)]
    if any(one.checked for one, _ in own):
        own = [(one, found) for one, found in own if one.checked]
    own.sort(key=lambda pair: (float(pair[0].screened.mass[pair[1][0]]), pair[0].first))
    return [(one, int(index)) for one, found in own for index in found]


def by_material(sweeps: list[Swept], units: System) -> str:
    """The lightest design of each material by hand, in a line; empty where the route has one material."""
    if len(sweeps) < 2:
        return ""
    said = []
    for one in sweeps:
        found = front(one.adapted.arm, one.screened)
        least = show(float(one.screened.mass[found[0]]), "mass", units) if len(found) else "none"
        said.append(f"{one.material} {least}{'' if one.checked or not len(found) else ', flaws not checked'}")
    return f"lightest by hand by material: {'; '.join(said)}"


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


def front_rows(sweeps: list[Swept], route: Route) -> tuple[list[str], list[dict[str, Any]]]:
    """Columns and the rows of front.csv."""
    arm, kept = sweeps[0].adapted.arm, fronts(sweeps)
    unit, named_materials = shown_unit("length", arm.units), by_material(sweeps, arm.units)
    named = [f"{name}_{unit}" for name in SIZES]
    reasons = np.concatenate([one.screened.reason for one in sweeps])
    common: dict[str, Any] = {
        "route": route.name,
        "title": route.title,
        "form": route.form,
        "deposits": route.deposition is not None,
        "section": arm.geometry.section.kind,
        "designs": len(reasons),
        "buildable": int(np.sum(reasons == "")),
        "feasible": sum(int(np.sum(feasible(one.adapted.arm, one.screened))) for one in sweeps),
        "least_margin": arm.criteria.least_margin,
        "caution": CAUTION,
    }
    columns = [
        *names("route title form deposits material section id"),
        *named,
        *names(
            "mass_kg hand_margin hand_governing least_margin designs buildable feasible reason notes caution"
        ),
    ]
    if not kept:
        return columns, [common | of_none(sweeps, route, named_materials)]
    return columns, [common | of_design(one, index, unit, named_materials) for one, index in kept]


def of_none(sweeps: list[Swept], route: Route, named_materials: str) -> dict[str, Any]:
    """The row of a route without a design: the reason in each material."""
    last = sweeps[-1]
    reasons = [(one.material, why_none(one.adapted.arm, one.screened, route)) for one in sweeps]
    said = reasons[0][1] if len(sweeps) == 1 else "; ".join(f"{name}: {why}" for name, why in reasons)
    return {
        "material": last.material,
        "reason": said,
        "notes": joined(*last.adapted.notes, named_materials),
    }


def of_design(one: Swept, index: int, unit: str, named_materials: str) -> dict[str, Any]:
    """What a row of front.csv says of its design."""
    design = with_sizes(one.adapted.arm, at(one.sizes, index))
    return {
        "id": f"d{one.first + index:06d}",
        "material": one.material,
        "mass_kg": one.screened.mass[index],
        "hand_margin": one.screened.margin[index],
        "hand_governing": one.screened.governing[index],
        "notes": joined(*one.adapted.notes, named_materials),
        **{f"{name}_{unit}": size_of(design, name, unit) for name in SIZES},
    }


def design_rows(sweeps: list[Swept]) -> Iterator[dict[str, Any]]:
    """The rows of designs.csv, numbered through all materials."""
    for one in sweeps:
        for number, row in enumerate(rows(one.adapted.arm, one.sizes, one.screened), one.first):
            yield {**row, "id": f"d{number:06d}", "material": one.material}


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
    sweeps = fit(arm, route)
    heads = [*columns(sweeps[0].adapted.arm, sweeps[0].sizes), "material"]
    write_csv(options.folder / "designs.csv", heads, design_rows(sweeps))
    heads, kept = front_rows(sweeps, route)
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
