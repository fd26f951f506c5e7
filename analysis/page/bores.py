"""Fits, lives, cracks and inspection of an arm for the page, where they have been computed."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from analysis.page.tables import Row, Table, laid_out, number
from analysis.tables.columns import chance, in_units
from analysis.tables.files import read_csv
from analysis.tables.governing import governing
from analysis.tables.number import figure, percent
from params.schema.units import System
from params.steps.out_of_range import NOT_SETTLED, STATUS

MOST_ROWS = 60  # of an open table; all of them stand in the file
TITLES = {
    "fit.csv": "Fits",
    "contact.csv": "Contact of pin and bore",
    "life.csv": "Years to a crack",
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
        "years_band_percent",
        "lasts_to",
        "end",
        "load_factor",
        "load_factor_band_percent",
        "outage",
        "chance_at_outage",
        "chance_at_outage_band_percent",
        "beyond_range_at_outage",
        "settled",
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
        "acceptable_depth_band_percent",
        "acceptable_depth_least",
        "critical_depth",
        "critical_depth_band_percent",
        "unit",
        "interval_years",
        "interval_years_band_percent",
        "interval_years_least",
        "life_years",
        "end",
        "settled",
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
    "load_factor": "load to failure over highest load",
    "chance_at_outage_band_percent": "band of the chance, points",
    "acceptable_depth_least, mm": "less favourable acceptable depth, mm",
    "acceptable_depth_least, in": "less favourable acceptable depth, in",
    "interval_years_least": "less favourable interval, years",
}
NOTES = {
    "life.csv": "Years in a bore rest on a fretting factor that no calculation knows and on where in its tolerance the fit lies:"
    " beside the years at the factor used and the mean interference stand those at the worst and mildest factor and at the least"
    " and most interference. Empty: the place does not rub, its fit is not tight, or no cycle does damage. The contact is"
    " solved on two meshes: years that move by over 10 % and margins whose stress moves by over 5 % are not settled, and the"
    " note has both values; the others have the band that follows. Outside the bores the stresses of the arm without its pins count"
    " too, on three meshes: their band, and the years at another of these meshes' stress.",
}
NOTES |= dict.fromkeys(
    ("cracks.csv", "inspection.csv"),
    "Computed from the stresses on both meshes of the contact: lives and intervals that move by over 10 %, sizes, stress"
    " intensities and load factors by over 5 %, a chance by over two hundredths are not settled; the note has both values, and"
    " what is built on them counts the less favourable.",
)
OWN = {"cracks.csv": {"years": "lasts, years"}}  # heads that mean something else in one table


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
    """The interval that counts, years: the less favourable of those of two meshes."""
    return number(row.get("interval_years_least") or row["interval_years"])


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


def often(interval: float) -> str:
    return f"at least every {rough(interval)} years" if interval > 0.0 else "is not enough at any interval"
