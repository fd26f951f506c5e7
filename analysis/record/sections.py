"""Section properties in numbers, and internal forces along both arms."""

from __future__ import annotations

from analysis.record.mathset import given, lines
from analysis.record.statics import header
from analysis.record.tables import Tables
from analysis.record.typeset import heading, note, paragraph, picture, table
from analysis.tables.number import number

LEFT_OUT = ("arm", "load_case", "fraction", "worst_point", "tau_web")
DIAGRAMS = (
    "Axial force, shear, moments and torque along both arms, hub edge to boss edge; bold with end values: the load case "
    "of the table, thin: the others."
)
TAPER = (
    "Both arms taper straight from the depth at the hub circle to the depth at the pin centre. The section is shown in full "
    "where it is deepest and where each arm ends at its boss."
)


def sections(tables: Tables) -> str:
    parts = [heading("Section properties and internal forces"), paragraph(TAPER)]
    for one in tables.workings.sections:
        parts += [heading(f"Section of {one.place}", 2), given(one.working), lines(one.working)]
    case = tables.hand.drawn_case
    return "\n".join(
        [
            *parts,
            heading("Internal forces", 2),
            stations(tables, case),
            picture("diagrams.svg", DIAGRAMS),
        ]
    )


def stations(tables: Tables, case: str) -> str:
    """Both arms in one load case."""
    rows = [row for row in tables.csv("stations.csv") if row["load_case"] == case]
    columns = [name for name in rows[0] if not name.startswith(LEFT_OUT)]
    shown = [[row["arm"], *(number(row[name]) for name in columns)] for row in rows]
    legend = (
        f"Load case {case}. sigma plus and minus: at the flange middles on the +eta and -eta side, signed; normal, shear and "
        "equivalent: at the most stressed point, without sign. All load cases: stations.csv."
    )
    return (
        table(["arm", *map(header, columns)], shown, "l" + "r" * len(columns), size=7.2) + "\n" + note(legend)
    )
