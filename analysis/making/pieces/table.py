"""The pieces of every deposited part: `python -m analysis.making.pieces.table results/ARM ROUTE.yaml...` writes pieces.csv.

Reads plan.json and pieces/pieces.json of each route that deposits and has a design; other routes are left out.
"""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import numpy as np

from analysis.making.pieces.deposition import Cells, on_cells, work
from analysis.making.pieces.envelope import Box, stance, stances
from analysis.tables.files import read_json, read_row, write_csv
from analysis.tables.names import names
from params.files.read import read_arm, read_material
from params.files.readroute import read_route
from params.schema.arm import Arm
from params.schema.route import Deposition, Route
from params.schema.units import System, outside, show, shown_unit
from params.steps.arguments import arguments
from params.steps.caution import CAUTION
from params.steps.guard import one_line_errors


def columns(unit: str) -> list[str]:
    lengths = ("length", "depth", "width", "needs_radius", "needs_height", "cg_x", "cg_y", "cg_z")
    return [
        *names("route piece cell deposit_mass_kg finished_mass_kg wire_mass_kg arc_hours days stands"),
        *(f"{name}_{unit}" for name in lengths),
        *names("step note caution"),
    ]


def rows(
    arm: Arm, route: Route, cell: Deposition, plan: dict[str, Any], cut: dict[str, Any]
) -> Iterator[dict[str, Any]]:
    """A row for each piece of a route; one row with the reason where there is none."""
    if not plan["pieces"]:
        yield {"route": route.name, "note": plan["reason"], "caution": CAUTION}
    density, unit = read_material(arm.material, arm.library).density, shown_unit("length", arm.units)
    heavy = [density * piece["volume_mm3"] for piece in cut["pieces"]]
    shared = (
        on_cells([work(cell, mass).days for mass in heavy], cell.cells) if heavy else Cells((), 0.0, True)
    )
    for piece, mass, number, planned in zip(cut["pieces"], heavy, shared.cell, plan["pieces"], strict=True):
        box = Box(planned["turn_rad"], *piece["box_mm"])
        way = stance(box, cell) or stances(box)[0]
        sizes = [*piece["box_mm"], way.radius, way.height, *piece["cg_mm"]]
        lengths = columns(unit)[9:17]
        takes = work(cell, mass)
        yield {
            "route": route.name,
            "piece": piece["name"],
            "cell": number + 1,
            "deposit_mass_kg": mass,
            "finished_mass_kg": density * piece["finished_volume_mm3"],
            "wire_mass_kg": takes.wire_kg,
            "arc_hours": takes.arc_hours,
            "days": takes.days,
            "stands": way.up,
            "step": piece["step"],
            "note": misfit(box, mass, route, cell, arm.units),
            "caution": CAUTION,
            **dict(zip(lengths, outside(np.array(sizes), unit, "length"), strict=True)),
        }


def misfit(box: Box, mass: float, route: Route, cell: Deposition, units: System) -> str:
    """What a piece, measured on its solid, breaks; empty where it fits."""
    if mass > route.limits.largest_mass:
        return f"heavier than the route's largest mass, {show(route.limits.largest_mass, 'mass', units)}"
    return "" if stance(box, cell) else "beyond the reach of the cell"


def of_route(folder: Path, route: Route) -> list[dict[str, Any]]:
    """Rows of one route; none where it deposits nothing or has no design."""
    place = folder / "making" / route.name
    best = read_row(place / "best.csv")
    if route.deposition is None or not best["id"]:
        return []
    arm = read_arm(place / "best" / "arm.yaml")
    plan, cut = read_json(place / "plan.json"), read_json(place / "pieces" / "pieces.json")
    return list(rows(arm, route, route.deposition, plan, cut))


def main(folder: Path, routes: list[Path]) -> None:
    arm = read_arm(folder / "as-written" / "arm.yaml")
    table_rows = [row for path in routes for row in of_route(folder, read_route(path))]
    write_csv(folder / "making" / "pieces.csv", columns(shown_unit("length", arm.units)), table_rows)
    for row in table_rows:
        text = (
            f"{show(row['deposit_mass_kg'], 'mass', arm.units)}, {row['days']:.1f} d on cell {row['cell']}"
            if "piece" in row
            else ""
        )
        print(" ".join(filter(None, (f"{row['route']} {row.get('piece', '')}:", text, row["note"]))))


if __name__ == "__main__":
    with one_line_errors():
        main(*arguments(__doc__, results=Path, routes=[Path]))
