"""Fits, lives, cracks and inspection of an arm for the page, where they have been computed."""

from __future__ import annotations

import math
from dataclasses import dataclass
from pathlib import Path

from analysis.page.bores_columns import COLUMNS, HEADS, NOTES, OWN, TITLES
from analysis.page.tables import Row, Table, laid_out, number
from analysis.tables.columns import chance, in_units
from analysis.tables.files import read_csv
from analysis.tables.governing import governing
from analysis.tables.number import figure, percent
from analysis.tables.unsettled import in_words
from params.schema.units import System
from params.steps.out_of_range import NOT_GOVERNED, NOT_SETTLED, STATUS

MOST_ROWS = 60  # of an open table; all of them stand in the file


@dataclass(frozen=True)
class Shown:
    """One table of the section: title, file, rows that are shown, number of all, a sentence on how to read it."""

    title: str
    file: str
    table: Table
    count: int
    note: str = ""


def rows(folder: Path, name: str) -> list[Row]:
    return read_csv(folder / name) if (folder / name).exists() else []


def bores(folder: Path, units: System = "si") -> list[Shown]:
    """The tables that are there."""
    tables = []
    for name, title in TITLES.items():
        if all_rows := in_units([in_words(row) for row in rows(folder, name)], units):
            columns = wanted(name, all_rows, units)
            mark = "status" if "status" in columns else None
            exact = name == "fit.csv"  # a fit's size counts in micrometres
            cells = laid_out(all_rows[:MOST_ROWS], columns, mark, exact, HEADS | OWN.get(name, {}))
            tables.append(Shown(title, f"bores/{name}", cells, len(all_rows), NOTES.get(name, "")))
    return tables


def wanted(name: str, all_rows: list[Row], units: System) -> list[str]:
    """Columns of a table that are shown, as far as it has them; in US units some have other names."""
    columns = COLUMNS.get(name)
    named = in_units([dict.fromkeys(columns, "")], units)[0] if columns else all_rows[0]
    return [column for column in named if column in all_rows[0]]


def answers(folder: Path, sweep: Path) -> list[str]:
    """The least life of each arm compared and of the recommended design, how long each found crack lasts, and when to look next.

    A sentence each.
    """
    return [
        *lives(rows(folder, "life.csv")),
        *lives(rows(sweep, "life.csv")),
        *duties(rows(folder, "duty.csv")),
        *why(rows(folder, "explained.csv")),
        *crack_lives(rows(folder, "cracks.csv")),
        *looks(rows(folder, "inspection.csv")),
    ]


def rough(value: float) -> str:
    """Two significant digits: no life is known better."""
    return figure(float(f"{value:.2g}"))


def lives(table_rows: list[Row]) -> list[str]:
    """Of each arm compared the place of least margin, and what could not be judged."""
    least: dict[tuple[str, str, str], Row] = {}
    for row in table_rows:
        key = row["arm"], row["material"], row["fits"]
        if counted(row) and (key not in least or float(counted(row)) < float(counted(least[key]))):
            least[key] = row
    none = dict.fromkeys(
        f"Life, {row['arm']} ({row['material']}; {row['fits']}): {row['surface']} {row['status']}: {row['note']}."
        for row in table_rows
        if row["status"] in (STATUS, NOT_SETTLED) and not counted(row)
    )
    return [*none] + [
        f"Life, {arm} ({material}; {fits}): {years(row)} at {row['region'].replace('_', ' ')}, margin {margin(row)}."
        for (arm, material, fits), row in least.items()
    ]


def counted(row: Row) -> str:
    """The margin that counts: the less favourable of those of two meshes."""
    return row.get("margin_least") or row["margin"]


def margin(row: Row) -> str:
    if row["status"] == NOT_SETTLED and not row["margin"]:
        return f"{NOT_SETTLED} ({row['margin_by_mesh']})"
    return percent(float(row["margin"])) + banded(row, "stress_band_percent", " on the stress")


def banded(row: Row, name: str, of: str = "") -> str:
    """The band of a figure in words, or that one mesh shows none."""
    band = number(row.get(name, ""))
    if band is not None:
        return f" (band {figure(float(f'{band:.2g}'))} %{of})"
    return " (one mesh, no band)" if row.get("settled") == "one mesh" else ""


def years(row: Row) -> str:
    if f"years {NOT_SETTLED}" in row.get("note", ""):
        return f"years to a crack {NOT_SETTLED} ({row['years_by_mesh']})"
    value = number(row["years"])
    if value is None:
        return "no fatigue damage under the duty"
    return f"{rough(value)} years to a crack" + banded(row, "years_band_percent")


def crack_lives(table_rows: list[Row]) -> list[str]:
    lines = []
    for row in governing(table_rows):
        if row["status"] == STATUS and not row["end"]:
            lines.append(f"Found crack {row['crack']}: {STATUS}, its life is not known: {row['note']}.")
            continue
        life = number(row["years"])
        lasts = (
            "does not grow to failure"
            if life is None
            else f"lasts {rough(life)} years{banded(row, 'years_band_percent')}, to {row['lasts_to']}"
        )
        if moved(row, "years"):
            lasts = f"its life is {NOT_SETTLED} ({row['years_by_mesh']})"
        why = f" ({row['note']})" if row["status"] == STATUS else ""
        lines.append(f"Found crack {row['crack']}: {lasts}{chance_of(row)}{why}.")
    return lines


def chance_of(row: Row) -> str:
    """The chance of lasting to the outage, where it is known."""
    head = f"; chance of lasting to the outage on {row['outage']}: "
    if moved(row, "chance_at_outage"):
        least = float(row["chance_at_outage_least"])
        return f"{head}{NOT_SETTLED} ({row['chance_at_outage_by_mesh']}), {chance(least)} counts"
    at = number(row["chance_at_outage"])
    return "" if at is None else head + chance(at)


def moved(row: Row, name: str) -> bool:
    """Whether a figure of the tables of cracks has not settled: what the table says of its note."""
    return (
        row.get("settled") == "no"
        and not row[name]
        and f"{name.replace('_', ' ')} {NOT_SETTLED}" in row["note"]
    )


def duties(table_rows: list[Row]) -> list[str]:
    """What the duty asks of who wrote it."""
    return list(dict.fromkeys(f"Duty: {row['note']}" for row in table_rows if row["note"]))


def why(table_rows: list[Row]) -> list[str]:
    """Whether the duty explains each found crack, and what would."""
    return [f"Why it cracked, {row['crack']}: {row['note']}" for row in table_rows if row["part"] == "answer"]


def looks(table_rows: list[Row]) -> list[str]:
    """Of each arm and material the region to be looked at most often, by the method that allows the longest interval there."""
    longest: dict[tuple[str, str, str], Row] = {}
    for row in (one for one in table_rows if one.get("flaw") != "embedded"):
        key, value = (row["arm"], row["material"], row["region"]), between(row)
        if value is not None and (key not in longest or value > (between(longest[key]) or 0.0)):
            longest[key] = row
    least: dict[tuple[str, str], Row] = {}
    for (arm, material, _), row in longest.items():
        known = least.get((arm, material))
        if known is None or (between(row) or 0.0) < (between(known) or 0.0):
            least[arm, material] = row
    return [
        f"Inspection, {arm} ({material}): {row['region'].replace('_', ' ')} by {row['method']} "
        f"{often(between(row) or 0.0)}{unsure(row)}."
        for (arm, material), row in least.items()
    ] + unjudged(table_rows)


def between(row: Row) -> float | None:
    """The interval that counts, years: the less favourable of those of two meshes; infinite where growth asks for none."""
    years = number(row.get("interval_years_least") or row["interval_years"])
    return math.inf if years is None and NOT_GOVERNED in row.get("note", "") else years


def unsure(row: Row) -> str:
    return f" ({NOT_SETTLED}: {row['interval_years_by_mesh']})" if moved(row, "interval_years") else ""


def unjudged(table_rows: list[Row]) -> list[str]:
    """Regions of each arm and material that could not be judged, and why."""
    none = [row for row in table_rows if row["status"] == STATUS and not between(row)]
    none = [row for row in none if not row["acceptable_depth"]]
    return list(
        dict.fromkeys(
            f"Inspection, {row['arm']} ({row['material']}): {row['region'].replace('_', ' ')} {STATUS}: {row['note']}."
            for row in none
        )
    )


def often(years: float) -> str:
    if math.isinf(years):
        return f"is {NOT_GOVERNED}"
    return f"at least every {rough(years)} years" if years > 0.0 else "is not enough at any interval"
