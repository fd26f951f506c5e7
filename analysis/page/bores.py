"""Fits, lives, cracks and inspection of an arm for the page, where they have been computed."""

from __future__ import annotations

import math
from dataclasses import dataclass
from pathlib import Path

from analysis.page.tables import Row, Table, laid_out, number
from analysis.tables.columns import chance, in_units
from analysis.tables.files import read_csv
from analysis.tables.governing import governing
from analysis.tables.number import figure, percent
from params.schema.units import System
from params.steps.out_of_range import NOT_GOVERNED, NOT_SETTLED, STATUS

MOST_ROWS = 60  # of an open table; all of them stand in the file
TITLES = {
    "fit.csv": "Fits",
    "contact.csv": "Contact of pin and bore",
    "duty.csv": "What a working cycle does",
    "life.csv": "Years to a crack",
    "explained.csv": "Why it cracked",
    "cracks.csv": "Found cracks",
    "inspection.csv": "Acceptable flaws and inspection",
    "materials.csv": "This arm in other materials",
}
COLUMNS = {  # of the long tables: the columns that matter most; the file has all
    "life.csv": (
        "arm",
        "fits",
        "material",
        "region",
        "surface",
        "from_case",
        "to_case",
        "range",
        "allowable_range",
        "stress_unit",
        "years",
        "fretting_used",
        "years_fretting_least",
        "years_fretting_most",
        "years_interference_least",
        "years_interference_most",
        "years_band_percent",
        "margin",
        "stress_band_percent",
        "settled",
        "status",
        "note",
    ),
    "explained.csv": (
        "crack",
        "part",
        "what",
        "residual",
        "least",
        "value",
        "most",
        "coarser",
        "unit",
        "range_tried",
        "years",
        "settled",
        "status",
        "note",
    ),
    "cracks.csv": (
        "crack",
        "material",
        "region",
        "shape",
        "length",
        "depth",
        "length_unit",
        "residual",
        "residual_stress",
        "stress_unit",
        "Kr",
        "Lr",
        "years",
        "lasts_to",
        "end",
        "outage",
        "chance_at_outage",
        "beyond_range_at_outage",
        "status",
        "note",
    ),
    "contact.csv": (
        "bore",
        "fit",
        "load_case",
        "contact_arc_deg",
        "peak_pressure_MPa",
        "peak_middle_MPa",
        "largest_gap_mm",
        "coarser_contact_arc_deg",
        "coarser_peak_pressure_MPa",
        "coarser_peak_middle_MPa",
        "lift_off_share",
        "status",
    ),
    "materials.csv": (
        "material",
        "title",
        "yield_strength",
        "tensile_strength",
        "stress_unit",
        "charpy",
        "energy_unit",
        "margin",
        "governing",
        "lightest",
        "mass_unit",
        "years",
        "life_settled",
        "critical_at_pivot_bore",
        "length_unit",
        "status",
        "note",
    ),
    "inspection.csv": (
        "region",
        "flaw",
        "arm",
        "material",
        "method",
        "found_depth",
        "found_length",
        "acceptable_depth",
        "acceptable_length",
        "critical_depth",
        "unit",
        "interval_years",
        "life_years",
        "end",
        "status",
        "note",
    ),
}


HEADS = {
    "Kr": "Kr: stress intensity over toughness",
    "Lr": "Lr: load over limit load",
    "lift_off_share": "share of the bore without contact",
    "years": "years to a crack",
    "fretting_used": "fretting factor used",
    "years_fretting_least": "years at the worst fretting factor",
    "years_fretting_most": "years at the mildest",
    "years_interference_least": "years at the least interference",
    "years_interference_most": "years at the most",
    "critical_at_pivot_bore, mm": "critical flaw at the pivot bore, mm",
    "critical_at_pivot_bore, in": "critical flaw at the pivot bore, in",
    "which": "arm as written or the fit compared",
}
NOTES = {
    "duty.csv": "At the governing place of each arm, on its worst plane. A range of less than a fifth of the static stress is"
    " hardly what a working machine does: is each lift unloaded?",
    "explained.csv": "Fatigue makes a first crack, growth makes it the one found; the answer is whether both together take no"
    " longer than the arm has served. Where they do, or would, a cause is moved alone within the range that stands beside it.",
    "life.csv": "Years in a bore rest on a fretting factor that no calculation knows and on where in its tolerance the fit lies:"
    " beside the years at the factor used and the mean interference stand those at the worst and mildest factor and at the least"
    " and most interference. Empty: the place does not rub, its fit is not tight, or no cycle does damage. The contact is"
    " solved on two meshes: years that move by over 10 % and margins whose stress moves by over 5 % are not settled, and the"
    " note has both values; the others have the band that follows.",
}
OWN = {
    "cracks.csv": {"years": "lasts, years"},
    "explained.csv": {
        "years": "years that it gives",
        "what": "figure or cause",
        "coarser": "value on the coarser mesh",
    },
}  # heads that mean something else in one table


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
        if all_rows := in_units(rows(folder, name), units):
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
    least: dict[tuple[str, str, str], Row] = {}
    for row in table_rows:
        key = row["arm"], row["material"], row["fits"]
        if row["margin"] and (key not in least or float(row["margin"]) < float(least[key]["margin"])):
            least[key] = row
    none = dict.fromkeys(
        f"Life, {row['arm']} ({row['material']}; {row['fits']}): {row['surface']} {row['status']}: {row['note']}."
        for row in table_rows
        if row["status"] in (STATUS, NOT_SETTLED) and not row["margin"]
    )
    return [*none] + [
        f"Life, {arm} ({material}; {fits}): {years(row)} at {row['region'].replace('_', ' ')}, "
        f"margin {percent(float(row['margin']))}."
        for (arm, material, fits), row in least.items()
    ]


def years(row: Row) -> str:
    if f"years {NOT_SETTLED}" in row.get("note", ""):
        return f"years to a crack {NOT_SETTLED} ({row['years_by_mesh']})"
    value = number(row["years"])
    return "no fatigue damage under the duty" if value is None else f"{rough(value)} years to a crack"


def crack_lives(table_rows: list[Row]) -> list[str]:
    lines = []
    for row in governing(table_rows):
        if row["status"] == STATUS and not row["end"]:
            lines.append(f"Found crack {row['crack']}: {STATUS}, its life is not known: {row['note']}.")
            continue
        life = number(row["years"])
        lasts = (
            "does not grow to failure" if life is None else f"lasts {rough(life)} years, to {row['lasts_to']}"
        )
        at = number(row["chance_at_outage"])
        sure = "" if at is None else f"; chance of lasting to the outage on {row['outage']}: {chance(at)}"
        why = f" ({row['note']})" if row["status"] == STATUS else ""
        lines.append(f"Found crack {row['crack']}: {lasts}{sure}{why}.")
    return lines


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
        key, value = (row["arm"], row["material"], row["region"]), interval(row)
        if value is not None and (key not in longest or value > (interval(longest[key]) or 0.0)):
            longest[key] = row
    least: dict[tuple[str, str], Row] = {}
    for (arm, material, _), row in longest.items():
        known = least.get((arm, material))
        if known is None or (interval(row) or 0.0) < (interval(known) or 0.0):
            least[arm, material] = row
    return [
        f"Inspection, {arm} ({material}): {row['region'].replace('_', ' ')} by {row['method']} "
        f"{often(interval(row) or 0.0)}."
        for (arm, material), row in least.items()
    ] + unjudged(table_rows)


def unjudged(table_rows: list[Row]) -> list[str]:
    """Regions of each arm and material that could not be judged, and why."""
    none = [row for row in table_rows if row["status"] == STATUS and not number(row["interval_years"])]
    none = [row for row in none if not row["acceptable_depth"]]
    return list(
        dict.fromkeys(
            f"Inspection, {row['arm']} ({row['material']}): {row['region'].replace('_', ' ')} {STATUS}: {row['note']}."
            for row in none
        )
    )


def interval(row: Row) -> float | None:
    """Years between examinations; infinite where growth asks for none."""
    return math.inf if NOT_GOVERNED in row.get("note", "") else number(row["interval_years"])


def often(years: float) -> str:
    if math.isinf(years):
        return f"is {NOT_GOVERNED}"
    return f"at least every {rough(years)} years" if years > 0.0 else "is not enough at any interval"
