"""Flaws inside the wall: closed forms of the ellipse in an infinite body, of net sections, and of linear stress."""

from __future__ import annotations

import math

import numpy as np
import pytest
from scipy.special import ellipe

from analysis.fracture import embedded, limit_load
from analysis.fracture.embedded import LENGTH, TOWARD, ProfileEmbedded
from analysis.fracture.weight_function import Profile

DEPTH = np.linspace(0.0, 200.0, 401)


def body(stress, middle=100.0, thickness=200.0):
    return ProfileEmbedded(Profile(DEPTH, stress), middle, thickness)


@pytest.mark.parametrize("aspect", [0.2, 0.5, 1.0])
def test_ellipse_in_an_infinite_body(aspect):
    """Irwin, J. Appl. Mech. 29 (1962) 651: S sqrt(pi a)/E(k) at the end of the minor axis, times sqrt(a/c) at the other; the
    flaw is small beside its wall, 0.3 % there; Q is the elliptic integral's square within 0.15 %."""
    a = 2.0
    k = body(np.full(401, 50.0)).influence(np.array([[a], [a / aspect]]))[0, :, 0]
    exact = 50.0 * math.sqrt(math.pi * a) / ellipe(1.0 - aspect**2)
    assert k == pytest.approx([exact, exact * math.sqrt(aspect)], rel=4e-3)


def test_round_and_long_flaws_under_a_slope():
    """Stress g (x - middle): a round flaw has K = (2/3)(2/pi) g a sqrt(pi a) (Kassir & Sih, from memory), a long one half of
    g a sqrt(pi a) (Tada's Handbook); toward the surface it is negative where the stress rises with depth, and nothing at the
    flaw's length."""
    a, g = 1.0, 3.0
    sloped = body(g * (DEPTH - 100.0))
    round_, long = (sloped.influence(np.array([[a], [c]]))[0, :, 0] for c in (a, 1e4 * a))
    assert round_ == pytest.approx(
        [-(2.0 / 3.0) * (2.0 / math.pi) * g * a * math.sqrt(math.pi * a), 0.0], rel=2e-3, abs=1e-6
    )
    assert long[0] == pytest.approx(-0.5 * g * a * math.sqrt(math.pi * a), rel=2e-3)


def test_a_curved_stress_counts_by_its_force_and_moment_over_the_flaw():
    stress = 100.0 * np.exp(-DEPTH / 25.0)
    a, c, d = 8.0, 16.0, 30.0
    x = np.linspace(d - a, d + a, 40_001)
    s = np.interp(x, DEPTH, stress)
    mean, slope = np.trapezoid(s, x) / (2 * a), 1.5 * np.trapezoid(s * (x - d), x) / a**3
    k = body(stress, d).influence(np.array([[a], [c]]))[0, :, 0]
    root = math.sqrt(math.pi * a / (1.0 + 1.464 * 0.5**1.65))
    toward = float(embedded.tension(0.5, a / d, TOWARD))
    assert k[0] == pytest.approx(
        (mean - slope * a * (0.5 + 0.5 / 6.0)) * root * toward, rel=2e-3
    )  # read from a table
    assert k[1] == pytest.approx(mean * root * float(embedded.tension(0.5, a / d, LENGTH)), rel=2e-3)


def test_near_a_surface_it_is_worse():
    near, far = (float(embedded.tension(0.4, share, TOWARD)) for share in (0.8, 0.1))
    # By hand at 0.8: 1 + 0.05/(0.11 + 0.252982) x 0.64 + 0.29/(0.23 + 0.252982) x 0.4096
    assert near == pytest.approx(1.0 + 0.05 / 0.362982 * 0.64 + 0.29 / 0.482982 * 0.4096, rel=1e-5)
    assert near > 1.3 * far


def test_limit_load_between_the_net_section_and_the_edge_crack():
    """As long as the plate: in mid-wall Pm/(1 - 2a/B), plain area; at the surface the edge crack, free to turn."""
    a, wall, long = np.array([10.0]), 100.0, np.array([1e9])
    assert float(embedded.reference(80.0, 0.0, a, long, 50.0 - a, wall)[0]) == pytest.approx(80.0 / 0.8)
    edge = float(limit_load.edge(80.0, 30.0, 20.0, wall))
    assert float(embedded.reference(80.0, 30.0, a, long, 0.0 * a, wall)[0]) == pytest.approx(edge)


def test_range_of_the_solution():
    made = body(np.ones(401), 40.0)
    sizes = np.array([[32.0, 32.1, 10.0, 10.0], [40.0, 40.0, 5.0, 4.9]])
    assert made.inside(sizes).tolist() == [True, False, True, False]
