"""The record's promise: whoever types a printed substitution into a pocket calculator gets the printed result."""

import csv
import math
import re

import pytest

from analysis.record.checks import checks
from analysis.record.sections import sections
from analysis.record.statics import statics
from analysis.record.tables import Tables
from tests.record.printed import NUMBER, calculations, calculator, plain, result
from tests.record.standin import hand_only

CASES = {
    "bench-lever": {},
    "sluice-crank": {},
    "linkspan-rocker": {},
    "bench-lever, EN 1993": {"pin_code": "en1993"},
    "bench-lever, AISC 360": {"pin_code": "aisc360"},
    "sluice-crank, EN 1993": {"pin_code": "en1993"},
    "bench-lever, bar": {"kind": "solid"},
    "bench-lever, box": {"kind": "box"},
    "bench-lever, no root radius": {"fillet": "0 mm"},
    "bench-lever, failing": {"design_factor": "9"},
    "bench-lever, by moment": {
        "- {at: 0, force": "=- {at: 0, moment: 1.8 kN*m}",
        "- {at: 1, force": "=- {at: 1, moment: 1.9 kN*m}",
    },
}


@pytest.fixture(scope="module", params=CASES)
def tables(request, tmp_path_factory):
    name = request.param.partition(",")[0]
    return Tables(hand_only(name, tmp_path_factory.mktemp("results") / name, **CASES[request.param]))


def pages(tables):
    return "\n".join(part(tables) for part in (statics, sections, checks))


def test_every_substitution_gives_its_printed_result(tables):
    actual = list(calculations(pages(tables)))
    assert len(actual) > 100
    for symbol, _, numbers, shown in actual:
        value, half = result(shown)
        got = calculator(numbers)
        # A result of 0 stands for round-off: nothing beside the largest number that goes in.
        most = max([float(one) for one in NUMBER.findall(plain(numbers))], default=1.0)
        room = 1e-6 * most if value == 0.0 else half * (1.0 + 1e-6)
        assert abs(got - value) <= room, f"{symbol} = {numbers} = {shown}, but the calculator says {got:.9g}"


def test_every_number_in_a_substitution_stands_above_it(tables):
    """As a given number, an earlier result of the same block, or a constant of the equation in symbols."""
    for block in re.split(r"#given\(", pages(tables))[1:]:
        seen = set(re.findall(r"\d+\.?\d*", plain(block.partition("\n))")[0])))
        for _, symbols, numbers, shown in calculations(block):
            constants = set(NUMBER.findall(re.sub(r'_"[^"]*"', "", symbols)))
            put = set(NUMBER.findall(re.sub(r" times 10\^\(-?\d+\)", "", plain_units(numbers))))
            assert put <= seen | constants, (symbols, numbers)
            seen |= set(NUMBER.findall(plain_units(shown)))


def plain_units(typed):
    return re.sub(r'\s*(space\.thin)?\s*"[^"]*"(\^\(-?\d+\))?', "", typed)


def test_last_lines_are_the_row_of_the_table(tables):
    """Demand, capacity and margin of every check in full are those of checks.csv: kN and kN m there, N and N mm in the lines."""
    per_table = {"kN": 1e3, "kN m": 1e6, "kip ft": 12.0}
    with (tables.folder / "checks.csv").open(newline="") as file:
        rows = {(row["check"], row["place"], row["load_case"]): row for row in csv.DictReader(file)}
    for work in tables.workings.checks:
        row = rows[work.check, work.place, work.load_case]
        for line in work.lines:
            if line.symbol in ("demand", "capacity"):
                printed = float(line.printed) * 10.0**line.power
                wanted = float(row[line.symbol]) * per_table.get(row["unit"], 1.0)
                assert math.isclose(printed, wanted, rel_tol=5e-4)  # half a unit of the fourth digit at most
            if line.symbol == "margin":
                assert math.isclose(
                    float(line.printed) * 10.0**line.power, float(row["margin"]), rel_tol=5e-4
                )


def test_calculator_knows_a_worked_example():
    """Bearing of EN 1993-1-8:2005 table 3.10: 1.5 t d fy = 1.5 x 40 x 80 x 345 = 1656 kN, by hand; sin 30 degrees is a half."""
    assert calculator('(1.5 dot 40 "mm" dot 80 "mm" dot 345 "MPa")/(1.0)') == pytest.approx(1656e3, rel=1e-12)
    assert calculator('sin(30"°") dot (2 "mm")^(2)') == pytest.approx(2.0, rel=1e-12)
    assert calculator("(\u22121.5 times 10^(3))/(3)") == pytest.approx(-500.0)
    assert result('12.340 times 10^(6) space.thin "mm"^(4)') == pytest.approx((12.34e6, 500.0))
