"""The width of a plate counts once, for the hole and its cracks together."""

import math

import numpy as np
import pytest

from analysis.fracture import cracks_hole, cracks_plate
from analysis.fracture.bodies import HoleCorner, HoleThrough
from analysis.fracture.bodies_profile import ProfileHole
from analysis.fracture.weight_function import Profile


def test_width_factor_of_two_cracks_is_feddersens_for_hole_and_cracks_together():
    """Newman & Raju 1984: with two cracks the factor is that of the hole times that of a crack 2 (r + c) in 2b."""
    r, c, w = 20.0, 12.0, 160.0
    both = cracks_plate.width_factor(2.0 * r / w) * cracks_plate.width_factor(2.0 * (r + c) / w)
    assert float(cracks_hole.width_factor(c, r, w, 2)) == pytest.approx(float(both))
    # One crack: hole and crack, 2r + c long, in a plate that its middle stands off by c/2: 4b - 2c in place of 4b.
    one = cracks_plate.width_factor(2.0 * r / w) / math.sqrt(math.cos(math.pi * 52.0 / (320.0 - 24.0)))
    assert float(cracks_hole.width_factor(c, r, w, 1)) == pytest.approx(float(one))


@pytest.mark.parametrize("kind", [HoleThrough, HoleCorner])
def test_width_is_not_counted_twice_under_a_profile(kind):
    """The mesh's stress holds the plate's width: a crack that is small against all sees the stress at the edge alone."""
    peak = Profile(np.array([0.0, 1.0, 20.0]), np.array([400.0, 380.0, 150.0]))
    tiny = np.array([[1e-4], [1e-4]])[: 1 if kind is HoleThrough else 2]
    wide, narrow = (ProfileHole(peak, kind(20.0, 20.0, w)).influence(tiny)[0] for w in (1e6, 110.0))
    assert narrow == pytest.approx(wide, rel=1e-3)
