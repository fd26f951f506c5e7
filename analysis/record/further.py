"""Bores and making: the tables of those steps as they stand, where the steps were run."""

from __future__ import annotations

from pathlib import Path

from analysis.record.statics import header
from analysis.record.tables import Tables, words
from analysis.record.typeset import heading, note, number, paragraph, sentence, table
from analysis.tables import read_csv

MOST = 40  # rows of a table that are printed
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
    """A table as it stands; numbers to the right."""
    rows = read_csv(path)
    if not rows:
        return note("None.")
    columns = list(rows[0])
    sides = "".join(
        "r" if all(is_number(row[name]) for row in rows) else "w" if long(rows, name) else "l"
        for name in columns
    )
    shown = [[number(row[name]) for name in columns] for row in rows[:MOST]]
    rest = note(f"{len(rows) - MOST} more rows in {path.name}.") if len(rows) > MOST else ""
    return table([header(name) for name in columns], shown, sides) + "\n" + rest


def is_number(cell: str | None) -> bool:
    try:
        float(cell or 0.0)
    except ValueError:
        return False
    return True


def long(rows: list[dict[str, str]], column: str) -> bool:
    return any(len(row[column] or "") > 24 for row in rows)
