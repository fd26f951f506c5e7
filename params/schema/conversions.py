"""Slope and offset of every unit that a file may use: `python -m params.schema.conversions` writes conversions.json.

The only module that knows the units library; run it after a change of the kinds in `params.schema.units`. A test makes the table
again and compares, and holds it against the library's own definitions.
"""

from __future__ import annotations

import json
from fractions import Fraction
from typing import Any

import pint

from params.schema.units import CONVERSIONS, KINDS
from params.steps.arguments import arguments
from params.steps.guard import one_line_errors

# What the kinds need. All exact, by the SI Brochure (9th edition, 2019) and NIST SP 811 (2008), appendix B.
DEFINITIONS = """
milli- = 1e-3 = m-
centi- = 1e-2 = c-
kilo- = 1e3 = k-
mega- = 1e6 = M-
giga- = 1e9 = G-
pi = 3.1415926535897932385
meter = [length] = m
gram = [mass] = g
second = [time] = s
kelvin = [temperature]; offset: 0 = K
degC = kelvin; offset: 273.15
degF = 5 / 9 * kelvin; offset: 233.15 + 200 / 9
rad = []
deg = pi / 180 * rad
inch = 25.4 * millimeter = in
foot = 12 * inch = ft
pound = 453.59237 * gram = lb
t = 1000 * kilogram
min = 60 * second
h = 60 * min
d = 24 * h
newton = kilogram * meter / second ** 2 = N
lbf = 0.45359237 * 9.80665 * newton
kip = 1000 * lbf
pascal = newton / meter ** 2 = Pa
bar = 100000 * pascal
psi = lbf / inch ** 2
ksi = 1000 * psi
joule = newton * meter = J
"""


def factor(units: pint.UnitRegistry, unit: str, inside: str) -> tuple[float, float]:
    """Slope and offset that turn a number in `unit` into `inside`."""
    zero, one = (units.Quantity(Fraction(number), unit).to(inside).magnitude for number in (0, 1))
    return float(one - zero), float(zero)


def table() -> dict[str, dict[str, tuple[float, float]]]:
    """Slope and offset by kind and unit, those shown in tables with those of files."""
    exact: Any = Fraction  # which the library takes as it takes Decimal, though it does not say so
    units = pint.UnitRegistry("", cache_folder=None, non_int_type=exact)
    units.load_definitions(DEFINITIONS.strip().splitlines())
    rows = {}
    for kind, (inside, written, si, us) in KINDS.items():
        names = dict.fromkeys((*written, si[0], us[0], inside))
        rows[kind] = {name: factor(units, name, inside) for name in names}
    return rows


def text() -> str:
    """The file, a line a unit."""
    return (
        json.dumps(table(), indent=1).replace("[\n   ", "[").replace(",\n   ", ", ").replace("\n  ]", "]")
        + "\n"
    )


if __name__ == "__main__":
    with one_line_errors():
        arguments(__doc__)
        CONVERSIONS.write_text(text(), encoding="utf-8")
