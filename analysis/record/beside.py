"""Hand beside mesh: for each quantity and place the load case nearest its allowance, and the reason of every allowance."""

from __future__ import annotations

from analysis.record.tables import Row, Tables, grouped
from analysis.record.typeset import heading, items, note, paragraph, table, text
from analysis.tables.number import number

INTRODUCTION = (
    "A difference is a share of the hand value; where that is small beside the largest of its kind in the same load "
    "case, of a fifth of that. Positive: the mesh is larger in size. For each quantity and place the load case that "
    "uses its allowance most is shown; all rows: verify.csv."
)
UNREAD = float("inf")


def beside(tables: Tables) -> str:
    rows = [max(some, key=used) for some in grouped(tables.csv("verify.csv"), "quantity", "place").values()]
    notes = list(dict.fromkeys(row["note"] for row in rows))
    explained = tables.summary.explain
    head = [
        "quantity",
        "place",
        "load case",
        "hand",
        "mesh",
        "unit",
        "diff. %",
        "allowed %",
        "verdict",
        "why",
    ]
    shown = [
        [
            row["quantity"],
            row["place"],
            row["load_case"],
            number(row["hand"]),
            number(row["mesh"]),
            row["unit"],
            number(row["difference_percent"], 3),
            row["allowed_percent"],
            row["verdict"],
            notes.index(row["note"]) + 1,
        ]
        for row in rows
    ]
    reasons = "#enum(" + ", ".join(f"[{text(reason)}]" for reason in notes) + ")"
    return "\n".join(
        [
            heading("Hand beside mesh"),
            paragraph(INTRODUCTION),
            heading("To explain", 2),
            items(explained or ["Nothing: every difference is within its allowance."]),
            heading("Comparison", 2),
            table(head, shown, "wwlrrlrrlr", size=7.2),
            note("Why the allowance, by the number in the last column:"),
            reasons,
        ]
    )


def used(row: Row) -> float:
    """Share of the allowance; one that cannot be read comes first."""
    return (
        abs(float(row["difference_percent"])) / float(row["allowed_percent"])
        if row["difference_percent"]
        else UNREAD
    )
