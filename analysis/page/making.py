"""Routes and dates of an arm for the page, where they have been computed."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from analysis.page.tables import Row, Table, laid_out
from analysis.tables.columns import chance, in_units
from analysis.tables.files import read_csv, read_json
from params.schema.units import System

DECISION = "decision.csv"
OTHERS = {"choices.csv": "Choices", "pieces.csv": "Pieces of the deposited part", "routes.csv": "Routes"}
DATE_COLUMNS = (
    "route",
    "title",
    "order_date",
    "planned_ready",
    "p50_ready",
    "p90_ready",
    "outage_opens",
    "outage_closes",
    "chance_missed",
    "mean_late_d",
    "latest_order_p90",
    "expected_cost_of_lateness",
    "currency",
    "consequence",
    "note",
)
HEADS = {
    "title": "description",
    "p50_ready": "ready, 50 % confidence",
    "p90_ready": "ready, 90 % confidence",
    "planned_ready": "ready as planned",
    "chance_missed": "chance of missing the outage",
    "mean_late_d": "mean lateness, days",
    "latest_order_p90": "order by, 90 % confidence",
}
BAR = ("title", "early_start", "early_finish", "late_finish", "p90_finish", "critical")


def making(folder: Path, units: System = "si") -> dict[str, Any]:
    """Tables and, for each route, its chart; empty where nothing was planned."""
    tables = (
        [("Decision", f"making/{DECISION}", shown(folder / DECISION, units))]
        if rows(folder / DECISION)
        else []
    )
    for name, title in OTHERS.items():
        if rows(folder / name):
            tables.append((title, f"making/{name}", shown(folder / name, units)))
    dates = rows(folder / "dates.csv")
    columns = [name for name in DATE_COLUMNS if dates and name in dates[0]]
    ready = [row | {"chance_missed": chance(float(row["chance_missed"]))} for row in dates]
    said = folder / "answer.json"
    return {
        "answer": read_json(said) if said.exists() else None,
        "dates": laid_out(dates, columns, heads=HEADS) if dates else None,
        "ready": ready,
        "tables": tables,
        "routes": [route(folder, row) for row in dates],
    }


def rows(path: Path) -> list[Row]:
    return read_csv(path) if path.exists() else []


def shown(path: Path, units: System) -> Table:
    table_rows = in_units(rows(path), units)
    columns = sorted(
        table_rows[0], key=lambda name: name != "route"
    )  # the route first, the rest in their order
    return laid_out(table_rows, columns, heads=HEADS)


def route(folder: Path, dates: Row) -> dict[str, Any]:
    """Bars of the tasks, chance of being ready by each day, and the outage."""
    name = dates["route"]
    tasks = [row for row in rows(folder / "tasks.csv") if row["route"] == name]
    ready = [row for row in rows(folder / "ready.csv") if row["route"] == name]
    return {
        "title": dates["title"],
        "name": name,
        "chart": {
            "name": name,
            "opens": dates["outage_opens"],
            "closes": dates["outage_closes"],
            "tasks": [{key: row[key] for key in BAR} for row in tasks],
            "ready": [[row["date"], float(row["chance_ready"])] for row in ready],
        },
    }
