"""Tip deflection against closed forms of straight and tapered cantilevers."""

import numpy as np
import pytest

from analysis.mechanics.deflection import flexibility, unit_load
from analysis.mechanics.mass import mass
from analysis.mechanics.sections import section
from analysis.mechanics.sizes import Sizes
from analysis.mechanics.spans import spans
from tests.arms import changed, demo
from tests.published import case

E, NU, G = 210e3, 0.3, 210e3 / 2.6


def gauss(length, count=40):
    point, weight = np.polynomial.legendre.leggauss(count)
    return length / 2.0 * (1.0 + point), length / 2.0 * weight


def test_straight_cantilever():
    s, w = gauss(1000.0)
    bar = section("solid", 200.0, 100.0)
    bending = 100e3 * float(unit_load(w, s, s, E * float(bar.i3) * np.ones_like(s)))
    shear = 100e3 * float(
        unit_load(w, np.ones_like(s), np.ones_like(s), G * float(bar.shear2) * np.ones_like(s))
    )
    assert bending == pytest.approx(case("A41").expected, rel=1e-9)
    assert bending + shear == pytest.approx(case("A42").expected, rel=1e-9)  # kappa = 5/6
    assert bending + shear == pytest.approx(
        case("A43").expected, rel=1e-3
    )  # Cowper's kappa differs by 2 % of the shear part


def test_tapered_round_cantilever():
    s, w = gauss(1.0)
    stiffness = (1.0 + s) ** 4  # diameter doubles from tip to root
    assert float(unit_load(w, s, s, stiffness)) == pytest.approx(case("B47").expected, rel=1e-6)
    assert float(unit_load(w, s, np.ones_like(s), stiffness)) == pytest.approx(case("B48").expected, rel=1e-6)


def tapered():
    """B49 as an arm: no hub and no boss to speak of, depth 500 to 200 over 3000 mm, 80 wide."""
    arm = demo("linkspan-rocker")
    return changed(
        arm,
        geometry__input_arm=3000.0,
        geometry__output_arm=3000.0,
        geometry__pivot__outside=2e-3,
        geometry__input__outside=2e-3,
        geometry__output__outside=2e-3,
        geometry__section__kind="solid",
        geometry__section__depth_at_hub=500.0,
        geometry__section__depth_at_pins=200.0,
        geometry__section__width=80.0,
        geometry__section__flange_thickness=None,
        geometry__section__web_thickness=None,
        geometry__section__fillet=None,
        **{f"geometry__{name}__bore": 1e-3 for name in ("pivot", "input", "output")},
        **{f"geometry__{name}__chamfer": 0.0 for name in ("pivot", "input", "output")},
    )


def test_tapered_arm_in_bending():
    arm = tapered()
    sizes = Sizes.from_arm(arm)
    stiff_in_shear = (
        -1.0 + 1e-9
    )  # Poisson's ratio that makes the shear modulus so large that shear does not move the tip
    flex = flexibility(spans(arm, sizes), mass(arm, sizes, 1e-12), 205e3, stiff_in_shear)
    # Five Gauss points on a taper of 2.5: 1e-4; the hub of a thousandth of a millimetre is below that.
    assert 200e3 * flex.in_plane[0] == pytest.approx([case("B49").expected] * 2, rel=2e-4)


def test_own_weight_of_a_straight_bar():
    """q L^4 / 8EI for a bar of constant section (any handbook of beams)."""
    arm = changed(tapered(), geometry__section__depth_at_pins=500.0)
    sizes = Sizes.from_arm(arm)
    flex = flexibility(spans(arm, sizes), mass(arm, sizes, 7.85e-6), 205e3, -1.0 + 1e-9)
    load = 7.85e-6 * 500.0 * 80.0 * 9.80665  # N/mm
    expected = load * 3000.0**4 / (8.0 * 205e3 * 80.0 * 500.0**3 / 12.0)
    assert 9.80665 * flex.gravity[0] == pytest.approx(
        [expected] * 2, rel=1e-3
    )  # Gauss points; the pinhead boss has no weight


def test_tilt_by_a_tip_moment():
    """M L^2 / 2EI sideways for a bar of constant section."""
    arm = changed(tapered(), geometry__section__depth_at_pins=500.0)
    sizes = Sizes.from_arm(arm)
    flex = flexibility(spans(arm, sizes), mass(arm, sizes, 1e-12), 205e3, 0.3)
    assert flex.tilt[0] == pytest.approx([3000.0**2 / (2.0 * 205e3 * 500.0 * 80.0**3 / 12.0)] * 2, rel=1e-5)
