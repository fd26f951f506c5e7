"""Routes and dates of an arm for the page, where they have been computed."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from analysis.page.tables import Row, Table, laid_out
from analysis.tables.columns import chance, in_units
from analysis.tables.files import read_csv
from params.schema.units import System

DECISION = "decision.csv"
OTHERS = {"pieces.csv": "Pieces of the deposited part", "routes.csv": "Routes"}
TOLD = (
    "route", "title", "order_date", "planned_ready", "p50_ready", "p80_ready", "p90_ready", "outage_opens", "outage_closes",
    "chance_missed", "mean_late_d", "latest_order_p90", "expected_cost_of_lateness", "currency", "consequence", "note",
)  # fmt: skip
HEADS = {
    "title": "what it is", "p50_ready": "half sure", "p80_ready": "80 % sure", "p90_ready": "90 % sure", "planned_ready": "planned",
    "chance_missed": "chance of missing it", "mean_late_d": "mean lateness, days", "latest_order_p90": "order by, to be 90 % sure",
}  # fmt: skip
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
    columns = [name for name in TOLD if dates and name in dates[0]]
    told = [row | {"chance_missed": chance(float(row["chance_missed"]))} for row in dates]
    return {
        "dates": laid_out(dates, columns, heads=HEADS) if dates else None, "ready": told, "tables": tables,
        "routes": [route(folder, row) for row in dates],
    }  # fmt: skip


def rows(path: Path) -> list[Row]:
    return read_csv(path) if path.exists() else []


def shown(path: Path, units: System) -> Table:
    found = in_units(rows(path), units)
    columns = sorted(found[0], key=lambda name: name != "route")  # the route first, the rest in their order
    return laid_out(found, columns, heads=HEADS)


def route(folder: Path, dates: Row) -> dict[str, Any]:
    """Bars of the tasks, chance of being ready by each day, and the outage."""
    name = dates["route"]
    tasks = [row for row in rows(folder / "tasks.csv") if row["route"] == name]
    ready = [row for row in rows(folder / "ready.csv") if row["route"] == name]
    return {
        "title": dates["title"], "name": name,
        "chart": {
            "name": name, "opens": dates["outage_opens"], "closes": dates["outage_closes"],
            "tasks": [{key: row[key] for key in BAR} for row in tasks],
            "ready": [[row["date"], float(row["chance_ready"])] for row in ready],
        },
    }  # fmt: skip
