"""Drawn durations against closed forms: sums of many, common causes, and the limit where all share one."""

from __future__ import annotations

import numpy as np
import pytest
from scipy import stats
from scipy.special import ndtr

from analysis.making.dates.sampling import durations, needed, normals
from analysis.making.dates.threepoint import Shape, quantile

SAMPLES = 40_000
FAR = 4.5  # standard errors: chance of a good sampler to fail is below 1e-5, and the seed is fixed


def test_correlation_is_the_sum_of_common_weights() -> None:
    weights = np.array([[0.3, 0.2], [0.3, 0.0], [0.0, 0.5], [0.0, 0.0]])
    actual = np.corrcoef(normals(weights, SAMPLES, 1))
    wanted = weights**0.5 @ (weights**0.5).T
    np.fill_diagonal(wanted, 1.0)
    assert np.abs(actual - wanted).max() < FAR / SAMPLES**0.5
    assert wanted[0, 1] == pytest.approx(0.3)


def test_each_is_standard_normal() -> None:
    drawn = normals(np.array([[0.6], [0.0]]), SAMPLES, 2)
    for row in drawn:
        assert stats.kstest(row, "norm").pvalue > 1e-4


@pytest.mark.parametrize("shape", ["pert", "triangular"])
def test_table_of_quantiles(shape: Shape) -> None:
    """Linear interpolation 0.01 apart errs by 0.01^2/8 times the curvature, which is below one width."""
    three = np.array([(0.0, 3.0, 10.0), (2.0, 2.0, 5.0), (1.0, 4.0, 4.0)])
    z = np.linspace(-5.0, 5.0, 3001)[None, :].repeat(3, axis=0)
    exact = quantile(shape, three[:, :1], three[:, 1:2], three[:, 2:], ndtr(z))
    corner = (
        0.01 if shape == "triangular" else 1.0
    )  # the triangle's quantile has a corner of slope at the mode
    assert np.abs(durations(shape, three, z) - exact).max() < 10.0 * 0.01**2 / 8.0 / corner**0.5


@pytest.mark.parametrize("shape", ["pert", "triangular"])
def test_sum_of_many_is_normal(shape: Shape) -> None:
    """Central limit: 60 independent tasks; mean and variance from scipy's distributions, percentiles from the normal."""
    low, likely, high = 2.0, 3.0, 8.0
    first = 1.0 + 4.0 * (likely - low) / (high - low)
    one = stats.beta(first, 6.0 - first, low, high - low)
    if shape == "triangular":
        one = stats.triang((likely - low) / (high - low), low, high - low)
    three = np.tile((low, likely, high), (60, 1))
    total = durations(shape, three, normals(np.zeros((60, 0)), SAMPLES, 3)).sum(axis=0)
    mean, spread = 60.0 * one.mean(), (60.0 * one.var()) ** 0.5
    assert total.mean() == pytest.approx(mean, abs=FAR * spread / SAMPLES**0.5)
    assert total.std() == pytest.approx(spread, rel=FAR / (2.0 * SAMPLES) ** 0.5)
    for share in (0.5, 0.8, 0.9):  # skewness 0.5/sqrt(60) shifts percentiles by up to skew/6 of a spread
        wanted = stats.norm.ppf(share, mean, spread)
        assert np.quantile(total, share) == pytest.approx(
            wanted, abs=(0.5 / 60**0.5 / 6.0 + FAR * 1.7 / SAMPLES**0.5) * spread
        )


@pytest.mark.parametrize("shape", ["pert", "triangular"])
def test_one_cause_for_everything_adds_percentiles(shape: Shape) -> None:
    """With weight 1 all durations rise together, so each percentile of the sum is the sum of percentiles."""
    three = np.array([(0.0, 3.0, 10.0), (2.0, 2.5, 5.0), (1.0, 4.0, 6.0)])
    total = durations(shape, three, normals(np.ones((3, 1)), SAMPLES, 4)).sum(axis=0)
    for share in (0.1, 0.5, 0.9):
        wanted = sum(float(quantile(shape, *row, share)) for row in three)
        density_spread = (
            13.0 * FAR * (share * (1.0 - share) / SAMPLES) ** 0.5
        )  # widths add to 13 d; density about 1 a width
        assert np.quantile(total, share) == pytest.approx(wanted, abs=density_spread)


def test_spread_grows_with_what_is_shared() -> None:
    three = np.tile((2.0, 3.0, 8.0), (10, 1))
    spreads = [
        durations("pert", three, normals(np.full((10, 1), weight), SAMPLES, 5)).sum(axis=0).std()
        for weight in (0.0, 0.3, 1.0)
    ]
    assert spreads == sorted(spreads)
    assert spreads[2] / spreads[0] == pytest.approx(
        10.0**0.5, rel=0.03
    )  # n sigma over sqrt(n) sigma; some standard errors


def test_seed_is_all_that_matters() -> None:
    weights = np.array([[0.3], [0.5]])
    assert np.array_equal(normals(weights, 1000, 7), normals(weights, 1000, 7))
    assert not np.array_equal(normals(weights, 1000, 7), normals(weights, 1000, 8))
    assert np.array_equal(needed(np.array([0.3]), 1000, 7), needed(np.array([0.3]), 1000, 7))


def test_share_of_needed_tasks() -> None:
    drawn = needed(np.array([0.06, 0.35, 1.0]), SAMPLES, 1).mean(axis=1)
    assert drawn[:2] == pytest.approx([0.06, 0.35], abs=FAR * 0.5 / SAMPLES**0.5)
    assert drawn[2] == 1.0
