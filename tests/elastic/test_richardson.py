"""Observed order and error band on series whose order and limit are known beforehand."""

import pytest

from analysis.elastic.richardson import band, observed_order


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


def test_a_swinging_series_has_a_band_of_three_times_its_range():
    """Eca and Hoekstra, J. Comput. Phys. 262 (2014), from memory: U = 3 max |fi - fj| where no order shows."""
    estimate = band([2.0, 1.4, 1.0], [100.0, 104.0, 101.0])
    assert estimate.order is None and estimate.band == pytest.approx(3.0 * 4.0 / 101.0, rel=1e-12)


def test_a_place_that_is_not_refined_tells_of_its_scatter_alone():
    """Elements there stay as they were: by the mesh's own ratio the same three values would show an order and a band of 0.5 %."""
    values = [100.0, 101.0, 101.5]
    assert band([30.0, 29.8, 29.5], values).band == pytest.approx(3.0 * 1.5 / 101.5, rel=1e-12)
    assert band([2.0, 1.4, 1.0], values).band < 0.01


def test_an_order_above_theory_makes_no_smaller_band():
    estimate = band([4.0, 2.0, 1.0], [100.0 - h**3.3 for h in (4.0, 2.0, 1.0)])
    assert estimate.order == pytest.approx(3.3, rel=1e-9)
    assert estimate.band == pytest.approx(1.25 * (2.0**3.3 - 1.0) / 99.0 / 3.0, rel=1e-9)


@pytest.mark.parametrize(
    ("series", "further"),
    [([70.5457, 70.408, 70.3959], 70.60), ([207.028, 211.483, 210.997], 209.1)],
    ids=["pivot bore", "outside"],
)
def test_band_covers_what_a_further_mesh_showed(series, further):
    """Peaks of the linkspan rocker at 8, 11 and 15 elements per quarter bore, and on one mesh more, measured; MPa. The band that
    went by the bores' ratio and the last change alone was 0.06 % and 0.8 %."""
    share = band([1 / 8, 1 / 11, 1 / 15], series).band
    assert share > abs(further / series[-1] - 1.0)
