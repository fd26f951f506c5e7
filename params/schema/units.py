"""Quantities at the border: text with its unit in files, plain floats in N, mm, MPa, kg and radians inside.

Every length, force or stress in a file is text such as "2.05 m" or "140 kip". `within(kind, least, most)` is
the pydantic validator that turns it into a float; `show(value, kind, system)` turns a float back into text.
"""

from __future__ import annotations

import difflib
import json
import math
import re
from collections.abc import Callable
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any

from pydantic import BeforeValidator
from pydantic_core import PydanticCustomError

from params.steps.problems import System

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

# The kinds as a message names them.
NAMED = {kind: f"{'an' if kind[0] in 'ae' else 'a'} {kind}" for kind in KINDS} | {
    "stress": "a stress or pressure",
    "crack energy": "an energy by area",
    "rate": "a mass by time",
    "time": "a time in hours",
    "days": "a number of days",
}
US_UNITS = {
    unit for row in KINDS.values() for unit in row[1] if re.search(r"in|ft|lb|kip|psi|ksi|F", unit)
} - {
    "kJ/m^2",
    "m/min",
    "mm/min",
    "min",
}

_NUMBER = r"[-+]?(?:\d+(?:\.\d*)?|\.\d+)(?:[eE][-+]?\d+)?|[-+]?(?:nan|inf|infinity)"
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


MM_PER_IN, N_PER_KIP, MPA_PER_KSI, KG_PER_LB, J_PER_FOOT_POUND = (
    inside(1.0, unit, kind)
    for unit, kind in (
        ("in", "length"),
        ("kip", "force"),
        ("ksi", "stress"),
        ("lb", "mass"),
        ("ft*lbf", "energy"),
    )
)


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
        with `wrong`, `limit`, `mend` and `mend_us` (of a file in US units) in its context: unit missing or unknown, or
        number not finite.
    """
    limit = f"one of {', '.join(KINDS[kind][1])}"
    match = _TEXT.fullmatch(text) if isinstance(text, str) else None
    if (isinstance(text, int | float) and not isinstance(text, bool)) or (match and match["unit"] is None):
        raise fault("has no unit", limit, *_samples(text, "", kind, "write the unit after the number"))
    if match is None:
        raise fault(f"is not {NAMED[kind]}", f"a number and {limit}", *_samples("1.5", "", kind))
    number, unit = float(match["number"]), match["unit"]
    if unit not in KINDS[kind][1]:
        samples = _samples(match["number"], unit, kind)
        raise fault(f"has the unit {unit}", f"{NAMED[kind]} is in {limit}", *samples)
    if not math.isfinite(number):
        raise fault("is not a finite number", f"a number and {limit}", *_samples("1.5", unit, kind))
    return inside(number, unit, kind)


def _samples(number: Any, unit: str, kind: str, advice: str = "write it") -> tuple[str, str]:
    """What to write in a file in SI units and in one in US units: the unit that was meant where it can be seen, else a usual
    one.

    >>> _samples("115", "kips", "force"), _samples("40", "", "length")[1]
    (('write it such as "115 kip"', 'write it such as "115 kip"'), 'write it such as "40 in"')
    """
    meant = difflib.get_close_matches(unit, KINDS[kind][1], n=1, cutoff=0.6)
    si, us = (f'{advice} such as "{number} {meant[0] if meant else row[0]}"' for row in KINDS[kind][2:])
    return si, us


def fault(wrong: str, limit: str, mend: str, mend_us: str = "") -> PydanticCustomError:
    """The error of a value in a file; `mend_us` where the advice is another in a file in US units."""
    context = {"wrong": wrong, "limit": limit, "mend": mend, "mend_us": mend_us or mend}
    return PydanticCustomError("quantity", "{wrong}", context)


@dataclass(frozen=True)
class Within:
    """Bounds of a quantity, written as text with units so that the message shows them as the user would."""

    kind: str
    least: str
    most: str

    def __call__(self, text: Any) -> float:
        value = parse(text, self.kind)
        least, most = parse(self.least, self.kind), parse(self.most, self.kind)
        if not least <= value <= most:
            wrong = "is negative" if value < 0.0 <= least else "is out of range"
            raise fault(wrong, self.limit(_TEXT.fullmatch(text)["unit"]), "check the number and its unit")  # type: ignore[index]
        return value

    def limit(self, unit: str) -> str:
        """Both bounds; in the unit that was written where that is a US one, rounded to what lies within.

        >>> Within("length", "1 mm", "20 m").limit("cm"), Within("length", "1 mm", "20 m").limit("in")
        ('between 1 mm and 20 m', 'between 0.0394 in and 787 in')
        """
        if unit not in US_UNITS:
            return f"between {self.least} and {self.most}"
        ends = (outside(parse(text, self.kind), unit, self.kind) for text in (self.least, self.most))
        least, most = (_rounded(end, way) for end, way in zip(ends, (math.ceil, math.floor), strict=True))
        return f"between {least} {unit} and {most} {unit}"


def _rounded(value: float, way: Callable[[float], int]) -> str:
    """Three significant digits, up or down."""
    if value == 0.0:
        return "0"
    step = 10.0 ** (math.floor(math.log10(abs(value))) - 2)
    return f"{way(value / step - (1e-9 if way is math.ceil else -1e-9)) * step:.12g}"


def within(kind: str, least: str, most: str) -> BeforeValidator:
    """For `Annotated[float, within(...)]`: text between two bounds, in internal units once read."""
    return BeforeValidator(Within(kind, least, most))
