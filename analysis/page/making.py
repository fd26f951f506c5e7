"""Routes and dates of an arm for the page, where they have been computed."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import Any

from analysis.page.tables import Row, Table, laid_out
from analysis.tables import confidence
from analysis.tables.columns import chance, in_units
from analysis.tables.confidence import ORDER, ORDER_EVEN, READY, READY_EVEN, WITH
from analysis.tables.files import read_csv, read_json
from params.schema.units import System

DECISION = "decision.csv"
OTHERS = {
    "choices.csv": "Choices",
    "failures.csv": "If an examination fails",
    "work.csv": "Work in the outage",
    "pieces.csv": "Pieces of the deposited part",
    "routes.csv": "Routes",
}
DATE_COLUMNS = (
    "route",
    "title",
    "order_date",
    "planned_ready",
    READY_EVEN,
    READY,
    "outage_opens",
    "outage_closes",
    "needed_by",
    "work_planned_d",
    "planned_done",
    "chance_missed",
    "chance_missed_normal",
    "missed_means",
    "next_opens",
    "mean_late_d",
    ORDER_EVEN,
    ORDER,
    "float_p90_d",
    "past",
    "expected_cost_of_lateness",
    "cost_of_a_week",
    "currency",
    "consequence",
    "note",
)
HEADS = {
    **confidence.HEADS,
    "title": "description",
    "planned_ready": "ready as planned",
    "needed_by": "part needed by, work as planned",
    "work_planned_d": "work in the outage, days",
    "planned_done": "work finished as planned",
    "chance_missed": "chance of missing the outage",
    "chance_missed_normal": "chance of missing it, normal approximation",
    "missed_means": "missed, it waits for",
    "next_opens": "next outage opens",
    "mean_late_d": "mean lateness, days",
    "past": "order date past",
    "cost_of_a_week": "a week later costs",
    "chance_missed_week_later": "chance of missing the outage, ordered a week later",
    "load_limit_percent": "share of its loads, percent",
    "added_d": "days later",
    f"{READY}_if_passed": f"ready if passed, {WITH}",
    f"{READY}_if_failed": f"ready if failed, {WITH}",
}
DECIDED = (
    ("Decision", ("route",), ""),
    (
        "Two routes at once, and a spare",
        ("two routes", "spare"),
        f"route {READY} {ORDER} past chance_missed cost_likely expected_total cost_of_a_week currency sensitivity note",
    ),
    (
        "The arm in service kept",
        ("keep",),
        "route title chance_of_lasting load_limit_percent expected_cost_of_lateness currency note",
    ),
)
PARTS = ("recommended", "other route", "lightest swept", "as written")  # choices of which a part is described
INSIDE = "work in the outage"
BAR = ("title", "early_start", "early_finish", "late_finish", "p90_finish", "critical")


def making(folder: Path, units: System = "si") -> dict[str, Any]:
    """Tables and, for each route, its chart; empty where nothing was planned."""
    tables = decided(folder, units)
    for name, title in OTHERS.items():
        if found := rows(folder / name):
            wanted = [row for row in found if row.get("choice", PARTS[0]) in PARTS]
            tables.append((title, f"making/{name}", shown(wanted, units)))
    dates = rows(folder / "dates.csv")
    columns = [name for name in DATE_COLUMNS if dates and name in dates[0]]
    ready = [row | in_words(row) for row in dates]
    said = folder / "answer.json"
    return {
        "answer": read_json(said) if said.exists() else None,
        "dates": laid_out(dates, columns, heads=HEADS) if dates else None,
        "ready": ready,
        "tables": tables,
        "routes": [route(folder, row) for row in dates],
    }


def in_words(row: Row) -> Row:
    """A row of dates.csv as the page's first section says it."""
    past = " (past)" if row["past"] == "yes" else ""
    return {
        "chance_missed": chance(float(row["chance_missed"])),
        "ready_even": row[READY_EVEN],
        "ready_sure": row[READY],
        "order_by": (row[ORDER] or "no day") + past,
        "with": WITH,
    }


def rows(path: Path) -> list[Row]:
    return read_csv(path) if path.exists() else []


def decided(folder: Path, units: System) -> list[tuple[str, str, Table]]:
    """The decision in three tables: the routes, other ways to order, the arm in service kept."""
    tables = []
    for title, kinds, columns in DECIDED:
        found = [row for row in rows(folder / DECISION) if row["kind"] in kinds]
        if found:
            tables.append((title, f"making/{DECISION}", shown(found, units, columns.split())))
    return tables


def shown(found: list[Row], units: System, columns: Sequence[str] = ()) -> Table:
    """These columns of some rows, or all, the route first."""
    table_rows = in_units(found, units)
    wanted = columns or sorted(table_rows[0], key=lambda name: name != "route")
    return laid_out(table_rows, wanted, heads=HEADS)


def stage(row: Row) -> Row:
    """A stage of the work in the outage as a bar."""
    own = {"early_start": row["start"], "early_finish": row["finish"], "late_finish": row["finish"]}
    return own | {"title": row["title"], "p90_finish": "", "critical": INSIDE}


def route(folder: Path, dates: Row) -> dict[str, Any]:
    """Bars of the tasks, chance of being ready by each day, and the outage."""
    name = dates["route"]
    tasks = [row for row in rows(folder / "tasks.csv") if row["route"] == name]
    tasks += [stage(row) for row in rows(folder / "work.csv") if row["route"] == name]
    ready = [row for row in rows(folder / "ready.csv") if row["route"] == name]
    return {
        "title": dates["title"],
        "name": name,
        "chart": {
            "name": name,
            "opens": dates["outage_opens"],
            "closes": dates["outage_closes"],
            "needed": dates["needed_by"],
            "inside": INSIDE,
            "with": WITH,
            "tasks": [{key: row[key] for key in BAR} for row in tasks],
            "ready": [[row["date"], float(row["chance_ready"])] for row in ready],
        },
    }
