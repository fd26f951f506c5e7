"""Purpose, codes, criteria, conventions and material."""

from __future__ import annotations

from analysis.record.tables import Tables
from analysis.record.typeset import heading, items, pairs, paragraph, table
from analysis.tables.number import number, percent
from analysis.tables.revisions import HEADS, revisions

PINS = {
    "bth1": "ASME BTH-1-2020",
    "en1993": "EN 1993-1-8:2005",
    "aisc360": "ANSI/AISC 360-22, allowable strength design",
}
PURPOSE = (
    "This record shows that the arm named on the cover carries the load cases of its parameter file within the codes and "
    "criteria below, by a hand calculation whose lines can be followed with a pocket calculator and by a finite-element "
    "model set beside it. Margin is capacity over demand less one; a margin of zero is just enough."
)
SIGNS = (
    "Forces and moments act on the arm. World frame: x horizontal to the right, y up. Arm's frame: x along the output arm, y "
    "square to it, z along the pins; counter-clockwise moments positive.",
    "Along an arm: s outward from the pivot, eta square to it counter-clockwise, z along the pins. N tension, V2 along eta, V3 "
    "along z, T about s, M2 about eta, M3 about z, as the outer part acts on the inner.",
    "Index 3: bending in the arm's plane; index 2: sideways.",
)
COHERENT = {
    "si": "Substitutions are in N, mm and MPa (N/mm2), so that no conversion factor is hidden in a line; tables are in kN, kN m, "
    "mm and MPa. Angles in degrees.",
    "us": "Substitutions are in kip, in and ksi, so that no conversion factor is hidden in a line; tables are in kip, kip ft, "
    "in and ksi. Angles in degrees.",
}
DIGITS = (
    "Every line gives its printed result, to the last digit, from the numbers printed above it. Those numbers carry enough "
    "digits for the result to equal that of the program, which works with sixteen digits."
)


def basis(tables: Tables) -> str:
    arm, grade = tables.arm, tables.material
    criteria = arm.criteria
    rows = [
        ("Members", "ASME BTH-1-2020 chapter 3; plate slenderness ANSI/AISC 360-22 table B4.1b"),
        ("Pin connections", PINS[criteria.pin_code]),
        ("Design factor Nd", number(criteria.design_factor)),
        ("Least ratio of yield strength to elastic peak", number(criteria.peak_factor)),
        *(
            (f"Design factor Nd, {name}", number(case.design_factor))
            for name, case in arm.load_cases.items()
            if case.design_factor is not None
        ),
        ("Least margin that a new design must have", percent(criteria.least_margin)),
        ("Deflection", f"at most arm length over {number(criteria.deflection_ratio)}"),
        ("Pins turn under load", "yes" if criteria.pins_rotate else "no"),
    ]
    if criteria.pin_code == "en1993":
        rows.append(("Factor from service to design loads", number(criteria.limit_state_factor)))
    return "\n".join(
        [
            heading("Purpose and basis"),
            paragraph(PURPOSE),
            *revised(tables),
            heading("Codes and criteria", 2),
            pairs(rows),
            heading("Material", 2),
            pairs(material(tables)),
            paragraph(grade.source),
            heading("Signs and units", 2),
            items([*SIGNS, COHERENT[arm.units], DIGITS]),
        ]
    )


def revised(tables: Tables) -> list[str]:
    """The revision table; nothing where the file has none."""
    rows = revisions(tables.arm)
    return [heading("Revisions", 2), table(HEADS, rows, "llwwwrrrw", size=7.0)] if rows else []


def material(tables: Tables) -> list[tuple[str, str]]:
    """Specified minimums."""
    grade, show = tables.material, tables.show
    rows = [
        ("Specification and grade", f"{grade.title} ({grade.form})"),
        ("Yield strength Fy, specified minimum", show(grade.yield_strength, "stress")),
        ("Tensile strength Fu, specified minimum", show(grade.tensile_strength, "stress")),
        ("Modulus of elasticity E", show(grade.elastic_modulus, "stress")),
        ("Poisson's ratio", number(grade.poisson_ratio)),
        ("Density", show(grade.density, "density")),
    ]
    named = ((grade.charpy, "specified minimum"), (grade.supplementary, "asked for at purchase"))
    for charpy, what in named:
        if charpy:
            energy = f"{show(charpy.energy, 'energy')} at {show(charpy.temperature, 'temperature')}"
            rows.append((f"Charpy energy, {what}", energy))
    return rows
