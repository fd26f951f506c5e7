"""Limits of validity of a formula, enforced: an error names the value and the range in one line."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from params.schema.units import System, outside, shown_unit
from params.steps.arrays import Floats
from params.steps.problems import OutOfRange

KINDS = {"mm": "length", "MPa": "stress", "J": "energy"}  # units that an arm's file may write otherwise
FAHRENHEIT = 1.8  # of a difference of temperatures


def checked(
    name: str, values: ArrayLike, least: float, most: float, unit: str = "", source: str = ""
) -> Floats:
    """The values as an array of floats, all of them from `least` to `most` (both allowed).

    Raises OutOfRange, a ValueError, for the first that is not (nan is not).

    >>> checked("a/W", 0.7, 0.0, 0.6)
    Traceback (most recent call last):
    ...
    params.steps.problems.OutOfRange: a/W 0.7 is outside 0 to 0.6
    """
    array = np.asarray(values, float)
    inside = (array >= least) & (array <= most)
    if not inside.all():
        wrong = float(array[~inside].flat[0]) if array.ndim else float(array)
        raise refused(name, wrong, least, most, unit, source)
    return array


def refused(name: str, wrong: float, least: float, most: float, unit: str, source: str) -> OutOfRange:
    """The error for a value out of range: its message in mm, MPa, J and in the units of an arm.

    >>> refused("thickness", 906.78, 5.0, 500.0, "mm", "BS 7910 J.2.1").message("us")
    'thickness 35.7 in is outside 0.19685 to 19.685 in (BS 7910 J.2.1)'
    """

    def message(units: System | None) -> str:
        values = [amount(value, unit, units) for value in (wrong, least, most)]
        given = f" {named(unit, units)}" if unit else ""
        behind = f" ({source})" if source else ""
        return f"{name} {values[0]}{given} is outside {values[1]} to {values[2]}{given}{behind}"

    return OutOfRange(message(None), message)


def amount(value: float, unit: str, units: System | None) -> str:
    """A number in the unit that `named` names."""
    if units == "us" and unit == "degC":
        return f"{FAHRENHEIT * value:.6g}"
    if units is None or unit not in KINDS:
        return f"{value:.6g}"
    kind = KINDS[unit]
    return f"{float(outside(value, shown_unit(kind, units), kind)):.5g}"


def named(unit: str, units: System | None) -> str:
    """Name of a unit in the arm's units; the internal unit where `units` is None."""
    if units is None or unit not in KINDS:
        return "degF" if units == "us" and unit == "degC" else unit
    return shown_unit(KINDS[unit], units).replace("*", " ")
