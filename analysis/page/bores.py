"""Fits, lives, cracks and inspection of an arm for the page, where they have been computed."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from analysis.columns import chance
from analysis.page.tables import Row, Table, figure, number, percent, table
from analysis.tables import read_csv

MOST_ROWS = 60  # of an open table; all of them stand in the file
TITLES = {
    "fit.csv": "Fits", "contact.csv": "Contact of pin and bore", "life.csv": "Years to a crack", "cracks.csv": "Found cracks",
    "inspection.csv": "Acceptable flaws and inspection", "materials.csv": "This arm in other materials",
}  # fmt: skip
COLUMNS = {  # of the long tables: what is asked first; the file has the rest
    "life.csv": (
        "arm", "fits", "material", "region", "surface", "from_case", "to_case", "range", "allowable_range", "stress_unit", "years",
        "utilisation", "margin", "status", "note",
    ),
    "cracks.csv": (
        "crack", "material", "region", "shape", "length", "depth", "length_unit", "Kr", "Lr", "years", "lasts_to", "end", "outage",
        "chance_at_outage", "note",
    ),
    "inspection.csv": (
        "region", "arm", "material", "method", "found_depth", "found_length", "acceptable_depth", "acceptable_length",
        "critical_depth", "unit", "interval_years", "life_years", "end", "note",
    ),
}  # fmt: skip


@dataclass(frozen=True)
class Shown:
    """One table of the section: title, file, rows that are shown, number of all."""

    title: str
    file: str
    made: Table
    count: int


def rows(folder: Path, name: str) -> list[Row]:
    return read_csv(folder / name) if (folder / name).exists() else []


def bores(folder: Path) -> list[Shown]:
    """The tables that are there."""
    found = []
    for name, title in TITLES.items():
        if all_rows := rows(folder, name):
            columns = [column for column in COLUMNS.get(name, all_rows[0]) if column in all_rows[0]]
            mark = "status" if "status" in columns else None
            made = table(
                all_rows[:MOST_ROWS], columns, mark, exact=name == "fit.csv"
            )  # a fit's size counts in micrometres
            found.append(Shown(title, f"bores/{name}", made, len(all_rows)))
    return found


def answers(folder: Path) -> list[str]:
    """The least life of each arm compared, how long each found crack lasts, and when to look next: a sentence each."""
    return [
        *lives(rows(folder, "life.csv")),
        *lasting(rows(folder, "cracks.csv")),
        *looks(rows(folder, "inspection.csv")),
    ]


def rough(value: float) -> str:
    """Two significant digits: no life is known better."""
    return figure(float(f"{value:.2g}"))


def lives(table_rows: list[Row]) -> list[str]:
    least: dict[tuple[str, str, str], Row] = {}
    for row in table_rows:
        key = row["arm"], row["material"], row["fits"]
        if row["margin"] and (key not in least or float(row["margin"]) < float(least[key]["margin"])):
            least[key] = row
    return [
        f"Life, {arm} ({material}; {fits}): {years(row)} at {row['region'].replace('_', ' ')}, "
        f"margin {percent(float(row['margin']))}."
        for (arm, material, fits), row in least.items()
    ]


def years(row: Row) -> str:
    value = number(row["years"])
    return "no damage by the duty" if value is None else f"{rough(value)} years to a crack"


def lasting(table_rows: list[Row]) -> list[str]:
    found = []
    for row in table_rows:
        life = number(row["years"])
        lasts = (
            "does not grow to an end" if life is None else f"lasts {rough(life)} years, to {row['lasts_to']}"
        )
        at = number(row["chance_at_outage"])
        sure = "" if at is None else f"; chance of lasting to the outage on {row['outage']}: {chance(at)}"
        found.append(f"Found crack {row['crack']}: {lasts}{sure}.")
    return found


def looks(table_rows: list[Row]) -> list[str]:
    """The shortest interval of each arm and material."""
    least: dict[tuple[str, str], Row] = {}
    for row in table_rows:
        key, value = (row["arm"], row["material"]), number(row["interval_years"])
        if value is not None and (key not in least or value < float(least[key]["interval_years"])):
            least[key] = row
    return [
        f"Inspection, {arm} ({material}): {row['region'].replace('_', ' ')} by {row['method']} "
        f"at least every {rough(float(row['interval_years']))} years."
        for (arm, material), row in least.items()
    ]
