"""Stress concentration and curved bars against published values, exact limits and each other."""

import numpy as np
import pytest

from analysis.clauses.concentration import (
    hole_net,
    lug_net,
    shoulder_bending,
    winkler,
)
from tests.published import case
from tests.reference.concentration import golovin, hole_net_heywood, lug_bearing

HOWLAND = {"A30": 0.1, "A31": 0.2, "A32": 0.3, "A33": 0.4}
PETERSON = {"A38": 0.1, "A39": 0.3, "A40": 0.5}
HEYWOOD = {"A35": 0.1, "A36": 0.3, "A37": 0.5}


@pytest.mark.parametrize("row", PETERSON)
def test_hole_in_a_strip_by_the_polynomial(row):
    assert float(hole_net(PETERSON[row])) == pytest.approx(case(row).expected, rel=1e-9)


@pytest.mark.parametrize("row", HEYWOOD)
def test_hole_in_a_strip_by_heywood(row):
    assert float(hole_net_heywood(HEYWOOD[row])) == pytest.approx(case(row).expected, rel=1e-9)


@pytest.mark.parametrize("row", HOWLAND)
def test_polynomial_follows_howland(row):
    """Howland's factors are on the gross section; the fit is good to 1 % there (case's tolerance)."""
    ratio = HOWLAND[row]
    assert float(hole_net(ratio)) / (1.0 - ratio) == pytest.approx(case(row).expected, rel=0.01)


CURVED = {
    "A46": (golovin, 1.3, 0),
    "A47": (golovin, 1.3, 1),
    "A48": (winkler, 1.3, 0),
    "A49": (winkler, 1.3, 1),
    "A54": (golovin, 3.0, 0),
    "A55": (golovin, 3.0, 1),
    "A56": (winkler, 3.0, 0),
    "A57": (winkler, 3.0, 1),
}


@pytest.mark.parametrize("row", CURVED)
def test_curved_bar_in_pure_bending(row):
    formula, outer, edge = CURVED[row]
    assert float(formula(1.0, outer)[edge]) == pytest.approx(case(row).expected, rel=1e-9)


def test_curved_bar_of_little_curvature_is_straight():
    inner, outer = winkler(1000.0, 1010.0, 3.0)
    straight = 6.0 / (3.0 * 10.0**2)
    assert float(inner) == pytest.approx(straight, rel=0.005)  # curvature adds h/(3R), a third of a per cent
    assert float(outer) == pytest.approx(-straight, rel=0.005)


@pytest.mark.parametrize("ratio", [0.2, 0.3, 0.4, 0.5, 0.6, 0.7])
def test_both_curves_of_the_lug_give_one_peak(ratio):
    """Net and bearing curve are fits of the same photoelastic readings: P Ktn/(H - d) = P Ktb/d, to the fits' few per cent."""
    assert float(lug_net(ratio)) * ratio / (1.0 - ratio) == pytest.approx(float(lug_bearing(ratio)), rel=0.06)


@pytest.mark.parametrize("step", [0.15, 1.0, 1.9, 2.1, 8.0, 19.0])
def test_shoulder_without_a_small_section_left_has_no_rise(step):
    """Both sets of coefficients sum to 1 as the step takes up the whole depth (the form of the fit demands it)."""
    large = 100.0
    small = 1e-9
    assert float(shoulder_bending(large, small, 50.0 / step)) == pytest.approx(1.0, abs=1e-6)


def test_shoulder_ranges_meet_and_grow():
    at = [float(shoulder_bending(140.0, 100.0, 20.0 / q)) for q in (1.99, 2.01)]
    assert at[0] == pytest.approx(at[1], rel=0.03)  # two fits of one chart
    sharp = [float(shoulder_bending(140.0, 100.0, radius)) for radius in (40.0, 20.0, 10.0, 5.0)]
    assert np.all(np.diff(sharp) > 0.0) and sharp[0] > 1.0 and sharp[-1] < 3.5
    assert float(shoulder_bending(100.0, 100.0, 10.0)) == 1.0
