"""Hand beside mesh: section forces, the proof of statics; then for each quantity and place the load case nearest its allowance."""

from __future__ import annotations

from analysis.record.tables import Row, Tables, words
from analysis.record.typeset import heading, items, note, paragraph, table, text
from analysis.tables.beside import STATICS, TERMS, THEORY, by_place, statics, with_terms
from analysis.tables.number import number

FORCES = (
    "The same equilibrium twice: what passes through each of eleven sections of an arm, through hub and boss too, by hand and by "
    "the nodal forces of the elements beyond it, in percent of the largest of its kind on that arm; a sideways one below a "
    "hundredth of that in the plane, of this hundredth. Beside it the stress integrated over the section. Of each the section "
    "and load case that differ most; all rows: resultants.csv."
)
THEORIES = (
    "Simple theory: bending with plane sections. Varying shear: the change of the warping where the web's shear varies along the "
    "arm. Knee: the bar curved about the inner knee, outside the hub's circle. Slope: the face is stressed along itself. Hub: its "
    "share of a movement. Left: mesh less all of these. The ten places that use most of their allowance."
)
INTRODUCTION = (
    "A difference is a share of the hand value with its terms; where that is small beside the largest of its kind in the same load "
    "case, of a fifth of that. Positive: the mesh is larger in size. Upward, where the mesh says more than the hand, less is "
    "allowed than downward. For each quantity and place the load case that uses its allowance most is shown; all rows: verify.csv."
)
ALL = (
    "quantity",
    "place",
    "load_case",
    "hand",
    "mesh",
    "unit",
    "difference_percent",
    "allowed_percent",
    "allowed_below_percent",
    "verdict",
)
HEADS = {
    "difference_percent": "diff. %",
    "allowed_percent": "allowed +%",
    "allowed_below_percent": "allowed -%",
}
NUMBERS = {"hand", "mesh", "simple", "left", "by_nodes", "by_stress", *TERMS}


def beside(tables: Tables) -> str:
    rows = by_place(tables.csv("verify.csv"))
    notes = list(dict.fromkeys(row["note"] for row in rows))
    explained = tables.summary.explain
    reasons = "#enum(" + ", ".join(f"[{text(reason)}]" for reason in notes) + ")"
    compared = [[*cells(row, ALL), notes.index(row["note"]) + 1] for row in rows]
    return "\n".join(
        [
            heading("Hand beside mesh"),
            heading("Section forces", 2),
            paragraph(FORCES),
            table(
                heads(STATICS),
                [cells(row, STATICS) for row in statics(tables.csv("resultants.csv"))],
                "lwlrrrlrr",
                size=7.2,
            ),
            heading("To explain", 2),
            items(explained or ["Nothing: every difference is within its allowance."]),
            heading("Simple theory, terms, mesh, what is left", 2),
            paragraph(THEORIES),
            table(heads(THEORY), [cells(row, THEORY) for row in with_terms(rows)], "wwlrrrrrrrlrl", size=7.2),
            heading("Comparison", 2),
            paragraph(INTRODUCTION),
            table([*heads(ALL), "why"], compared, "wwlrrlrrrlr", size=7.2),
            note("Why the allowance, by the number in the last column:"),
            reasons,
        ]
    )


def heads(names: tuple[str, ...]) -> list[str]:
    return [HEADS.get(name, words(name).replace("percent", "%")) for name in names]


def cells(row: Row, names: tuple[str, ...]) -> list[str]:
    """Numbers to four digits, percentages to three."""
    return [
        number(row[name])
        if name in NUMBERS
        else number(row[name], 3)
        if name.endswith("percent")
        else row[name]
        for name in names
    ]
