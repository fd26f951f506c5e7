"""Observed order and error band on series whose order and limit are known beforehand."""

import pytest

from analysis.proof.richardson import band, observed_order


@pytest.mark.parametrize("order", [0.8, 1.0, 2.0, 3.3])
@pytest.mark.parametrize("size", [[4.0, 2.0, 1.0], [1.0, 0.8, 0.5]])
def test_order_of_a_series_made_with_it(order, size):
    peaks = [100.0 - 7.0 * h**order for h in size]
    assert observed_order(size, peaks) == pytest.approx(order, rel=1e-9)  # root finder's own tolerance


def test_band_holds_the_limit_with_the_safety_factor():
    size = [4.0, 2.0, 1.0]
    peaks = [100.0 - 2.0 * h**2 for h in size]
    estimate = band(size, peaks)
    # Richardson: |f1 - limit| = |f1 - f2| / (r^2 - 1) = 2 exactly; the band is 1.25 times that, as a share of f1 = 98.
    assert estimate.band == pytest.approx(1.25 * 2.0 / 98.0, rel=1e-9)


def test_two_meshes_take_the_order_of_theory_and_the_larger_factor():
    estimate = band([2.0, 1.0], [90.0, 96.0])
    assert estimate.order is None
    assert estimate.band == pytest.approx(3.0 * 6.0 / 96.0 / 3.0, rel=1e-12)


def test_oscillating_series_has_no_observed_order():
    assert observed_order([4.0, 2.0, 1.0], [100.0, 104.0, 101.0]) is None
    assert band([1.0], [5.0]).band is None
