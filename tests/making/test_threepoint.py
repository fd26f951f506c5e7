"""Three-point durations against scipy's own distributions and the published rule of PERT."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats
from scipy.integrate import quad

from analysis.making.dates.threepoint import Shape, quantile
from tests.reference.pert import pert_mean, pert_variance

THREES = [(0.0, 3.0, 10.0), (2.0, 2.0, 5.0), (1.0, 4.0, 4.0), (5.0, 7.0, 9.0)]
SHARES = np.array([0.0, 0.01, 0.1, 0.3, 0.5, 0.8, 0.9, 0.99, 1.0])


@pytest.mark.parametrize(("low", "likely", "high"), THREES)
def test_triangle_as_scipy_has_it(low: float, likely: float, high: float) -> None:
    reference = stats.triang((likely - low) / (high - low), loc=low, scale=high - low)
    assert quantile("triangular", low, likely, high, SHARES) == pytest.approx(
        reference.ppf(SHARES), abs=1e-12
    )


def test_triangle_by_hand() -> None:
    """0, 3, 10: share 0.3 lies below the mode; above it 1 - (10 - x)^2/70, so P90 = 10 - sqrt(7)."""
    assert quantile("triangular", 0.0, 3.0, 10.0, 0.3) == pytest.approx(3.0, abs=1e-12)
    assert quantile("triangular", 0.0, 3.0, 10.0, 0.9) == pytest.approx(10.0 - 7.0**0.5, abs=1e-12)


@pytest.mark.parametrize(("low", "likely", "high"), THREES)
def test_beta_as_scipy_has_it(low: float, likely: float, high: float) -> None:
    first = 1.0 + 4.0 * (likely - low) / (high - low)
    reference = stats.beta(first, 6.0 - first, loc=low, scale=high - low)
    assert quantile("pert", low, likely, high, SHARES) == pytest.approx(
        reference.ppf(SHARES), abs=1e-9
    )  # both iterate
    assert reference.mean() == pytest.approx(pert_mean(low, likely, high), rel=1e-12)


@pytest.mark.parametrize("shape", ["pert", "triangular"])
@pytest.mark.parametrize(("low", "likely", "high"), THREES)
def test_mean_is_the_integral_of_the_quantile(shape: Shape, low: float, likely: float, high: float) -> None:
    mean = quad(lambda share: float(quantile(shape, low, likely, high, share)), 0.0, 1.0, limit=200)[0]
    closed = pert_mean(low, likely, high) if shape == "pert" else (low + likely + high) / 3.0
    assert mean == pytest.approx(closed, rel=1e-5)  # quadrature at the steep ends


def test_published_variance_is_that_of_the_middle_within_its_rounding() -> None:
    """For m in the middle beta(3, 3) on width w has the variance w^2/28; the rule of six says w^2/36."""
    assert stats.beta(3.0, 3.0, scale=12.0).var() == pytest.approx(144.0 / 28.0, rel=1e-12)
    assert pert_variance(0.0, 12.0) == pytest.approx(4.0, rel=1e-12)


@given(
    st.sampled_from(["pert", "triangular"]), st.floats(0.0, 50.0), st.floats(0.0, 1.0), st.floats(0.0, 1.0)
)
def test_a_duration_that_does_not_vary(shape: Shape, length: float, share: float, other: float) -> None:
    assert (
        quantile(shape, length, length, length, share)
        == quantile(shape, length, length, length, other)
        == length
    )
