"""The hub's share in the movement of the pins."""

import numpy as np
import pytest

from analysis.mechanics.deflection import flexibility, hub_flexibility, to_centres
from analysis.mechanics.mass import mass
from analysis.mechanics.sizes import Sizes
from analysis.mechanics.spans import spans
from tests.arms import changed, demo


def solid_bar(depth, width):
    """A prismatic bar in place of the arm's section, mm."""
    sizes = {"kind": "solid", "depth_at_hub": depth, "depth_at_pins": depth, "width": width}
    return {
        f"geometry__section__{name}": value
        for name, value in (sizes | dict.fromkeys(("flange_thickness", "web_thickness", "fillet"))).items()
    }


def test_a_bar_as_deep_and_wide_as_its_hub_is_one_cantilever():
    """Solid bar of the hub's width and diameter, a bore of nothing: P L^3 / 3 E I less the stiff boss (Timoshenko)."""
    arm = changed(
        demo("bench-lever"),
        **solid_bar(90.0, 50.0),
        geometry__pivot__bore=1e-6,
        geometry__input__outside=94.0,  # so that the bar need not turn in to meet the boss
        geometry__output__outside=94.0,
    )
    sizes, modulus, stiff_in_shear = Sizes.from_arm(arm), 205e3, -1.0 + 1e-9
    span = spans(arm, sizes)
    beam = flexibility(span, mass(arm, sizes, 1e-12), modulus, stiff_in_shear)
    whole = beam + hub_flexibility(span, arm.geometry.pivot, modulus, stiff_in_shear)
    in_plane, across = 50.0 * 90.0**3 / 12.0, 90.0 * 50.0**3 / 12.0
    for index, (length, boss) in enumerate(((150.0, 47.0), (200.0, 47.0))):
        reach = length**3 - boss**3
        assert whole.in_plane[0, index] == pytest.approx(reach / (3.0 * modulus * in_plane), rel=1e-6)
        assert whole.sideways[0, index] == pytest.approx(reach / (3.0 * modulus * across), rel=1e-6)
        turned = (length**2 - boss**2) / (2.0 * modulus * across)
        assert whole.tilt[0, index] == pytest.approx(turned, rel=1e-6)
    assert np.all(whole.in_plane > beam.in_plane)


def test_the_bound_of_a_prismatic_bar_is_one_cantilever_to_the_centres():
    """Bar of one section, hub and boss no stiffer: P L^3/3 E I from pivot centre to pin centre (Timoshenko)."""
    arm = changed(
        demo("bench-lever"),
        **solid_bar(40.0, 30.0),
    )
    sizes, modulus, stiff_in_shear = Sizes.from_arm(arm), 205e3, -1.0 + 1e-9
    span = spans(arm, sizes)
    beam = flexibility(span, mass(arm, sizes, 1e-12), modulus, stiff_in_shear)
    whole = beam + to_centres(span, modulus, stiff_in_shear)
    for index, length in enumerate((150.0, 200.0)):
        assert whole.in_plane[0, index] == pytest.approx(
            length**3 / (modulus * 30.0 * 40.0**3 / 4.0), rel=1e-6
        )
        assert whole.sideways[0, index] == pytest.approx(
            length**3 / (modulus * 40.0 * 30.0**3 / 4.0), rel=1e-6
        )
        assert whole.tilt[0, index] == pytest.approx(length**2 / (modulus * 40.0 * 30.0**3 / 6.0), rel=1e-6)
