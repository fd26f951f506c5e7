"""Bores and making: the tables of those steps as they stand, where the steps were run.

What is the same in every row stands once above a table; a few wide rows stand as columns; of a long table the rows that use most.
"""

from __future__ import annotations

from pathlib import Path

from analysis.record.statics import header
from analysis.record.tables import Row, Tables, words
from analysis.record.typeset import heading, note, number, paragraph, sentence, table
from analysis.tables import read_csv

MOST = 50  # rows of a table that is printed whole
MOST_USED = 24  # rows of one that says which use most
COLUMNS = 14
TURNED = 4  # as many rows of a wide table stand as columns
WIDE = 6  # columns
USED = "utilisation"
NOTE = "note"
STANDING = "caution"  # stands on every page
BORES = (
    "Bores: fit, fatigue, cracks, inspection",
    "bores",
    "This step was not run for this arm: the record says nothing of fits, fatigue, cracks or inspection.",
)
MAKING = (
    "Making: routes, dates, decision",
    "making",
    "This step was not run for this arm: the record says nothing of routes, costs or dates.",
)
LIFE = (
    "Lives, intervals and dates follow from the duty, flaws and days that the parameter files assume; "
    "they are for review, not a release."
)


def further(tables: Tables, title: str, place: str, missing: str) -> str:
    paths = tables.extra(place)
    body = [part for path in paths for part in (heading(sentence(words(path.stem)), 2), whole(path))]
    return "\n".join([heading(title), *([paragraph(LIFE), *body] if paths else [paragraph(missing)])])


def bores(tables: Tables) -> str:
    return further(tables, *BORES)


def making(tables: Tables) -> str:
    return further(tables, *MAKING)


def whole(path: Path) -> str:
    """A table as it stands, in the shape that fits the page."""
    rows = read_csv(path)
    shown = chosen(rows)
    if not shown:
        return note(f"{len(rows)} rows: {path.name}." if rows else "None.")
    columns = [name for name in rows[0] if name != STANDING]
    same = [name for name in columns if len(shown) > 1 and len({row[name] for row in shown}) == 1]
    varying = [name for name in columns if name not in same]
    once = [f"{header(name)} {number(shown[0][name]).rstrip('.')}" for name in same if shown[0][name]]
    turn = len(shown) <= TURNED and len(varying) > WIDE
    rest = f"{len(rows) - len(shown)} more rows: {path.name}." if len(rows) > len(shown) else ""
    return "\n".join([
        *([note(f"In every row: {'; '.join(once)}.")] if once else []),
        turned(varying, shown) if turn else upright(varying, shown, path.name),
        *([note(rest)] if rest else []),
    ])  # fmt: skip


def chosen(rows: list[Row]) -> list[Row]:
    """Those that use most, where a column says so; else all of a table that is not too long, or none."""
    used = [row for row in rows if row.get(USED)]
    if used:
        return sorted(used, key=lambda row: -float(row[USED]))[:MOST_USED]
    return rows if len(rows) <= MOST else []


def upright(columns: list[str], rows: list[Row], file: str) -> str:
    """Numbers to the right, long text in what width is left, notes by number below; smaller type for many columns."""
    left_out, notes = columns[COLUMNS:], list(dict.fromkeys(row[NOTE] for row in rows if row.get(NOTE)))
    columns = [name for name in columns[:COLUMNS] if name != NOTE] + ([NOTE] if notes else [])
    sides = "".join(side(rows, name) for name in columns)
    cells = [[cell(row, name, notes) for name in columns] for row in rows]
    size = 8.0 if len(columns) <= 8 else 7.0 if len(columns) <= 11 else 6.0
    kept = [name for name in left_out if name != NOTE]
    return "\n".join([
        table([header(name) for name in columns], cells, sides, size=size),
        *(note(f"Note {index}: {told}") for index, told in enumerate(notes, 1)),
        *([note(f"Further columns in {file}: {', '.join(map(header, kept))}.")] if kept else []),
    ])  # fmt: skip


def cell(row: Row, column: str, notes: list[str]) -> str:
    """A number at sensible digits, text as it is, a note as its number."""
    if column == NOTE:
        return str(notes.index(row[NOTE]) + 1) if row[NOTE] else ""
    return number(row[column])


def turned(columns: list[str], rows: list[Row]) -> str:
    """Each row as a column, under its first cell."""
    cells = [[header(name), *(number(row[name]) for row in rows)] for name in columns[1:]]
    return table(
        [header(columns[0]), *(row[columns[0]] for row in rows)], cells, "l" + "w" * len(rows), size=7.5
    )


def side(rows: list[Row], column: str) -> str:
    if column == NOTE or all(is_number(row[column]) for row in rows):
        return "r"
    return "w" if any(len(row[column]) > 24 for row in rows) else "l"


def is_number(cell: str) -> bool:
    try:
        float(cell or 0.0)
    except ValueError:
        return False
    return True
