"""Cracks at a round hole: the fits against the integral equation, plane elements and elements with a crack front."""

from __future__ import annotations

import math

import numpy as np
import pytest

from analysis.fracture import cracks_hole, hole_weight
from analysis.fracture.weight_function import Profile, edge
from tests.fracture import hole_equation, plane
from tests.fracture.cornered import along_front, cornered

DEPTH = np.concatenate([[0.0], np.geomspace(1e-4, 10.0, 3000)])
# Stress ahead of a hole of radius 1: uniaxial (Kirsch 1898), even tension both ways and pressure in the bore (Lame), even.
STRESSES = {
    "uniaxial": lambda x: 0.5 * (2.0 + (1.0 + x) ** -2.0 + 3.0 * (1.0 + x) ** -4.0),
    "biaxial": lambda x: 1.0 + (1.0 + x) ** -2.0,
    "bore": lambda x: (1.0 + x) ** -2.0,
    "even": np.ones_like,
    "falling": lambda x: np.exp(-4.0 * x),
}
PROFILE = Profile(DEPTH, np.stack([stress(DEPTH) for stress in STRESSES.values()]))


def by_equation(length, cracks):
    """K (B,) of every stress."""
    return np.array([hole_equation.intensity(stress, length, cracks) for stress in STRESSES.values()])


def test_the_equation_itself():
    """Edge crack in a half plane, 1.1215 (Tada), as the small crack; two cracks at a/r = 1: 1.4714 = 1.0404 sqrt(2) (Newman, NASA
    TN D-6376, from memory); twice the points change nothing."""
    small = hole_equation.intensity(STRESSES["even"], 1e-3, 1) / math.sqrt(math.pi * 1e-3)
    assert small == pytest.approx(1.1215, rel=1e-3)
    two = hole_equation.intensity(STRESSES["uniaxial"], 1.0, 2) / math.sqrt(math.pi)
    assert two == pytest.approx(1.4714, rel=1e-3)
    for cracks in (1, 2):
        fine = hole_equation.intensity(STRESSES["uniaxial"], 0.3, cracks, points=400)
        assert hole_equation.intensity(STRESSES["uniaxial"], 0.3, cracks) == pytest.approx(fine, rel=1e-4)


@pytest.mark.parametrize("cracks", [1, 2])
@pytest.mark.parametrize("share", [0.01, 0.07, 0.2, 0.45, 0.9, 1.7, 3.3, 6.0, 9.9])
def test_weight_function_of_through_cracks(share, cracks):
    """Stated: 0.06 % over the stresses that it was fitted to, uniaxial, biaxial, even; 0.2 % for any other here."""
    made = hole_weight.through(PROFILE, [share], 1.0, cracks)[:, 0]
    exact = by_equation(share, cracks)
    assert made[[0, 1, 3]] == pytest.approx(exact[[0, 1, 3]], rel=1e-3)
    assert made == pytest.approx(
        exact, rel=2e-3 if share < 3.0 else 0.02
    )  # steep stress at a long crack's mouth alone
    assert float(hole_weight.opening(share, 1.0, cracks)) == pytest.approx(
        exact[3] / (1.1215 * math.sqrt(math.pi * share)), rel=1e-3
    )


@pytest.mark.parametrize("share", [0.02, 0.1, 0.3, 0.7, 1.5, 4.0, 9.0])
def test_one_through_crack_in_tension(share):
    exact = hole_equation.intensity(STRESSES["uniaxial"], share, 1) / math.sqrt(math.pi * share)
    assert float(cracks_hole.one_crack(share)) == pytest.approx(exact, rel=1e-3)
    two = hole_equation.intensity(STRESSES["uniaxial"], share, 2) / math.sqrt(math.pi * share)
    assert float(cracks_hole.two_cracks(share)) == pytest.approx(two, rel=6e-3)  # Newman's polynomial


@pytest.mark.parametrize("share", [0.1, 0.5, 1.5])
def test_one_through_crack_by_plane_elements(share):
    """Two crack lengths, energy release; 1 % over 40 radii of plate. Bowie's table is 3 to 5 % off at 0.1 and 1.5."""
    k = plane.intensity(share, STRESSES["uniaxial"])
    assert float(cracks_hole.through(1.0, share, 1.0)) == pytest.approx(k, rel=0.01)
    even = plane.intensity(share, STRESSES["even"])
    assert float(hole_weight.through(PROFILE, [share], 1.0)[3, 0]) == pytest.approx(even, rel=0.01)


def test_a_small_crack_is_one_in_a_half_plane():
    both = hole_weight.through(PROFILE, [1e-3], 1.0), edge(PROFILE, [1e-3])
    assert both[0] == pytest.approx(both[1], rel=0.01)  # of Bueckner's fit


def test_corner_cracks_by_elements_with_a_front():
    """Two quarter circles, a = c = r/2 in a wall of one radius, under three stresses: K at both ends of the front, mean of the end
    node and of the one beside it, because the end itself is no plane strain; 5 %. The formula before (Newman & Raju's for
    holes, as remembered) lay 16 % low to 6 % high over the meshes of `FRONTS`."""
    stresses = [STRESSES[name] for name in ("uniaxial", "biaxial", "even")]
    phi, k = along_front(cornered(0.5, 0.5, 1.0), stresses, ends=True)
    face, wall = k[:, :2].mean(axis=1), k[:, 2:].mean(axis=1)
    driving = np.stack([kind(PROFILE, np.array([0.5]), 1.0) for kind in cracks_hole.DRIVING])
    made = cracks_hole.corner_from_stress(driving, np.array([0.5]), np.array([0.5]), 1.0, 1.0, 2)[..., 0]
    assert phi[0] == pytest.approx(0.0, abs=1e-6) and phi[-1] == pytest.approx(math.pi / 2.0)
    assert made[[0, 1, 3], 1] == pytest.approx(face, rel=0.05)
    assert made[[0, 1, 3], 0] == pytest.approx(wall, rel=0.05)


# K, mean of the end node and the one beside it, of 11 meshes as in the test above with 18,000 to
# 41,000 nodes: (a, c, t, cracks): face, then wall, under uniaxial, biaxial, even stress and bore pressure. Own computation.
FRONTS = {
    (0.5, 0.5, 1.0, 2): ([1.7499, 1.5169, 0.9621, 0.5548], [2.2591, 1.6445, 0.8863, 0.7582]),
    (0.3, 0.5, 2.0, 2): ([1.1891, 1.0589, 0.688, 0.371], [2.036, 1.471, 0.7872, 0.6839]),
    (0.5, 0.5, 1.0, 1): ([1.6902, 1.4701, 0.9352, 0.535], [2.2031, 1.601, 0.8614, 0.7397]),
    (0.6, 0.3, 2.0, 2): ([1.7988, 1.4472, 0.8481, 0.5991], [1.7323, 1.2191, 0.637, 0.5822]),
    (0.2, 0.5, 1.0, 2): ([0.904, 0.815, 0.5356, 0.2793], [1.909, 1.3742, 0.7328, 0.6415]),
    (0.06, 0.1, 1.0, 2): ([0.7918, 0.5776, 0.3097, 0.2678], [1.0764, 0.7322, 0.3719, 0.3604]),
    (0.1, 0.1, 1.0, 2): ([1.0419, 0.755, 0.403, 0.3521], [1.1535, 0.7856, 0.3994, 0.3862]),
    (0.2, 0.1, 1.0, 2): ([1.3044, 0.9401, 0.4995, 0.4405], [1.1061, 0.7528, 0.3824, 0.3704]),
    (0.3, 0.5, 2.0, 1): ([1.1796, 1.0514, 0.6836, 0.3678], [2.0202, 1.4587, 0.78, 0.6786]),
    (0.5, 0.5, 0.9, 2): ([1.7876, 1.5465, 0.9791, 0.5674], [2.2812, 1.6617, 0.8961, 0.7656]),
    (0.5, 1.0, 1.0, 2): ([1.4945, 1.421, 1.0312, 0.3899], [2.7602, 2.1199, 1.208, 0.9121]),
}


@pytest.mark.parametrize("sizes", FRONTS)
def test_corner_cracks_as_elements_had_them(sizes):
    """Pinned from `cornered.along_front`, 5 % as there; up to 7 % high, the safe side, where the crack is as long as the hole's
    radius."""
    high = 0.07 if sizes[1] > 0.5 else 0.05
    a, c, t, cracks = sizes
    driving = np.stack([kind(PROFILE, np.array([c]), 1.0) for kind in cracks_hole.DRIVING])
    made = cracks_hole.corner_from_stress(driving, np.array([a]), np.array([c]), 1.0, t, cracks)[..., 0]
    face, wall = FRONTS[sizes]
    for end, elements in ((1, face), (0, wall)):
        over = made[[0, 1, 3, 2], end] / elements - 1.0
        assert over.min() > -0.05 and over.max() < high
