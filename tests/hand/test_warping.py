"""Normal stress by a shear that varies along a bar, and the sharply curved knee between the arms, against closed forms."""

import numpy as np
import pytest
from scipy.integrate import quad

from analysis.mechanics.knee import Knee
from analysis.mechanics.warping import straight, warping
from tests.arms import demo


def test_a_uniformly_loaded_bar_is_stressed_as_in_the_exact_solution():
    # Timoshenko and Goodier, Theory of Elasticity, art. 22: beyond M y/I the narrow bar under q has q/(2 I) (2 y^3/3 - 2 c^2 y/5);
    # without lateral contraction, which there comes from the load's own pressure. As the best line over the outer quarter.
    c, q = 150.0, 70.0
    second = 2.0 * c**3 / 3.0  # 1 mm wide
    y, weight = np.polynomial.legendre.leggauss(8)
    y = 0.75 * c + 0.25 * c * y
    extra = q / (2.0 * second) * (2.0 * y**3 / 3.0 - 2.0 * c**2 * y / 5.0)
    mean, steep = straight(y, extra, weight)
    warp = warping("solid", 2.0 * c, 1.0, 0.0, 0.0, 0.0)
    change = -q  # dV/ds of a bar under a load q against y
    assert 2.0 * change * warp.mean == pytest.approx(mean, rel=1e-9)
    assert 2.0 * change * warp.outer == pytest.approx(mean + steep * 0.25 * c, rel=1e-9)


def numeric(kind, h, b, tf, tw):
    """Mean of g over the flange by straightforward sums over a fine grid of the depth, the flange's width by its own formula."""
    count = 40_000
    y = (np.arange(count) + 0.5) * h / 2.0 / count
    t = np.where(y > h / 2.0 - tf, b, tw * (2.0 if kind == "box" else 1.0))
    step = h / 2.0 / count
    second = 2.0 * np.sum(t * y**2) * step
    first = np.cumsum((t * y)[::-1])[::-1] * step
    psi = np.cumsum(first / t) * step / second
    clear = b if kind == "i" else b - tw
    psi += np.where(y > h / 2.0 - tf, (h - tf) / 2.0 * clear**2 / 12.0 / second, 0.0)
    line = 2.0 * np.sum(t * psi * y) * step / second
    flange = y > h / 2.0 - tf
    return np.mean((psi - line * y)[flange]), np.polyfit(y[flange], (psi - line * y)[flange], 1)


@pytest.mark.parametrize(
    ("kind", "size"), [("i", (600.0, 240.0, 45.0, 40.0)), ("box", (736.6, 355.6, 38.1, 25.4))]
)
def test_warping_of_thin_walled_sections_is_the_sum_over_their_depth(kind, size):
    mean, line = numeric(kind, *size)
    warp = warping(kind, *size, 0.3)
    assert warp.mean == pytest.approx(mean, abs=2e-3 * abs(warp.outer))
    assert warp.outer == pytest.approx(np.polyval(line, size[0] / 2.0), rel=2e-3)


def test_a_held_end_of_a_sandwich_fades_over_a_tenth_of_its_depth_and_more():
    # Order of the decay of self-balanced stress: h/4.2 in a plain strip, longer with strong flanges on a weak web.
    strong, plain = warping("i", 600.0, 240.0, 45.0, 40.0, 0.3), warping("solid", 600.0, 240.0, 0.0, 0.0, 0.3)
    assert 60.0 < plain.length < strong.length < 150.0


CRANK = demo("sluice-crank")


def test_the_knee_of_the_crank_lies_outside_its_hub_and_that_of_the_rocker_within():
    knee = Knee.of(CRANK)
    # Inner edges at 14.5 in from the arms' lines, 110 degrees between them, 5 in blend: by trigonometry.
    assert knee is not None
    assert knee.edge == pytest.approx(25.4 * (19.5 / np.sin(np.radians(55.0)) - 5.0), rel=1e-9)
    assert Knee.of(demo("linkspan-rocker")) is None


def total(knee, force, moment):
    strips = zip(knee.low, knee.high, knee.width, strict=True)
    both = [
        [
            quad(lambda x, b=b, k=k: b * x**k * float(knee.stress(force, moment, x)), low, high)[0]
            for k in (0, 1)
        ]
        for low, high, b in strips
    ]
    return np.sum(both, axis=0)


def test_the_stress_of_the_knee_is_in_equilibrium():
    knee = Knee.of(CRANK)
    assert knee is not None
    force, moment = total(knee, 7.0e5, 1.3e9)
    assert force == pytest.approx(7.0e5, rel=1e-6) and moment == pytest.approx(1.3e9, rel=1e-6)
    low, high = knee.low[1], knee.high[1]
    mean = quad(lambda x: float(knee.stress(7.0e5, 1.3e9, x)), low, high)[0] / (high - low)
    assert knee.mean(7.0e5, 1.3e9, 1) == pytest.approx(mean, rel=1e-9)


def test_a_rectangular_bar_has_the_neutral_line_of_winkler_and_bach():
    # Timoshenko, Strength of Materials Part II, ch. 2: rn = h/ln(r2/r1).
    bar = Knee(np.array([-50.0]), np.array([50.0]), np.array([20.0]), 150.0)
    assert bar.neutral == pytest.approx(100.0 / np.log(200.0 / 100.0), rel=1e-12)
    assert bar.stress(0.0, 1e6, bar.centre - bar.neutral) == pytest.approx(0.0, abs=1e-9)
