"""Cost of part and lateness by route: `python -m analysis.making.decision.costs results/ARM OUTAGE.yaml ROUTE.yaml...`.

Writes costs.csv from routes.csv (finished mass) and pieces.csv (hours of arc), in the currency of the outage's rates; where
they have none for a route's currency, in the route's own. A route without rates or without a design has empty cells.
"""

from __future__ import annotations

from pathlib import Path
from typing import Any

from analysis.making.dates.cost import currency, exchanged, part_cost, second_cost
from analysis.tables.files import read_csv, write_csv
from analysis.tables.names import names
from params.files.readroute import read_outage, read_route
from params.schema.route import Route
from params.schema.schedule import Outage
from params.steps.arguments import arguments
from params.steps.caution import CAUTION
from params.steps.guard import one_line_errors

COLUMNS = names(
    "route mass_kg arc_hours cost_low cost_likely cost_high late_once late_per_day currency quoted_in"
    " consequence second_low second_likely second_high caution"
)


def row(given: Route, outage: Outage, mass: float | None, arc_hours: float) -> dict[str, Any]:
    """One route: low, likely and high cost of the part, and what lateness costs once and a day."""
    route = exchanged(given, outage)
    late = route.lateness
    values: dict[str, Any] = {
        "route": route.name,
        "mass_kg": mass,
        "arc_hours": arc_hours,
        "consequence": late.consequence,
        "caution": CAUTION,
        "late_once": late.once.amount if late.once else None,
        "late_per_day": late.per_day.amount if late.per_day else None,
        "currency": currency(route),
        "quoted_in": currency(given),
    }
    cost = part_cost(route, mass, arc_hours) if mass is not None else None
    if cost:
        values |= {"cost_low": cost.low, "cost_likely": cost.likely, "cost_high": cost.high}
    if second := second_cost(route, mass, arc_hours) if mass is not None else None:
        values |= {"second_low": second.low, "second_likely": second.likely, "second_high": second.high}
    return values


def main(folder: Path, outage_path: Path, routes: list[Path]) -> None:
    outage, _ = read_outage(outage_path)
    masses = {one["route"]: one["mass_kg"] for one in read_csv(folder / "routes.csv")}
    hours: dict[str, float] = {}
    for piece in read_csv(folder / "pieces.csv"):
        hours[piece["route"]] = hours.get(piece["route"], 0.0) + float(piece["arc_hours"] or 0.0)
    table = []
    for path in routes:
        route = read_route(path)
        mass = masses.get(route.name)
        table.append(row(route, outage, float(mass) if mass else None, hours.get(route.name, 0.0)))
    write_csv(folder / "costs.csv", COLUMNS, table)


if __name__ == "__main__":
    with one_line_errors():
        results, outage, routes = arguments(__doc__, results=Path, outage=Path, routes=[Path])
        main(results / "making", outage, routes)
