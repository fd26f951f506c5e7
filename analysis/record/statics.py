"""Forces: a free-body diagram and the balance in numbers for each governing case, the others as a table."""

from __future__ import annotations

from analysis.record.mathset import given, lines
from analysis.record.tables import Tables, grouped, words
from analysis.record.typeset import heading, note, paragraph, picture, table
from analysis.tables.number import number
from params.schema.units import outside, shown_unit

EVERY = 10  # positions of the swing from one printed row to the next
INTRODUCTION = (
    "Each load case is taken at the position of the swing with the largest bending moment at the hub edge of either arm; the "
    "mesh is loaded there too. The checks of section 5 look at 41 positions and take the worst of each."
)
LEFT_OUT = ("load_case", "residual", "input_pin", "output_pin")  # the pins carry what cylinder and load give
SKETCH = "Free body of load case {}: forces on the arm, drawn to one scale unless the label says otherwise."
TITLES = {"input": "Input arm at the hub edge", "output": "Output arm at the hub edge"}


def statics(tables: Tables) -> str:
    parts = [heading("Loads and balance"), paragraph(INTRODUCTION), all_cases(tables)]
    for case in tables.workings.cases:
        name = case.case
        parts += [
            heading(f"Load case {name}", 2),
            picture(f"free-body-{name}.svg", SKETCH.format(name)),
            heading("Balance about the pivot", 3),
            given(case.statics),
            lines(case.statics),
            residual(tables, name),
        ]
        for limb, edge in case.hub_edge.items():
            parts += [heading(TITLES[limb], 3), given(edge), lines(edge)]
    return "\n".join([*parts, heading("Forces over the swing", 2), swing(tables)])


def residual(tables: Tables, case: str) -> str:
    left = tables.loads.cases[case].residual
    return note(
        f"Residual of the balance of all forces and moments, divided by the pivot reaction: {left:.0e}."
    )


def all_cases(tables: Tables) -> str:
    """Forces on the arm in every load case at its governing position, arm's frame."""
    units = tables.arm.units
    force, moment = shown_unit("force", units), shown_unit("moment", units)
    head = [
        "load case",
        "place",
        *(f"F{axis}, {force}" for axis in "xyz"),
        *(f"M{axis}, {moment.replace('*', ' ')}" for axis in "xyz"),
    ]
    rows = []
    for name, case in tables.in_order(tables.loads.cases):
        for bore, acting in case.bores.items():
            forces = [number(outside(value, force, "force")) for value in acting.force]
            moments = [number(outside(value, moment, "moment")) for value in acting.moment]
            rows.append([name, words(bore), *forces, *moments])
        weight = [number(outside(value, force, "force")) for value in case.weight]
        rows.append([name, "weight", *weight, "", "", ""])
    legend = (
        "Arm's frame; moments about the centre of each bore at z = 0. The weight acts at the centre of gravity,"
        " shock included."
    )
    return table(head, rows, "ll" + "r" * 6) + "\n" + note(legend)


def swing(tables: Tables) -> str:
    """Some positions of every case from stroke.csv."""
    rows = tables.csv("stroke.csv")
    columns = [name for name in rows[0] if not name.startswith(LEFT_OUT)]
    shown = []
    for (case,), some in grouped(rows, "load_case").items():
        shown += [[case, *(number(row[name]) for name in columns)] for row in some[::EVERY]]
    return (
        table(["load case", *map(header, columns)], shown, "l" + "r" * len(columns))
        + "\n"
        + note(
            "Load: pull on the output pin; pivot: in-plane resultant; side: along z at the pivot. All 41 positions: stroke.csv."
        )
    )


def header(column: str) -> str:
    """The name of a column with its unit: what follows the last word that is no unit."""
    for unit in ("kN_m", "kip_ft", "kN", "kip", "mm", "in", "kg", "lb", "d", "MPa", "ksi", "deg"):
        if column.endswith(f"_{unit}"):
            return f"{words(column[: -len(unit) - 1])}, {words(unit)}"
    return words(column)
