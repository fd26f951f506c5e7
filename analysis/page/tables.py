"""Tables for people: columns by their names with units, numbers in four significant digits, words for marks."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import Any

from analysis.tables.columns import chance, is_chance, with_units
from analysis.tables.number import figure, percent
from analysis.tables.wide import rows_as_columns, same_and_varying
from params.schema.units import KINDS, System, outside, shown_unit

Row = dict[str, str]
SHARE = {"percent": "%", "d": "days", "y": "years"}
UNITS = {
    name.replace("*", "_").replace("^", ""): name.replace("*", " ").replace("^", "")
    for kind in KINDS.values()
    for name in (kind[2][0], kind[3][0])
} | SHARE
LONGEST = max(name.count("_") for name in UNITS) + 1
UPRIGHT = 8  # columns; a few rows of more stand as columns
HIDDEN = ("caution",)  # stands once on the page, not on every row
MARKS = {
    "fails": "bad",
    "explain": "look",
    "out of range": "look",
    "not settled": "look",
    "ok": "good",
    "agrees": "good",
}


@dataclass(frozen=True)
class Table:
    """Heads with whether their column holds numbers, rows of text, a mark for each row (a class name or nothing).

    `same` tells what is the same in every row and so has no column.
    """

    heads: list[tuple[str, bool]]
    rows: list[list[str]]
    marks: list[str] = field(default_factory=list)
    same: str = ""


def label(column: str) -> str:
    """A column's name for people.

    >>> label("cylinder_force_kN"), label("friction_kN_m"), label("difference_percent"), label("load_case")
    ('cylinder force, kN', 'friction, kN m', 'difference, %', 'load case')
    """
    words = column.split("_")
    for count in range(min(LONGEST, len(words) - 1), 0, -1):
        unit = "_".join(words[-count:])
        if unit in UNITS:
            return f"{' '.join(words[:-count])}, {UNITS[unit]}"
    return " ".join(words)


def number(text: str) -> float | None:
    try:
        return float(text)
    except ValueError:
        return None


def shown(value: float, kind: str, units: System) -> str:
    """A quantity in internal units as text: four significant digits and the unit of the system."""
    unit = shown_unit(kind, units)
    return f"{figure(float(outside(value, unit, kind)))} {unit.replace('*', ' ').replace('^', '')}"


def cell(column: str, text: str, exact: bool = False) -> str:
    value = number(text)
    if value is None or exact or column in ("id", "revision"):
        return text.replace("_", " ") if column in ("place", "region", "bore", "weakest_region") else text
    if column == "margin" or column.endswith("_margin"):
        return percent(value)
    return chance(value) if is_chance(column) else figure(value)


def table(
    rows: Sequence[Row],
    columns: Iterable[str] | None = None,
    mark: str | None = None,
    exact: bool = False,
    heads: Mapping[str, str] | None = None,
) -> Table:
    """Rows of a CSV file as a table.

    `mark` is the column whose word marks the row, `exact` leaves numbers as the file has them, `heads` give columns other names.
    """
    names = [name for name in (columns or (rows[0] if rows else ())) if name not in HIDDEN]
    numeric = {name: all(number(row[name]) is not None or not row[name] for row in rows) for name in names}
    return Table(
        [((heads or {}).get(name, label(name)), numeric[name]) for name in names],
        [[cell(name, row[name] or "", exact) for name in names] for row in rows],
        [MARKS.get(row[mark], "") if mark else "" for row in rows],
    )


def laid_out(
    rows: Sequence[Row],
    columns: Iterable[str] | None = None,
    mark: str | None = None,
    exact: bool = False,
    heads: Mapping[str, str] | None = None,
) -> Table:
    """As `table`, for wide ones: units in the heads, what is the same in all rows once above, a few wide rows as columns."""
    wanted = [name for name in (columns or (rows[0] if rows else ())) if name not in HIDDEN]
    some = with_units([{name: row[name] or "" for name in wanted if name in row} for row in rows])
    names, titles = list(some[0]) if some else [], heads or {}
    same, varying = same_and_varying(some, names, mark)
    once = [
        f"{titles.get(name, label(name))} {cell(name, some[0][name], exact).rstrip('.')}"
        for name in same
        if some[0][name]
    ]
    turn = rows_as_columns(some, varying, UPRIGHT)
    result = turned(some, varying, titles) if turn else table(some, varying, mark, exact, titles)
    return replace(result, same="; ".join(once))


def turned(rows: Sequence[Row], names: Sequence[str], heads: Mapping[str, str]) -> Table:
    """Each row as a column under its first cell; lines without a word are left out."""
    first, *rest = names
    lines = [[heads.get(name, label(name)), *(cell(name, row[name]) for row in rows)] for name in rest]
    titles = [("", False), *((cell(first, row[first]), False) for row in rows)]
    kept = [line for line in lines if any(line[1:])]
    return Table(titles, kept, [""] * len(kept))


def worst(rows: Sequence[Row], *keys: str) -> list[Row]:
    """Of all load cases, the row with the least margin for each combination of keys, the least margin first."""
    least: dict[tuple[str, ...], Row] = {}
    for row in rows:
        place = tuple(row[key] for key in keys)
        if place not in least or margin(row) < margin(least[place]):
            least[place] = row
    return sorted(least.values(), key=margin)


def margin(row: Row) -> float:
    value = number(row["margin"])
    return float("inf") if value is None else value


def plain(contents: Table) -> dict[str, Any]:
    """A table for the browser."""
    return {"heads": contents.heads, "rows": contents.rows, "marks": contents.marks}
