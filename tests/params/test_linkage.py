"""Kinematics against closed forms: a worked moment arm, virtual work, law of cosines, directions."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from params.rules.derived import derived, force_for_load, pin_to_pin
from params.rules.linkage import direction, poses
from params.schema.arm import Arm, LoadPoint, Point
from tests.arms import changed, demo
from tests.published import case

STEP = 1e-4  # rad; a central difference errs by STEP^2 / 6 of the third derivative, some 1e-8 of the length
ANGLES = st.floats(-math.pi, math.pi)
LENGTHS = st.floats(50.0, 5000.0)


def linkage(input_arm: float, included: float, phi: float, anchor: tuple[float, float]) -> Arm:
    """The smallest demo arm with another linkage; it swings by two steps about phi (rad)."""
    return changed(
        demo("bench-lever"),
        geometry__input_arm=input_arm,
        geometry__included_angle=included,
        drive__anchor=Point.model_construct(x=anchor[0], y=anchor[1]),
        drive__lowered=phi - STEP,
        drive__raised=phi + STEP,
    )


def test_moment_arm_of_a_cylinder_by_geometry() -> None:
    published = case("A84")  # eye at 1.2 m from the pivot at 200 deg, fixed pin at (-1.6, -2.4) m
    arm = linkage(1200.0, math.radians(170.0), math.radians(30.0), (-1600.0, -2400.0))
    moved = poses(arm, 0.5)
    assert abs(moved.push_arm[0]) / 1000.0 == pytest.approx(published.expected, rel=1e-9)


def test_cylinder_force_of_a_lever() -> None:
    published = case("A82")  # 500 kN square to 3.0 m; cylinder on 1.2 m at 75 deg to the arm
    push = np.array([math.cos(math.radians(75.0)), -math.sin(math.radians(75.0))])
    anchor = np.array([-1200.0, 0.0]) - 2000.0 * push
    arm = changed(linkage(1200.0, math.pi, 0.0, (anchor[0], anchor[1])), geometry__output_arm=3000.0)
    load = tuple(LoadPoint.model_construct(at=at, force=500e3, moment=None) for at in (0.0, 1.0))
    arm = changed(arm, driven__load=load)
    force = force_for_load(arm, poses(arm, 0.5))
    assert force[0] / 1000.0 == pytest.approx(published.expected, rel=1e-9)


@given(LENGTHS, st.floats(math.pi / 2, math.pi), ANGLES, LENGTHS, ANGLES)
def test_moment_arm_is_the_travel_over_the_turn(
    input_arm: float, included: float, phi: float, away: float, bearing: float
) -> None:
    """Virtual work: force times travel is moment times turn, so the moment arm is d(length)/d(phi)."""
    anchor = (away * math.cos(bearing), away * math.sin(bearing))
    arm = linkage(input_arm, included, phi, anchor)
    moved = poses(arm, [0.0, 0.5, 1.0])
    length = moved.cylinder_length
    if length.min() < 0.05 * input_arm:
        return  # the difference is too coarse where the two pins meet
    slope = (length[2] - length[0]) / (2.0 * STEP)
    # Third derivative of the length: at most some r (R/L)^4, and L is at least 0.05 r: bounded through the scale below.
    scale = input_arm * (1.0 + away / length.min()) ** 4
    assert moved.push_arm[1] == pytest.approx(slope, abs=STEP**2 * scale + 1e-7 * (away + input_arm))


@given(ANGLES, LENGTHS, ANGLES)
def test_pull_of_a_link_shortens_it(phi: float, away: float, bearing: float) -> None:
    """The load's moment arm is the loss of the link's length over the turn."""
    far = np.array([away * math.cos(bearing), away * math.sin(bearing)])
    arm = linkage(150.0, math.radians(150.0), phi, (-120.0, 300.0))
    arm = changed(arm, driven__direction=None, driven__anchor=Point.model_construct(x=far[0], y=far[1]))
    moved = poses(arm, [0.0, 0.5, 1.0])
    length = np.hypot(*(far - moved.output_pin).T)
    if length.min() < 20.0:
        return
    scale = 200.0 * (1.0 + away / length.min()) ** 4
    slope = (length[2] - length[0]) / (2.0 * STEP)
    assert moved.pull_arm[1] == pytest.approx(-slope, abs=STEP**2 * scale + 1e-7 * (away + 200.0))


def test_an_extending_cylinder_raises_and_the_load_lowers() -> None:
    """In every demo arm the output goes up, counter-clockwise, with the rod; the load turns it back."""
    for name in ("bench-lever", "linkspan-rocker", "sluice-crank"):
        moved = poses(demo(name), np.linspace(0.0, 1.0, 7))
        assert np.all(np.diff(moved.phi) > 0.0)
        assert np.all(np.diff(moved.output_pin[:, 1]) > 0.0)
        assert np.all(np.diff(moved.cylinder_length) > 0.0)
        assert np.all(moved.push_arm > 0.0)
        assert np.all(moved.pull_arm < 0.0)


def test_pins_keep_their_distances() -> None:
    """Both arms keep their length and the pins their distance (law of cosines) while the arm turns."""
    for name in ("bench-lever", "linkspan-rocker", "sluice-crank"):
        arm = demo(name)
        moved = poses(arm, np.linspace(0.0, 1.0, 5))
        between = np.hypot(*(moved.input_pin - moved.output_pin).T)
        assert np.hypot(*moved.input_pin.T) == pytest.approx(arm.geometry.input_arm, rel=1e-12)
        assert np.hypot(*moved.output_pin.T) == pytest.approx(arm.geometry.output_arm, rel=1e-12)
        assert between == pytest.approx(pin_to_pin(arm), rel=1e-12)


def test_right_angles_by_hand() -> None:
    """Output arm level, input arm straight up, anchor level with the input pin: the cylinder's moment arm is the arm."""
    arm = linkage(100.0, math.pi / 2.0, 0.0, (400.0, 100.0))
    moved = poses(arm, 0.5)
    assert moved.input_pin[0] == pytest.approx([0.0, 100.0], abs=1e-9)
    assert moved.cylinder_length[0] == pytest.approx(400.0)
    assert moved.push[0] == pytest.approx([-1.0, 0.0])  # away from the anchor
    assert moved.push_arm[0] == pytest.approx(100.0)  # pushing left above the pivot turns counter-clockwise
    assert moved.pull[0] == pytest.approx([0.0, -1.0])
    assert moved.pull_arm[0] == pytest.approx(-200.0)


def test_directions_are_unit_vectors_in_degrees_of_the_file() -> None:
    assert direction(np.radians([0.0, 90.0, 180.0])) == pytest.approx(
        np.array([[1, 0], [0, 1], [-1, 0]]), abs=1e-15
    )


def test_pins_that_meet_have_no_direction() -> None:
    moved = poses(linkage(100.0, math.pi / 2.0, 0.0, (0.0, 100.0)), 0.5)
    assert moved.cylinder_length[0] == pytest.approx(0.0, abs=1e-9)
    assert np.all(np.isfinite(moved.push))


def test_derived_sizes_of_the_linkspan() -> None:
    """Worked by hand: sqrt(1.25^2 + 1.75^2 - 2 x 1.25 x 1.75 cos 165 deg) = 2975.1 mm, and half of each boss more."""
    sizes = dict(derived(demo("linkspan-rocker")))
    assert sizes["pin to pin, input to output"] == "2,975.1 mm"
    assert sizes["overall length, boss to boss"] == "3,300.1 mm"
    assert sizes["wall beside the pivot bore"] == "190.0 mm"
    assert sizes["swing"] == "22.0 deg"


def test_cylinder_forces_at_relief_by_hand() -> None:
    """25 MPa on pi/4 x 220^2 = 38 013 mm2 is 950.3 kN; less the rod of 140 mm, on 22 619 mm2, 565.5 kN."""
    arm = changed(
        demo("linkspan-rocker"), drive__cylinder_bore=220.0, drive__rod=140.0, drive__relief_pressure=25.0
    )
    sizes = dict(derived(arm))
    assert sizes["cylinder force at relief, extending"] == "950.3 kN"
    assert sizes["cylinder force at relief, retracting"] == "565.5 kN"


@pytest.mark.parametrize(("pressure", "lacks"), [(16.0, False), (1.6, True)])
def test_a_cylinder_too_weak_for_its_load_is_told_at_the_check(pressure: float, lacks: bool) -> None:
    """A slip of unit, 16 bar for 16 MPa, leaves 1256.6 mm2 x 1.6 MPa = 2.0 kN of 20.1 kN.

    By hand the load of 9 kN at 195 mm or more asks at least 9 x 195 / 150 = 11.7 kN of a cylinder on an arm of 150 mm.
    """
    text = dict(derived(changed(demo("bench-lever"), drive__relief_pressure=pressure)))
    assert ("more than the cylinder gives" in text["cylinder force for the load alone"]) == lacks
