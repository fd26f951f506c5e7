"""The S-N curve as such: its two lines meet, life and range are each other's inverse."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from analysis.fatigue import fretting, iiwclass, surface, weldclass
from analysis.fatigue.curve import Curve

CURVES = [
    weldclass.direct(80),
    weldclass.shear(100),
    iiwclass.curve(90),
    iiwclass.curve(80, "shear"),
    surface.curve(690.0, surface.endurance(690.0, "machined")),
]


@pytest.mark.parametrize("curve", CURVES, ids=lambda curve: curve.title)
def test_life_and_range_are_inverse(curve):
    cycles = np.geomspace(1e4, 5e7, 40)
    assert curve.cycles(curve.allowable(cycles)) == pytest.approx(cycles, rel=1e-9)


@pytest.mark.parametrize("curve", CURVES, ids=lambda curve: curve.title)
def test_the_two_lines_meet(curve):
    just = curve.knee * np.array([1.0 - 1e-9, 1.0 + 1e-9])
    assert curve.cycles(just) == pytest.approx([curve.cycles_at_knee] * 2, rel=1e-6)


@given(st.floats(1.0, 2000.0), st.floats(0.25, 1.0))
def test_a_weakened_curve_is_the_curve_under_more_stress(span, factor):
    curve = weldclass.direct(90)
    weak = float(curve.weakened(factor, "trial").cycles(span))
    assert weak == pytest.approx(float(curve.cycles(span / factor)), rel=1e-6)


def test_category_is_the_range_at_two_million():
    for category in (160, 90, 36):
        assert float(weldclass.direct(category).allowable(2e6)) == pytest.approx(category, rel=1e-9)
        assert float(iiwclass.curve(category).allowable(2e6)) == pytest.approx(category, rel=1e-9)


def test_unwelded_curve_passes_through_its_two_points():
    """Shigley 9th ed. Eq. 6-14, 6-15: f Sut at 1e3 cycles, Se at 1e6."""
    result = surface.endurance(690.0, "as-forged", 0.95)
    curve = surface.curve(690.0, result)
    assert float(curve.allowable(1e3)) == pytest.approx(2.0 * result.fraction * 690.0, rel=1e-9)
    assert float(curve.allowable(1e6)) == pytest.approx(2.0 * result.limit, rel=1e-9)


def test_rougher_surfaces_are_weaker():
    at = [
        surface.endurance(690.0, finish).limit for finish in ("ground", "machined", "hot-rolled", "as-forged")
    ]
    assert at == sorted(at, reverse=True)


def test_below_the_cut_off_nothing_counts():
    curve = weldclass.direct(80)
    assert np.isinf(curve.cycles([0.0, curve.cut_off * 0.999])).all()
    assert np.isfinite(curve.cycles(curve.cut_off * 1.001))


def test_fretting_stays_in_its_published_range():
    curve = surface.curve(690.0, surface.endurance(690.0, "machined"))
    assert fretting.fretted(curve, 0.6).limit == pytest.approx(0.6 * curve.limit, rel=1e-12)
    for factor in (0.2, 0.95):
        with pytest.raises(ValueError, match=r"between 0\.24 and 0\.9"):
            fretting.fretted(curve, factor)


@pytest.mark.parametrize("change", [{"knee": 0.0}, {"slope": 6.0}, {"cycles_at_knee": -1.0}])
def test_impossible_curves_are_refused(change):
    wanted = {"title": "t", "knee": 50.0, "cycles_at_knee": 5e6, "slope": 3.0, "slope_beyond": 5.0} | change
    with pytest.raises(ValueError, match="slopes must be positive"):
        Curve(**wanted)
