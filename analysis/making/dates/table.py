"""Dates of routes against an outage: `python -m analysis.making.dates.table ROUTE.yaml... --outage OUTAGE.yaml DIR`.

Writes tasks.csv (a row a task), ready.csv (chance by day) and dates.csv (a row a route) for all the routes given; ways.csv (two
routes at once, a spare), failures.csv (a failed examination) and work.csv (the work in the outage) beside them.
"""

from __future__ import annotations

import datetime
import sys
from collections.abc import Sequence
from pathlib import Path
from typing import Any

import numpy as np

from analysis.making.dates.calendar import TIE, first_day, last_day
from analysis.making.dates.cost import exchanged
from analysis.making.dates.outcome import judged
from analysis.making.dates.plan import Plan, plan
from analysis.making.dates.risk import chance_ready, day_by, whole
from analysis.making.dates.ways import FAILURES, WAYS, WORK, failures, ways, work_rows
from analysis.making.pieces.deposition import too_large, with_pieces
from analysis.tables import confidence
from analysis.tables.columns import system_of
from analysis.tables.confidence import EVEN, SHARES, SURE
from analysis.tables.files import known, read_csv, write_csv
from analysis.tables.names import names
from params.files.read import placed
from params.files.readroute import read_outage, read_route
from params.files.yamlfile import YamlFile, read_yaml
from params.schema.route import Route
from params.schema.schedule import Outage
from params.steps.arguments import Parser
from params.steps.caution import CAUTION
from params.steps.guard import one_line_errors
from params.steps.problems import ParameterError, Problem

TASKS = [
    *names(
        "route task title after calendar low_d likely_d high_d chance early_start early_finish late_start"
        " late_finish due_start due_finish total_float_d free_float_d critical criticality"
        " rank_correlation gain_d"
    ),
    *(f"p{share}_finish" for share in SHARES),
    "caution",
]
READY = ["route", "date", "chance_ready", "caution"]
DATES = [
    *names(
        "route title outage order_date outage_opens outage_closes distribution samples seed"
        " shortest_ready planned_ready"
    ),
    *(f"p{share}_ready" for share in SHARES),
    *names(
        "planned_slack_d chance_ready chance_standard_error chance_missed mean_late_d latest_order_planned"
    ),
    *(f"latest_order_p{share}" for share in SHARES),
    *names("expected_cost_of_lateness currency consequence note"),
    *(f"float_p{share}_d" for share in (EVEN, SURE)),
    *names(
        "past chance_missed_week_later cost_of_a_week missed_means next_opens work_planned_d work_p90_d needed_by"
        " planned_done normal_mean_ready normal_deviation_d chance_missed_normal caution"
    ),
]


def task_rows(route: Route, outage: Outage, schedule: Plan) -> list[dict[str, Any]]:
    """A row for each task: planned dates, floats, and what the drawn networks say of it."""
    rows = []
    for number, (name, task) in enumerate(route.tasks.items()):
        row: dict[str, Any] = {
            "route": route.name,
            "task": name,
            "title": task.title,
            "after": " ".join(task.after),
            "calendar": task.calendar,
            "low_d": task.low,
            "likely_d": task.likely,
            "high_d": task.high,
            "chance": task.chance,
            "caution": CAUTION,
            "total_float_d": schedule.total_float[number],
            "free_float_d": schedule.free_float[number],
            "critical": bool(schedule.critical[number]),
            "criticality": schedule.risk.criticality[number],
            "rank_correlation": schedule.risk.rank_correlation[number],
            "gain_d": known(schedule.risk.gain[number]),
        }
        for share in SHARES:
            row[f"p{share}_finish"] = last_day(
                outage.order, day_by(schedule.risk.finish[number], share / 100.0)
            )
        if schedule.work[number] > 0.0:  # a task that the plan leaves out has no planned dates
            for kind, moments in (("early", schedule.early), ("late", schedule.late), ("due", schedule.due)):
                row[f"{kind}_start"] = first_day(outage.order, moments.start[number])
                row[f"{kind}_finish"] = last_day(outage.order, moments.finish[number])
        rows.append(row)
    return rows


def ready_rows(route: Route, outage: Outage, schedule: Plan) -> list[dict[str, Any]]:
    """Chance of being ready by the end of each day, from the first to the last day drawn."""
    ends, counts = np.unique(np.ceil(schedule.risk.ready - TIE), return_counts=True)
    chance = dict(zip(ends, np.cumsum(counts) / schedule.risk.ready.size, strict=True))
    rows, share = [], 0.0
    for end in np.arange(ends[0] - 1.0, ends[-1] + 1.0):
        share = chance.get(end, share)
        day = last_day(outage.order, end)
        rows.append({"route": route.name, "date": day, "chance_ready": share, "caution": CAUTION})
    return rows


def date_row(route: Route, outage: Outage, schedule: Plan) -> dict[str, Any]:
    """The row of one route: dates by confidence, chance of missing the outage, latest order; the normal approximation beside."""
    window = schedule.window
    chance, error = chance_ready(schedule.risk.ready, schedule.opens)
    planned = float(schedule.early.finish.max())
    work, longest = float(window.planned.sum()), float(np.quantile(window.work, 0.9, method="inverted_cdf"))
    closes = window.span(0)[1]
    return judged(window, schedule.outcome, exchanged(route, outage).lateness) | {
        "route": route.name,
        "title": route.title,
        "outage": outage.name,
        "order_date": outage.order,
        "outage_opens": outage.opens,
        "outage_closes": outage.closes,
        "distribution": outage.distribution,
        "samples": outage.samples,
        "seed": outage.seed,
        "shortest_ready": last_day(outage.order, schedule.shortest),
        "planned_ready": last_day(outage.order, planned),
        "planned_slack_d": schedule.needed_by - whole(np.array(planned)),
        "chance_ready": chance,
        "chance_standard_error": error,
        "latest_order_planned": first_day(outage.order, schedule.due.start.min()),
        "consequence": route.lateness.consequence,
        "note": out_of_reach(outage, schedule),
        "missed_means": outage.missed,
        "next_opens": outage.order + datetime.timedelta(window.span(1)[0]),
        "work_planned_d": work,
        "work_p90_d": longest,
        "needed_by": last_day(outage.order, schedule.needed_by),
        "planned_done": last_day(outage.order, max(float(whole(np.array(planned))), schedule.opens) + work),
        "normal_mean_ready": last_day(outage.order, schedule.normal.mean),
        "normal_deviation_d": schedule.normal.deviation,
        "chance_missed_normal": schedule.normal.after(closes, work, window.spread),
        "caution": CAUTION,
    }


def out_of_reach(outage: Outage, schedule: Plan) -> str:
    """Why the outage cannot be met at all; empty where it can."""
    opens, closes = schedule.window.span(0)
    soonest = closes - sum(stage.low for stage in outage.work.values())
    if whole(np.array(schedule.shortest)) <= max(soonest, opens):
        return ""
    return f"even if every task takes its shortest time, the part is ready only on {last_day(outage.order, schedule.shortest)}"


def warning(outage: Outage, file: YamlFile, route: str, note: str) -> Problem:
    """An outage that a route cannot meet, as one line of the terminal."""
    limit = f"the order is on {outage.order}"
    mend = "order earlier, move the outage or choose another route"
    return Problem(
        str(file.path), file.line(("opens",)), "opens", str(outage.opens), f"{route}: {note}", limit, mend
    )


def masses(rows: list[dict[str, str]], route: str) -> list[float]:
    """Deposit masses of a route's pieces, kg, from a table with deposit_mass_kg and, for several routes, route."""
    own = [row for row in rows if row.get("route", route) == route]
    return [float(row["deposit_mass_kg"]) for row in own if row["deposit_mass_kg"]]


def read_routes(paths: Sequence[Path], pieces: Path | None) -> list[Route]:
    """Routes of these files, those that deposit with the durations of their pieces.

    Raises
    ------
    ParameterError
        for a file at fault or a piece that no cell carries.
    """
    routes, problems = [], []
    rows = read_csv(pieces) if pieces else []
    units = system_of(rows[0]) if rows else "si"
    for path in paths:
        route = read_route(path)
        heavy = masses(rows, route.name) if route.deposition else []
        problems += [placed(fault, read_yaml(path)) for fault in too_large(route, heavy, units)]
        routes.append(with_pieces(route, heavy) if heavy else route)
    if problems:
        raise ParameterError(problems)
    return routes


def write_dates(
    paths: Sequence[Path], outage_path: Path, folder: Path, pieces: Path | None = None
) -> list[dict[str, Any]]:
    """Write the tables for these routes; the rows of dates.csv come back."""
    outage, file = read_outage(outage_path)
    routes = read_routes(paths, pieces)
    plans = [(route, outage, plan(route, outage)) for route in routes]
    rows = [date_row(*one) for one in plans]
    write_csv(folder / "tasks.csv", TASKS, (row for one in plans for row in task_rows(*one)))
    write_csv(folder / "ready.csv", READY, (row for one in plans for row in ready_rows(*one)))
    write_csv(folder / "dates.csv", DATES, rows)
    write_csv(folder / "ways.csv", WAYS, ways(plans))
    write_csv(folder / "failures.csv", FAILURES, (row for one in plans for row in failures(*one)))
    write_csv(folder / "work.csv", WORK, (row for one in plans for row in work_rows(*one)))
    for row in rows:
        if row["note"]:
            print(warning(outage, file, row["route"], row["note"]), file=sys.stderr)
    return rows


def summary_line(row: dict[str, Any]) -> str:
    """One route in a line."""
    return (
        f"{row['route']}: ready as planned on {row['planned_ready']}, with {EVEN} % confidence by {row[confidence.READY_EVEN]}, "
        f"with {SURE} % by {row[confidence.READY]}; chance of missing the outage, {row['outage_opens']} to {row['outage_closes']}: "
        f"{100.0 * row['chance_missed']:.1f} % (normal approximation {100.0 * row['chance_missed_normal']:.1f} %); "
        f"order by {row[confidence.ORDER] or 'no day'} for {SURE} % confidence"
        + (", which is past" if row["past"] else "")
    )


def main(arguments: list[str] | None = None) -> int:
    parser = Parser(description="Dates of routes against an outage.")
    parser.add_argument("routes", type=Path, nargs="+", help="route files")
    parser.add_argument("folder", type=Path, help="where the tables go")
    parser.add_argument("--outage", type=Path, required=True, help="outage file")
    parser.add_argument("--pieces", type=Path, help="table of pieces with the column deposit_mass_kg")
    options = parser.parse_intermixed_args(arguments)
    try:
        rows = write_dates(options.routes, options.outage, options.folder, options.pieces)
    except ParameterError as error:
        print(error, file=sys.stderr)
        return 1
    print(*(summary_line(row) for row in rows), CAUTION, sep="\n")
    return 0


if __name__ == "__main__":
    with one_line_errors():
        sys.exit(main())
