"""Units against their exact definitions, and quantities as people write them."""

from __future__ import annotations

import math

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from params.schema.conversions import text
from params.schema.units import CONVERSIONS, KINDS, inside, outside, parse, show

# Exact definitions (NIST SP 811, 2008, appendix B): inch 25.4 mm, pound 0.45359237 kg, standard gravity 9.80665 m/s2.
INCH, POUND, GRAVITY = 25.4, 0.45359237, 9.80665
LBF = POUND * GRAVITY  # 4.4482216152605 N
DEFINED = [
    ("1 in", "length", INCH),
    ("1 ft", "length", 12.0 * INCH),
    ("2.05 m", "length", 2050.0),
    ("1 kip", "force", 1000.0 * LBF),
    ("1 lbf", "force", 4.4482216152605),
    ("620 kN", "force", 620_000.0),
    ("1 psi", "stress", LBF / INCH**2),
    ("1 ksi", "stress", 6.894757293168),
    ("210 bar", "stress", 21.0),
    ("205 GPa", "stress", 205_000.0),
    ("1 kip*ft", "moment", 1000.0 * LBF * 12.0 * INCH),
    ("1 kN*m", "moment", 1e6),
    ("1 lb/in^3", "density", POUND / INCH**3),
    ("7850 kg/m^3", "density", 7.85e-6),
    ("180 deg", "angle", math.pi),
    ("-90 deg", "angle", -math.pi / 2.0),
    ("1 ft*lbf", "energy", LBF * 0.3048),
    ("-10 degF", "temperature", (-10.0 - 32.0) / 1.8),
    ("-51 degC", "temperature", -51.0),
    ("1 lb", "mass", POUND),
    ("1 t", "mass", 1000.0),
]
# Beside the units of DEFINED, the library's own tables (general-purpose reference library; it knows no kip).
KNOWN = [(kind, unit) for kind, row in KINDS.items() for unit in row[1] if "kip" not in unit]
ROUNDING = (
    1e-12  # relative: some roundings of a double; degrees Fahrenheit lose a little more through their offset
)


@pytest.mark.parametrize(("text", "kind", "expected"), DEFINED)
def test_units_by_definition(text: str, kind: str, expected: float) -> None:
    assert parse(text, kind) == pytest.approx(expected, rel=ROUNDING, abs=1e-11)


def test_the_file_of_conversions_is_what_the_units_library_makes() -> None:
    assert CONVERSIONS.read_text(encoding="utf-8") == text(), "run python -m params.schema.conversions"


def test_units_by_the_tables_of_a_library() -> None:
    quantity = pint.UnitRegistry(cache_folder=None).Quantity
    for kind, unit in KNOWN:
        for value in (0.0, 1.0, 250.0):
            expected = quantity(value, unit).to(KINDS[kind][0]).magnitude
            assert inside(value, unit, kind) == pytest.approx(expected, rel=ROUNDING, abs=1e-11), unit


@given(
    st.sampled_from([(kind, unit) for kind, row in KINDS.items() for unit in row[1]]), st.floats(-1e6, 1e6)
)
def test_there_and_back(kind_unit: tuple[str, str], value: float) -> None:
    kind, unit = kind_unit
    # A degree Fahrenheit carries an offset of 32, which costs its last digits near zero.
    assert outside(inside(value, unit, kind), unit, kind) == pytest.approx(value, rel=1e-12, abs=1e-10)


@pytest.mark.parametrize(
    "text",
    [
        "",
        " ",
        "mm",
        "1,5 mm",
        "1.5 mm mm",
        "1e mm",
        "0x10 mm",
        "1_0 mm",
        "\u0661 mm",
        "1 µm",
        None,
        [],
        {},
        True,
        "--1 mm",
    ],
)
def test_what_is_no_length(text: object) -> None:
    with pytest.raises(Exception, match=r"has the unit|is not a length|has no unit"):
        parse(text, "length")


@pytest.mark.parametrize("text", ["1.5 mm", "1.5mm", " 1.5  mm ", "+1.5 mm", "15e-1 mm", ".15e1 mm"])
def test_ways_to_write_one_length(text: str) -> None:
    assert parse(text, "length") == 1.5


def test_shown_in_the_units_of_the_system() -> None:
    assert show(2975.06, "length", "si") == "2,975.1 mm"
    assert show(25.4 * 12.0, "length", "us") == "12.00 in"
    assert show(-1234.5e3, "force", "si") == "-1,234.5 kN"
    assert show(1e6, "moment", "si") == "1.0 kN m"
    assert show(math.pi, "angle", "us") == "180.0 deg"
