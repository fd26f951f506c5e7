"""Fatigue strengths against the standard, the recommendations and the textbook; every row of the table is
used.
"""

import math
import re

import numpy as np
import pytest

from analysis.fatigue import iiwclass, meanstress, surface, weldclass
from analysis.fatigue.counting import count
from params.schema.weldclasses import CATEGORIES, DETAILS
from tests.published import case, cases

ROWS = {c.id: c for c in cases().values() if re.fullmatch(r"E\d{3}", c.id)}
LIMITS = [c for c in ROWS.values() if "CAFL, category" in c.title or "cut-off, category" in c.title]
RELIABILITY = [c for c in ROWS.values() if c.title.startswith("Reliability")]
SURFACES = [c for c in ROWS.values() if c.title.startswith("Marin surface")]
RAINFLOW = [c for c in ROWS.values() if "rainflow" in c.title]
HISTORY = [-2, 1, -3, 5, -1, 3, -4, 4, -2]  # ASTM E1049-85, Fig. 6
KSI = 6.894757


def test_every_row_of_the_table_is_used():
    kinds = [*LIMITS, *RELIABILITY, *SURFACES, *RAINFLOW]
    named = {row.id for row in kinds} | set(DETAIL) | set(SINGLE) | set(MEAN)
    assert len(kinds) + len(DETAIL) + len(SINGLE) + len(MEAN) == len(named) == len(ROWS) == 84
    assert named == set(ROWS)


@pytest.mark.parametrize("row", LIMITS, ids=lambda row: row.id)
def test_limits_of_the_detail_categories(row):
    result = weldclass.direct(float(row.title.split()[-1]))
    value = result.limit if "CAFL" in row.title else result.cut_off
    assert value == pytest.approx(row.expected, rel=1e-9)  # closed form of the clause, only rounding


def test_every_category_of_the_standard_has_its_rows():
    assert len(LIMITS) == 2 * len(CATEGORIES)


# Row of the table: name of the detail in params.schema.weldclasses.
DETAIL = {
    "E035": "rolled",
    "E036": "gas-cut-dressed",
    "E037": "gas-cut",
    "E038": "longitudinal-automatic",
    "E039": "longitudinal-automatic-stops",
    "E040": "longitudinal-manual",
    "E041": "butt-ground",
    "E042": "butt-low",
    "E043": "butt",
    "E044": "attachment-50",
    "E045": "attachment-80",
    "E046": "attachment-100",
    "E047": "attachment-long",
    "E048": "stiffener-50",
    "E049": "gusset-radius",
    "E050": "partial-root",
}


@pytest.mark.parametrize("id", DETAIL)
def test_detail_categories(id):
    assert DETAILS[DETAIL[id]][0] == ROWS[id].expected
    assert DETAILS[DETAIL[id]][0] in CATEGORIES


def sf(cycles):
    """Shigley 9th ed. Example 6-8: Sut 49 kpsi, Se 16.3 kpsi (its own rounding), f 0.9."""
    result = surface.Endurance(16.3 * KSI, 1.0, 1.0, 1.0, 1.0, 0.9)
    return surface.curve(49.0 * KSI, result).allowable(cycles) / 2.0 / KSI


def se():
    """Shigley 9th ed. Example 6-8: Se' is tabulated as 24.5 kpsi, axial load 0.85, reliability 99 %."""
    return surface.endurance(49.0 * KSI, "machined", 0.99, load=surface.LOAD["axial"]).limit / KSI


# Row: what computes it, and the tolerance: the last printed digit of rounded figures, rounding dust of closed
# forms.
SINGLE = {
    "E029": (lambda: float(weldclass.direct(80).cycles(100.0)), {"rel": 1e-9}),
    "E030": (lambda: float(weldclass.direct(80).cycles(50.0)), {"rel": 1e-9}),
    "E031": (lambda: weldclass.shear(100).cut_off, {"rel": 1e-9}),
    "E034": (lambda: weldclass.size_effect(40.0), {"rel": 1e-9}),
    "E051": (lambda: iiwclass.curve(90).knee, {"rel": 1e-9}),
    "E052": (lambda: iiwclass.curve(160, "parent").knee, {"rel": 1e-9}),
    "E059": (lambda: iiwclass.thickness_factor(40.0, 0.3), {"rel": 1e-9}),
    "E076": (lambda: surface.surface_factor(520.0, "machined"), {"abs": 5e-3}),
    "E077": (lambda: surface.surface_factor(520.0, "as-forged"), {"abs": 5e-3}),
    "E078": (lambda: surface.size_factor(32.0), {"abs": 1e-3}),
    "E079": (lambda: surface.size_factor(0.37 * 32.0), {"abs": 1e-3}),
    "E081": (lambda: surface.surface_factor(49.0 * KSI, "machined"), {"abs": 1e-3}),
    "E082": (se, {"abs": 0.05}),
    "E085": (lambda: float(sf(70_000.0)), {"abs": 0.1}),
}


@pytest.mark.parametrize("id", SINGLE)
def test_single_values(id):
    compute, tolerance = SINGLE[id]
    assert compute() == pytest.approx(ROWS[id].expected, **tolerance)


@pytest.mark.parametrize("row", RELIABILITY, ids=lambda row: row.id)
def test_reliability_factors(row):
    share = float(re.search(r"([\d.]+)%", row.title)[1]) / 100.0
    assert surface.reliability_factor(share) == pytest.approx(row.expected, abs=1e-3)  # three printed digits


@pytest.mark.parametrize("row", SURFACES, ids=lambda row: row.id)
def test_surface_constants(row):
    finish = row.title.split()[-1].replace("machined/cold-drawn", "machined")
    a, b = surface.SURFACE[finish]
    assert (a if "surface a" in row.title else b) == row.expected


# smax 300, smin 30 MPa, Su 600.
MEAN = {
    "E091": meanstress.mean_rule("goodman", tensile=600.0),
    "E092": meanstress.mean_rule("gerber", tensile=600.0),
    "E093": meanstress.mean_rule("morrow", true_fracture=900.0),
    "E094": meanstress.mean_rule("swt"),
    "E096": meanstress.mean_rule("soderberg", yield_strength=450.0),
}


@pytest.mark.parametrize("id", MEAN)
def test_mean_stress_rules(id):
    assert float(MEAN[id].equivalent(135.0, 165.0)) == pytest.approx(ROWS[id].expected, rel=1e-9)


@pytest.mark.parametrize("row", RAINFLOW, ids=lambda row: row.id)
def test_rainflow_example(row):
    counted = count(HISTORY)
    wanted = float(row.title.split()[-1])
    assert counted.cycles[counted.range == wanted].sum() == row.expected


def test_rainflow_example_has_no_other_ranges():
    assert count(HISTORY).cycles.sum() == sum(row.expected for row in RAINFLOW)


def test_textbook_example_of_the_strength_fraction():
    """Shigley 9th ed. Example 6-2, from memory: Sut 90 kpsi, Se' 45, f 0.86, strength at 1e4 cycles 64.6
    kpsi.
    """
    tensile = 90.0 * KSI
    assert surface.strength_fraction(tensile) == pytest.approx(0.86, abs=5e-3)
    result = surface.Endurance(45.0 * KSI, 1.0, 1.0, 1.0, 1.0, 0.86)
    assert float(surface.curve(tensile, result).allowable(1e4)) / 2.0 / KSI == pytest.approx(64.6, abs=0.1)
    assert float(surface.curve(tensile, result).cycles(2.0 * 55.0 * KSI)) == pytest.approx(77.5e3, rel=0.01)


def test_walker_with_half_is_smith_watson_topper_and_steels_lie_between():
    amplitude, mean = np.array([135.0, 80.0]), np.array([165.0, -20.0])
    half = meanstress.mean_rule("walker", walker_exponent=0.5).equivalent(amplitude, mean)
    assert half == pytest.approx(meanstress.mean_rule("swt").equivalent(amplitude, mean), rel=1e-12)
    # Walker's own form: smax ((1 - R)/2)^gamma, Dowling chapter 9; R = 0.1, gamma = 0.65, by hand: 300 *
    # 0.45^0.65.
    material = meanstress.mean_rule("walker", walker_exponent=0.65).equivalent(135.0, 165.0)
    assert float(material) == pytest.approx(300.0 * 0.45**0.65, rel=1e-12)
    # Morrow with the tensile strength alone: true fracture 600 + 345 (Shigley, 9th ed., Eq. 6-11), so 100/(1 - 100/945).
    plain = meanstress.mean_rule("morrow", tensile=600.0).equivalent(100.0, 100.0)
    assert float(plain) == pytest.approx(111.834, abs=5e-4)
    assert meanstress.mean_rule("walker", tensile=450.0).number == pytest.approx(0.7918, abs=1e-4)


@pytest.mark.parametrize("rule", ["goodman", "gerber", "morrow", "soderberg", "swt", "walker", "none"])
def test_no_mean_changes_nothing_and_more_mean_never_helps(rule):
    result = meanstress.mean_rule(rule, tensile=600.0, yield_strength=450.0)
    assert float(result.equivalent(100.0, 0.0)) == pytest.approx(100.0, rel=1e-12)
    means = np.linspace(-300.0, 900.0, 60)
    assert (
        np.diff(result.equivalent(100.0, means)[np.isfinite(result.equivalent(100.0, means))]) >= -1e-9
    ).all()
    if rule in ("swt", "walker"):
        assert float(result.equivalent(100.0, -150.0)) == 0.0
    elif rule != "none":
        assert math.isinf(float(result.equivalent(100.0, 950.0)))


def test_partial_factors_of_the_standard():
    """EN 1993-1-9:2005 Table 3.1, from memory; the factor divides the category."""
    assert weldclass.PARTIAL_FACTOR == {
        ("damage tolerant", "low"): 1.00,
        ("damage tolerant", "high"): 1.15,
        ("safe life", "low"): 1.15,
        ("safe life", "high"): 1.35,
    }
    assert weldclass.direct(90, 1.35).limit == pytest.approx(case("E011").expected / 1.35, rel=1e-9)


def test_largest_ranges_of_the_standard():
    """EN 1993-1-9:2005 section 8(1), from memory: 1.5 fy, and 1.5 fy/sqrt(3) in shear; fy = 200: 300 and 173.2 MPa."""
    assert weldclass.direct(90, yield_strength=200.0).most == pytest.approx(300.0)
    assert weldclass.shear(100, yield_strength=200.0).most == pytest.approx(173.205, abs=5e-4)


def test_fat_classes_beyond_the_knee_by_hand():
    """IIW-2259-15, from memory: FAT 90, 52.63 MPa at 1e7; at 1e8 52.63 x 10^(-1/5) where ranges vary, else 10^(-1/22). Parent
    material m = 5: twice the knee's range lasts a 32nd."""
    varying, constant = (float(iiwclass.curve(90, varying=said).allowable(1e8)) for said in (True, False))
    assert (varying, constant) == (pytest.approx(33.208, abs=2e-3), pytest.approx(47.40, abs=5e-3))
    parent = iiwclass.curve(160, "parent")
    assert float(parent.cycles(2.0 * parent.knee)) == pytest.approx(1e7 / 32.0, rel=1e-9)


def test_direct_and_shear_together():
    """EN 1993-1-9 Eq. 8.3 by hand: 0.8^3 + 0.7^5 = 0.512 + 0.16807."""
    assert float(weldclass.combined(80.0, 100.0, 70.0, 100.0)) == pytest.approx(0.68007, rel=1e-9)


@pytest.mark.parametrize(
    "wrong",
    [
        lambda: weldclass.direct(85),
        lambda: weldclass.shear(90),
        lambda: weldclass.direct(80, 0.9),
        lambda: weldclass.size_effect(0.0),
        lambda: iiwclass.curve(20),
        lambda: iiwclass.curve(90, partial_factor=1.5),
        lambda: iiwclass.thickness_factor(40.0, 0.5),
        lambda: surface.size_factor(600.0),
        lambda: surface.surface_factor(100.0, "machined"),
        lambda: surface.reliability_factor(0.4),
        lambda: meanstress.mean_rule("goodman"),
        lambda: meanstress.mean_rule("walker", walker_exponent=1.5),
    ],
)
def test_outside_the_limits_is_refused(wrong):
    with pytest.raises(ValueError, match=r"\d|nan"):
        wrong()
