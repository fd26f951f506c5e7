"""Columns of tables for people: units in the heads, and those of the arm's own system."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from params.schema.units import System, outside

Row = dict[str, str]
INSIDE = {
    "_MPa": ("stress", "ksi"),
    "_mm": ("length", "in"),
    "_kg": ("mass", "lb"),
}  # ends of names: internal units


def columns(text: str) -> tuple[str, ...]:
    """Names of columns from a text with blanks between them.

    >>> columns("place peak_MPa")
    ('place', 'peak_MPa')
    """
    return tuple(text.split())


# The columns of numbers whose unit stands in a column of its own.
MEASURED = {
    "stress_unit": columns(
        "range static mean equivalent_range allowable_range lowest highest residual_stress yield_strength tensile_strength"
    ),
    "length_unit": columns(
        "x y z length depth critical_at_pivot_bore critical_outside acceptable_depth acceptable_length"
    ),
    "unit": columns(
        "found_depth found_length acceptable_depth acceptable_length critical_depth critical_length value "
        "acceptable_depth_least acceptable_length_least critical_depth_least "
        "least mean most capacity"
    ),
    "mass_unit": ("lightest",),
    "energy_unit": ("charpy", "charpy_counted"),
    "toughness_unit": ("toughness", "K_range", "K_highest", "K_residual"),
    "fracture_energy_unit": ("fracture_energy",),
}


def with_units(rows: Sequence[Row]) -> list[Row]:
    """The rows with units in their heads; a column of units that changes from row to row stays as it is.

    >>> with_units([{"range": "12", "stress_unit": "MPa", "years": "3"}, {"range": "", "stress_unit": "", "years": "4"}])
    [{'range, MPa': '12', 'years': '3'}, {'range, MPa': '', 'years': '4'}]
    """
    seen = {unit: {row[unit] for row in rows if row[unit]} for unit in MEASURED if rows and unit in rows[0]}
    one = {unit: units.pop() for unit, units in seen.items() if len(units) == 1}
    heads = {name: f"{name}, {unit_name}" for unit, unit_name in one.items() for name in MEASURED[unit]}
    return [{heads.get(name, name): row[name] for name in row if name not in one} for row in rows]


def in_units(rows: Sequence[Row], units: System) -> list[Row]:
    """The rows with columns in MPa, mm or kg converted to the units of the arm.

    >>> in_units([{"peak_MPa": "68.94757", "place": "hub"}], "us"), in_units([{"peak_MPa": "68.9"}], "si")
    ([{'peak_ksi': '10', 'place': 'hub'}], [{'peak_MPa': '68.9'}])
    """
    if units == "si":
        return [dict(row) for row in rows]
    return [dict(in_us(name, value) for name, value in row.items()) for row in rows]


def system_of(names: Iterable[str]) -> System:
    """The units of an arm, from the column names of a table in its units.

    >>> system_of(["id", "depth_in", "mass_kg"]), system_of(["id", "depth_mm"])
    ('us', 'si')
    """
    return "us" if any(name.endswith("_in") for name in names) else "si"


def in_us(name: str, value: str) -> tuple[str, str]:
    """One cell with its column's name."""
    for end, (kind, unit) in INSIDE.items():
        if name.endswith(end):
            converted = f"{outside(float(value), unit, kind):.6g}" if value else ""
            return f"{name.removesuffix(end)}_{unit}", converted
    return name, value


def chance(value: float) -> str:
    """A probability in tenths of a percent: random draws give it no better, and never show that it is zero.

    >>> chance(0.4037), chance(0.00045), chance(0.99996)
    ('40.4 %', 'under 0.1 %', 'over 99.9 %')
    """
    if value < 0.001 or value > 0.999:
        return "under 0.1 %" if value < 0.001 else "over 99.9 %"
    return f"{100.0 * value:.1f} %"


def is_chance(column: str) -> bool:
    """Whether a column holds chances, and not the band of one."""
    return column.startswith("chance") and not column.endswith("_percent")
