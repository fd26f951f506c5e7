"""Quantities at the border: text with its unit in files, plain floats in N, mm, MPa, kg and radians inside.

Every length, force or stress in a file is text such as "2.05 m" or "140 kip". `within(kind, least, most)` is
the pydantic validator that turns it into a float; `show(value, kind, system)` turns a float back into text.
"""

from __future__ import annotations

import json
import math
import re
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any, Literal

from pydantic import BeforeValidator
from pydantic_core import PydanticCustomError

System = Literal["si", "us"]

# Kind of quantity: internal unit, units a file may use, unit and digits shown in SI and in US tables.
KINDS: dict[str, tuple[str, tuple[str, ...], tuple[str, int], tuple[str, int]]] = {
    "length": ("mm", ("mm", "cm", "m", "in", "ft"), ("mm", 1), ("in", 2)),
    "angle": ("rad", ("deg", "rad"), ("deg", 1), ("deg", 1)),
    "force": ("N", ("N", "kN", "MN", "lbf", "kip"), ("kN", 1), ("kip", 1)),
    "moment": ("N*mm", ("N*m", "kN*m", "MN*m", "lbf*ft", "kip*ft", "kip*in"), ("kN*m", 1), ("kip*ft", 1)),
    "stress": ("MPa", ("Pa", "kPa", "MPa", "GPa", "bar", "psi", "ksi"), ("MPa", 1), ("ksi", 2)),
    "density": ("kg/mm^3", ("kg/m^3", "lb/in^3", "lb/ft^3"), ("kg/m^3", 0), ("lb/in^3", 4)),
    "mass": ("kg", ("kg", "t", "lb"), ("kg", 0), ("lb", 0)),
    "energy": ("J", ("J", "ft*lbf"), ("J", 0), ("ft*lbf", 0)),
    "crack energy": (
        "N/mm",
        ("kJ/m^2", "ft*lbf/in^2"),
        ("kJ/m^2", 1),
        ("ft*lbf/in^2", 1),
    ),  # of a crack's area
    "temperature": ("degC", ("degC", "degF"), ("degC", 0), ("degF", 0)),
    "area": ("mm^2", ("mm^2", "cm^2", "in^2"), ("mm^2", 0), ("in^2", 2)),
    "rate": ("kg/h", ("kg/h", "lb/h"), ("kg/h", 2), ("lb/h", 2)),
    "speed": ("mm/min", ("mm/min", "m/min", "in/min"), ("m/min", 1), ("in/min", 0)),
    "time": ("h", ("h", "min"), ("h", 1), ("h", 1)),
    "days": ("d", ("d",), ("d", 1), ("d", 1)),  # days of a calendar, working ones where it has days off
}

_NUMBER = r"[-+]?(?:\d+\.?\d*|\.\d+)(?:[eE][-+]?\d+)?|[-+]?(?:nan|inf|infinity)"
_TEXT = re.compile(
    rf"\s*(?P<number>{_NUMBER})\s*(?P<unit>[A-Za-z%][A-Za-z0-9*/^%]*)?\s*", re.IGNORECASE | re.ASCII
)


# Slope and offset of every unit of every kind: one small file, for the library takes a second to set itself up at each start.
CONVERSIONS = Path(__file__).with_name("conversions.json")


@cache
def conversions() -> dict[str, dict[str, tuple[float, float]]]:
    """Kind, unit, slope and offset as `params.schema.conversions` wrote them."""
    return {
        kind: {unit: (slope, offset) for unit, (slope, offset) in row.items()}
        for kind, row in json.loads(CONVERSIONS.read_text(encoding="utf-8")).items()
    }


def factor(unit: str, kind: str) -> tuple[float, float]:
    """Slope and offset that turn a number in `unit` into the internal unit of `kind`."""
    return conversions()[kind][unit]


def inside(value: float, unit: str, kind: str) -> float:
    """`value` in `unit` as a float in the internal unit of `kind`."""
    slope, offset = factor(unit, kind)
    return value * slope + offset


def outside(value: Any, unit: str, kind: str) -> Any:
    """A float or array in internal units of `kind`, as a number in `unit`."""
    slope, offset = factor(unit, kind)
    return (value - offset) / slope


def shown_unit(kind: str, system: System) -> str:
    """The unit that tables for people use for this kind of quantity."""
    return KINDS[kind][2 if system == "si" else 3][0]


def show(value: float, kind: str, system: System, unit: bool = True) -> str:
    """A float in internal units as text for people: sensible digits, the unit of the system."""
    name, digits = KINDS[kind][2 if system == "si" else 3]
    size = float(outside(value, name, kind))
    number = f"{size:,.{decimals(size, kind, int(digits))}f}"
    return f"{number} {name.replace('*', ' ').replace('^', '')}" if unit else number


def decimals(size: float, kind: str, digits: int) -> int:
    """Digits behind the point: those of the kind, none from 10,000 on; of a mass as many as make three significant ones.

    >>> show(4.9312, "mass", "si"), show(1835.2, "mass", "si"), show(205000.0, "stress", "si"), show(345.0, "stress", "si")
    ('4.93 kg', '1,835 kg', '205,000 MPa', '345.0 MPa')
    """
    if abs(size) >= 1e4:
        return 0
    if kind != "mass" or size == 0.0:
        return digits
    return max(digits, 2 - math.floor(math.log10(abs(size))))


def parse(text: Any, kind: str) -> float:
    """Text with a unit as a finite float in internal units.

    Raises
    ------
    PydanticCustomError
        with `wrong`, `limit` and `mend` in its context: unit missing or unknown, or number not finite.
    """
    units = KINDS[kind][1]
    limit = f"one of {', '.join(units)}"
    match = _TEXT.fullmatch(text) if isinstance(text, str) else None
    if (isinstance(text, int | float) and not isinstance(text, bool)) or (match and match["unit"] is None):
        raise _fault("has no unit", limit, f'write the unit behind the number, such as "{text} {units[0]}"')
    if match is None:
        raise _fault(
            f"is not of the kind {kind}", f"a number and {limit}", f'write it such as "1.5 {units[0]}"'
        )
    number, unit = float(match["number"]), match["unit"]
    if unit not in units:
        raise _fault(
            f"has the unit {unit}", f"{kind} in {limit}", f'write it such as "{match["number"]} {units[0]}"'
        )
    if not math.isfinite(number):
        raise _fault("is not a finite number", f"a number and {limit}", f'write it such as "1.5 {units[0]}"')
    return inside(number, unit, kind)


def _fault(wrong: str, limit: str, mend: str) -> PydanticCustomError:
    return PydanticCustomError("quantity", "{wrong}", {"wrong": wrong, "limit": limit, "mend": mend})


@dataclass(frozen=True)
class Within:
    """Bounds of a quantity, written as text with units so that the message shows them as the user would."""

    kind: str
    least: str
    most: str

    def __call__(self, text: Any) -> float:
        value = parse(text, self.kind)
        wrong = "is negative" if value < 0.0 <= parse(self.least, self.kind) else "is out of range"
        if not parse(self.least, self.kind) <= value <= parse(self.most, self.kind):
            limit = f"between {self.least} and {self.most}"
            raise _fault(wrong, limit, "check the number and its unit")
        return value


def within(kind: str, least: str, most: str) -> BeforeValidator:
    """For `Annotated[float, within(...)]`: text between two bounds, in internal units once read."""
    return BeforeValidator(Within(kind, least, most))
