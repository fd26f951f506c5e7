"""Purpose, codes, criteria, conventions and material."""

from __future__ import annotations

from analysis.record.tables import Tables
from analysis.record.typeset import heading, items, pairs, paragraph
from analysis.tables.number import number

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
    "si": "Substitutions are in N, mm and MPa (N/mm2), so that no factor hides between the units; tables are in kN, kN m, mm "
    "and MPa. Angles in degrees.",
    "us": "Substitutions are in kip, in and ksi, so that no factor hides between the units; tables are in kip, kip ft, in and "
    "ksi. Angles in degrees.",
}
DIGITS = (
    "Every line gives its printed result, to the last digit, from the numbers printed above it. Those carry as many digits as it "
    "takes for the result to be that of the program, which works with sixteen."
)


def basis(tables: Tables) -> str:
    arm, steel = tables.arm, tables.material
    criteria = arm.criteria
    rows = [
        ("Members", "ASME BTH-1-2020 chapter 3; plate slenderness ANSI/AISC 360-22 table B4.1b"),
        ("Pin connections", PINS[criteria.pin_code]),
        ("Design factor Nd", number(criteria.design_factor)),
        ("Least ratio of yield strength to elastic peak", number(criteria.peak_factor)),
        ("Deflection", f"at most arm length over {number(criteria.deflection_ratio)}"),
        ("Pins turn under load", "yes" if criteria.pins_rotate else "no"),
    ]
    if criteria.pin_code == "en1993":
        rows.append(("Factor from service to design loads", number(criteria.limit_state_factor)))
    return "\n".join([
        heading("Purpose and basis"), paragraph(PURPOSE), heading("Codes and criteria", 2), pairs(rows),
        heading("Material", 2), pairs(material(tables)), paragraph(steel.source),
        heading("Signs and units", 2), items([*SIGNS, COHERENT[arm.units], DIGITS]),
    ])  # fmt: skip


def material(tables: Tables) -> list[tuple[str, str]]:
    """Specified minimums."""
    steel, show = tables.material, tables.show
    rows = [
        ("Specification and grade", f"{steel.title} ({steel.form})"),
        ("Yield strength Fy, specified minimum", show(steel.yield_strength, "stress")),
        ("Tensile strength Fu, specified minimum", show(steel.tensile_strength, "stress")),
        ("Modulus of elasticity E", show(steel.elastic_modulus, "stress")),
        ("Poisson's ratio", number(steel.poisson_ratio)),
        ("Density", show(steel.density, "density")),
    ]
    named = ((steel.charpy, "specified minimum"), (steel.supplementary, "asked for at purchase"))
    for charpy, what in named:
        if charpy:
            told = f"{show(charpy.energy, 'energy')} at {show(charpy.temperature, 'temperature')}"
            rows.append((f"Charpy energy, {what}", told))
    return rows
