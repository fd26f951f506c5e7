"""A number with its unit for people, in the arm's units."""

from __future__ import annotations

from typing import Any

from params.schema.units import KINDS, MM_PER_IN, MPA_PER_KSI, System, outside, shown_unit


def shown(value: float, kind: str, units: System) -> tuple[float, str]:
    """A number with its unit for people: a kind of quantity, a power of mm such as mm3, or toughness."""
    if kind in KINDS:
        unit = shown_unit(kind, units)
        return float(outside(value, unit, kind)), unit.replace("*", " ").replace("^", "")
    if kind.startswith("mm") and kind[2:].isdigit() and units == "us":
        return value / MM_PER_IN ** int(kind[2:]), "in" + kind[2:]
    if kind == "toughness":
        return (
            (value, "MPa mm0.5") if units == "si" else (value / (MPA_PER_KSI * MM_PER_IN**0.5), "ksi in0.5")
        )
    return value, kind


def in_units(units: System, **columns: tuple[float, str]) -> dict[str, Any]:
    """Numbers with their kinds as columns named with their units."""
    row = {}
    for name, (value, kind) in columns.items():
        number, unit = shown(float(value), kind, units)
        row[f"{name}_{unit.replace(' ', '_')}" if unit != "-" else name] = number
    return row
