"""The section `bores:` of an arm's file: what reads, and the one line for what does not."""

import pytest

from params.schema.expansion import expansion
from tests.bores.files import VALID, edited, messages, read


def test_a_valid_section_reads_without_a_word(tmp_path):
    assert messages(tmp_path, VALID) == []
    section = read(tmp_path, VALID)
    assert str(section.fits["pivot"].fit.fit) == "H7/s6"
    assert section.fits["pivot"].shaft.expansion == pytest.approx(11.7e-6)
    assert section.fretting.least == 0.24 and section.fretting.most == 0.90


FAULTS = [
    (
        "H7/s6",
        "W7/s6",
        "bores.yaml:3: fits.pivot.fit.fit: W7/s6, has the deviation W, which is not held here",
    ),
    ("H7/s6", "H3/s6", "fits.pivot.fit.fit: H3/s6, has the grade 3, IT5 to IT12"),
    ("H7/s6", "s6/H7", "is not a hole and a shaft"),
    ("H7/s6", "H7", "is not a fit"),
    ("{fit: H7/s6}", "{fit: H7/s6, measured: {bore: 320 mm, shaft: 320.1 mm}}", "has both fit and measured"),
    ("{fit: H7/s6}", "{}", "has neither fit nor measured"),
    ("{fit: H7/s6}", "{measured: {bore: 32 mm, shaft: 320.1 mm}}", "differs too much from the arm's bore"),
    ("H7/s6", "K9/h6", "has no limits for K9"),
    ("inside: 0 mm", "inside: 330 mm", "leaves no wall for the shaft"),
    ("least: 0.15", "least: 0.3", "is more than the most friction"),
    ("[20 degC, 20 degC]", "[30 degC, 20 degC]", "is warmer than the second"),
    ("hub_limit: 250 degC", "hub_limit: 15 degC", "does not allow any heating"),
    ("clearance: 0.05 mm", "clearance: 0.05 mm, cooled_shaft: 60 degC", "is not colder than the room"),
    ("11.7 um/m/K", "11.7", "is not a thermal expansion"),
    ("11.7 um/m/K", "117 um/m/K", "is out of range, between 1 um/m/K and 40 um/m/K"),
    ("category: 90", "category: 85", "welds.0.category: 85, is not one of the choices"),
    ("category: 90", "category: 90, fat: 90", "has both category and fat"),
    ("category: 90, ", "", "has neither category nor fat"),
    ("station: 500 mm", "station: 5 m", "lies beyond the pin"),
    (", station: 500 mm", "", "has only one of arm and station"),
    ("region: outside, finish", "region: pivot_bore, finish", "is listed 2 times"),
    ("{used: 0.6}", "{used: 0.6, least: 0.7}", "is out of its range, between 0.7 and 0.9"),
    ("{used: 0.6}", "{used: 0.1}", "is too small, at least 0.24"),
    ("from_case: hold", "from_case: away", "is not a load case of this file"),
    ("from_case: hold", "from_case: raise", "is the case at which the signal is 0"),
    ("values: [0, 1, 0.5, 1, 0]", "values: [0]", "has too few entries"),
    ("finish: machined", "finish: polished", "is not one of the choices"),
    ("mean_stress: {rule: goodman}", "mean_stress: {rule: goodman, rul: x}", "is not a known key"),
]


@pytest.mark.parametrize(("old", "new", "line"), FAULTS, ids=[new or old for old, new, _ in FAULTS])
def test_a_fault_is_one_clear_line(tmp_path, old, new, line):
    (said,) = messages(tmp_path, edited(old, new))
    assert line in said
    assert said.startswith("bores.yaml:")


def test_inches_and_fahrenheit():
    """6.5 uin/in/F is 11.7 um/m/K: a kelvin is 1.8 degrees Fahrenheit."""
    assert expansion("6.5 uin/in/F") == pytest.approx(11.7e-6, rel=1e-12)
