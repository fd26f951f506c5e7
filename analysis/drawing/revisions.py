"""Revision table of the sheet, above the notes: revision, date, what and why, by whom; as many of the last ones as have room."""

from __future__ import annotations

from typing import Any

from analysis.drawing.ink import wrapped
from analysis.drawing.sheet import Sheet

SHOWN = 5  # rows at most; earlier ones stand in the parameter file
ROW, LINE = 6.0, 3.6  # of a row of one line, of each further line
COLUMNS = (("revision", 18.0), ("date", 24.0), ("what and why", 104.0), ("by", 34.0))
WIDE = sum(wide for _, wide in COLUMNS)
LETTERS = 2.5
HEAD = 6.0  # room for the title above it


def lines(facts: dict[str, Any]) -> list[list[list[str]]]:
    """Rows of cells of lines; none without a revision table."""
    rows = []
    for one in facts["revisions"]:
        named = filter(
            None, (one["design"] and f"design {one['design']}", one["route"] and f"route {one['route']}")
        )
        part = ", ".join(named)
        why = f"{one['reason']} ({part})" if part else one["reason"]
        cells = (one["revision"], one["date"], why, one["by"] or "")
        rows.append(
            [wrapped(text, LETTERS, wide - 3.0) for text, (_, wide) in zip(cells, COLUMNS, strict=True)]
        )
    return rows


def high(row: list[list[str]]) -> float:
    return ROW + LINE * (max(len(cell) for cell in row) - 1)


def height(facts: dict[str, Any]) -> float:
    """Room that the table takes on the sheet, title and gap included; nothing without rows."""
    rows = lines(facts)
    return ROW + sum(map(high, rows)) + HEAD + 4.0 if rows else 0.0


def table(sheet: Sheet, left: float, bottom: float, facts: dict[str, Any]) -> float:
    """The table with its lower edge at `bottom`; returns the y above it."""
    rows = lines(facts)
    if not rows:
        return bottom
    y = bottom
    for row in [*reversed(rows), [[name] for name, _ in COLUMNS]]:
        x, tall = left, high(row)
        for cell, (_, wide) in zip(row, COLUMNS, strict=True):
            sheet.box("grid", x, y, wide, tall)
            for number, text in enumerate(cell):
                sheet.text(x + 1.5, y + tall - ROW + 1.6 - LINE * number, text, LETTERS)
            x += wide
        y += tall
    sheet.text(left + 1.0, y + 1.5, "Revisions", 3.5)
    return y + HEAD
