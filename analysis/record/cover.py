"""First page: what was asked, the answer, what must be explained, and where a reviewer signs."""

from __future__ import annotations

from analysis.record.tables import Tables
from analysis.record.typeset import items, paragraph, picture, quoted, text
from analysis.tables.number import number, percent
from params.steps.caution import CAUTION

VERDICTS = {
    "holds": "Every check passes by hand and by mesh, and the two agree within the allowed differences.",
    "explain": "Every check passes by hand and by mesh; the lines below list where the two differ by more than is allowed.",
    "fails": "At least one check fails; see the summary of checks.",
}


def answer(tables: Tables) -> list[tuple[str, str]]:
    summary, arm = tables.summary, tables.arm
    counts = (
        f"{tables.hand.rows} by hand: {summary.hand_fails} fail, {summary.hand_out_of_range} out of range"
    )
    band = summary.peak_error_band_percent
    return [
        ("Verdict", VERDICTS[summary.verdict]),
        ("Least margin by hand", f"{percent(summary.hand_margin, 1)}: {summary.governing}"),
        ("Least margin by mesh", f"{percent(summary.mesh_margin, 1)}: {summary.mesh_governing}"),
        ("Checks", counts),
        (
            "Mass",
            f"{tables.amount(summary.mass_kg, 'mass')} by hand, {tables.amount(summary.mesh_mass_kg, 'mass')} by mesh",
        ),
        (
            "Error of the mesh",
            f"energy norm {number(summary.energy_error_percent, 2)} %"
            + (
                f", worst peak {number(band, 2)} %{'' if summary.settled else ', not settled'}"
                if band is not None
                else ""
            ),
        ),
        ("Material", tables.material.title),
        ("Revision", arm.revision),
    ]


def ordering(tables: Tables) -> list[str]:
    """What is ordered, and what is still open."""
    if tables.order is None:
        return []
    still = tables.order["open"]
    return [
        *(paragraph(line) for line in tables.order["lines"]),
        *([paragraph("Still open:"), items(still)] if still else []),
    ]


def cover(tables: Tables) -> str:
    arm = tables.arm
    remarks = [*tables.summary.explain, *(f"Note: {line}" for line in tables.summary.mesh.notes)]
    rows = ", ".join(f"({quoted(name)}, {quoted(value)})" for name, value in answer(tables))
    return "\n".join(
        [
            f'#text(10pt, blue)[CALCULATION RECORD]\n\n#text(22pt, blue, weight: "bold")[{text(arm.name)}]\n',
            paragraph(arm.description),
            f"#boxed[*Caution.* {text(CAUTION)}\n\n{text(arm.caution)}]",
            *ordering(tables),
            f"#pairs(({rows}))",
            picture("cover.png", "The arm, from its solid.", "62%" if tables.order is None else "44%"),
            *([items(remarks)] if remarks else []),
            "#v(1fr)\n#sign-here\n#pagebreak()",
        ]
    )
