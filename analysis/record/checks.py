"""Clause checks: all as a table, and in full the place and load case that use each clause most."""

from __future__ import annotations

from collections.abc import Iterator

from analysis.contracts.workings import CheckWorking, Substitution
from analysis.record.mathset import given, lines
from analysis.record.tables import Row, Tables, grouped, margin
from analysis.record.typeset import heading, note, paragraph, sentence, table, text
from analysis.tables.number import number, percent

CASES = 6  # load cases that have a column of their own
INTRODUCTION = (
    "One row for each check at each place. Demand, capacity and status are those of the load case with the least margin, which "
    "is named. Out of range: the clause does not apply; see its note in checks.csv, where every row with its position stands."
)
IN_FULL = (
    "Each check in full at the place, load case, position of the swing and station where its margin is least. Forces and moments "
    "in these lines are those of that position; section constants are those of section 4."
)


def checks(tables: Tables) -> str:
    rows = tables.csv("checks.csv")
    parts = [heading("Clause checks"), heading("Summary", 2), paragraph(INTRODUCTION), summary(tables, rows)]
    parts += [heading("In full", 2), paragraph(IN_FULL)]
    return "\n".join([*parts, *(in_full(tables, row) for row in governing(rows))])


def summary(tables: Tables, rows: list[Row]) -> str:
    """Least margin of each check and place, and the margins of the load cases beside it."""
    cases = list(tables.arm.load_cases)
    columns = cases if len(cases) <= CASES else []
    head = ["check", "place", "demand", "capacity", "unit", "margin, %", "load case", "status", *columns]
    shown = []
    for (check, place), some in grouped(rows, "check", "place").items():
        worst = min(some, key=margin)
        by_case = {row["load_case"]: hundredths(row["margin"]) for row in some}
        numbers = [
            number(worst["demand"]),
            number(worst["capacity"]),
            worst["unit"],
            hundredths(worst["margin"]),
        ]
        shown.append(
            [
                check,
                place,
                *numbers,
                worst["load_case"],
                worst["status"],
                *(by_case.get(case, "") for case in columns),
            ]
        )
    legend = (
        "Under a load case's name: its margin, %." if columns else "Margins of all load cases: checks.csv."
    )
    return table(head, shown, "wwrrlnll" + "n" * len(columns), size=7.0) + "\n" + note(legend)


def hundredths(value: str) -> str:
    """A margin in whole percent, signed, its sign and unit in the head of the column."""
    return f"{100.0 * float(value):+.0f}".replace("-", "\u2212") if value else ""


def governing(rows: list[Row]) -> Iterator[Row]:
    """The row of least margin of each clause."""
    for some in grouped(rows, "check", "clause").values():
        yield min(some, key=margin)


def in_full(tables: Tables, row: Row) -> str:
    """Clause, equation in symbols, the same with numbers, result, margin, limits of validity."""
    full = next(one for one in tables.substitutions if is_of(one, row))
    work = next((one for one in tables.workings.checks if is_of(one, row)), None)
    status = f"{row['status']}, margin {percent(row['margin'], 1, none='')}"
    limits = (full.limits or "none stated").replace("<=", "\u2264")
    return "\n".join(
        [
            heading(sentence(f"{row['check']}, {row['place']}"), 3),
            f"{text(sentence(full.what))}. Load case {text(row['load_case'])}{place(row)}.",
            f"#linebreak() Clause: {text(row['clause'])}.",
            *([given(work), lines(work)] if work else [unworked(full)]),
            f"*Result: {text(status)}.* Limits of validity: {text(limits)}.",
        ]
    )


def unworked(full: Substitution) -> str:
    """A check whose lines are not written out: its equation as text, its numbers as a table."""
    rows = [[one.symbol, number(one.value), one.unit, one.meaning] for one in full.symbols]
    sides = [
        [side, number(value), full.unit, ""]
        for side, value in (("demand", full.demand), ("capacity", full.capacity))
    ]
    return text(full.equation) + table(["symbol", "value", "unit", "meaning"], [*rows, *sides], "lrlw")


def is_of(one: Substitution | CheckWorking, row: Row) -> bool:
    """Whether it belongs to this row of checks.csv."""
    return (one.check, one.place, one.load_case) == (row["check"], row["place"], row["load_case"])


def place(row: Row) -> str:
    return f", {text(row['note'])}" if row["note"] else ""
