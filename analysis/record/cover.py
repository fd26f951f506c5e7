"""First page: what was asked, the answer, what must be explained, and where a reviewer signs."""

from __future__ import annotations

from analysis.record.tables import Tables
from analysis.record.typeset import items, paragraph, picture, quoted, text
from analysis.tables.number import number, percent
from params.steps.caution import CAUTION

VERDICTS = {
    "holds": "Every check holds by hand and by mesh, and the two agree within what is allowed.",
    "explain": "Every check holds by hand and by mesh; where the two differ by more than is allowed, the lines below say so.",
    "fails": "At least one check fails; see the summary of checks.",
}


def answer(tables: Tables) -> list[tuple[str, str]]:
    told, arm = tables.summary, tables.arm
    counts = f"{tables.hand.rows} by hand: {told.hand_fails} fail, {told.hand_out_of_range} out of range"
    band = told.peak_error_band_percent
    return [
        ("Verdict", VERDICTS[told.verdict]),
        ("Least margin by hand", f"{percent(told.hand_margin, 1)}: {told.governing}"),
        ("Least margin by mesh", f"{percent(told.mesh_margin, 1)}: {told.mesh_governing}"),
        ("Checks", counts),
        ("Mass", f"{tables.amount(told.mass_kg, 'mass')} by hand, {tables.amount(told.mesh_mass_kg, 'mass')} by mesh"),
        ("Error of the mesh", f"energy norm {number(told.energy_error_percent, 2)} %"
         + (f", peak at a bore {number(band, 2)} %" if band is not None else "")),
        ("Material", tables.material.title),
        ("Revision", arm.revision),
    ]  # fmt: skip


def cover(tables: Tables) -> str:
    arm = tables.arm
    rows = ", ".join(f"({quoted(name)}, {quoted(value)})" for name, value in answer(tables))
    return "\n".join([
        f"#text(10pt, blue)[CALCULATION RECORD]\n\n#text(22pt, blue, weight: \"bold\")[{text(arm.name)}]\n",
        paragraph(arm.description),
        f"#boxed[*Caution.* {text(CAUTION)}\n\n{text(arm.caution)}]",
        f"#pairs(({rows}))",
        picture("cover.png", "The arm, from its solid.", "62%"),
        *([items(tables.summary.explain)] if tables.summary.explain else []),
        "#v(1fr)\n#sign-here\n#pagebreak()",
    ])  # fmt: skip
