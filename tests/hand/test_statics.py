"""Forces by line of action: published levers, equilibrium of any arm, friction, virtual work, symmetry."""

import itertools
import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from analysis.mechanics.internal_forces import along
from analysis.mechanics.mass import Mass, mass
from analysis.mechanics.sizes import Sizes
from analysis.mechanics.statics import GRAVITY, residual, statics, swing
from geometry.datums import centre
from params.rules.derived import cylinder_areas
from params.rules.linkage import poses
from params.schema.arm import LoadCase, LoadPoint, Point
from tests.arms import changed, demo
from tests.published import case

WEIGHTLESS = Mass(np.zeros(1), np.zeros((1, 2)), np.zeros((1, 2, 1)), 0.0)
HOLD = LoadCase(kind="hold")


def heavy(arm, density=7.85e-6):
    return mass(arm, Sizes.from_arm(arm), density)


def raising(**fields):
    return LoadCase(kind="raise", **fields)


def loaded(arm, force):
    points = tuple(LoadPoint(at=at, force=f"{force} N") for at in (0.0, 1.0))
    return changed(arm, driven__load=points)


def test_lever_with_a_perpendicular_load():
    """A82, A83: 500 kN perpendicular at 3.0 m, cylinder on the other arm of 1.2 m at 75 degrees to it."""
    arm = loaded(demo("linkspan-rocker"), 500e3)
    # Horizontal output arm of 3 m; input arm of 1.2 m straight behind; the cylinder's line at 75 degrees to the arm:
    # its anchor stands above so that it pushes down and outward on the pin.
    pin = np.array([-1200.0, 0.0])
    anchor = pin - 2000.0 * np.array([-math.cos(math.radians(75.0)), -math.sin(math.radians(75.0))])
    arm = changed(
        arm,
        geometry__output_arm=3000.0,
        geometry__input_arm=1200.0,
        geometry__included_angle=math.pi,
        drive__lowered=0.0,
        drive__anchor=Point.model_construct(x=anchor[0], y=anchor[1]),
        driven__direction=-math.pi / 2.0,
        driven__anchor=None,
    )
    forces = statics(arm, WEIGHTLESS, [0.0], [HOLD])
    assert forces.cylinder[0, 0, 0] / 1e3 == pytest.approx(case("A82").expected, rel=1e-9)
    assert np.linalg.norm(forces.pivot[:, 0, 0, 0]) / 1e3 == pytest.approx(case("A83").expected, rel=1e-9)


def test_moment_arm_of_the_cylinder_by_geometry():
    """A84: eye at 1.2 m from the pivot at 200 degrees, fixed pin at (-1.6, -2.4) m; as the force makes the moment."""
    arm = loaded(demo("linkspan-rocker"), 1000.0)
    arm = changed(
        arm,
        geometry__input_arm=1200.0,
        geometry__included_angle=math.pi,
        drive__lowered=math.radians(20.0),
        driven__anchor=None,
        drive__anchor=Point.model_construct(x=-1600.0, y=-2400.0),
        driven__direction=-math.pi / 2.0,
    )
    forces = statics(arm, WEIGHTLESS, [0.0], [HOLD])
    load_arm = arm.geometry.output_arm * math.cos(math.radians(20.0))
    assert 1000.0 * load_arm / abs(forces.cylinder[0, 0, 0]) / 1e3 == pytest.approx(
        case("A84").expected, rel=1e-9
    )


loads = st.floats(1e3, 1e6)
cases = st.builds(
    LoadCase,
    kind=st.sampled_from(["raise", "lower", "hold"]),
    load_factor=st.floats(0.0, 3.0),
    shock_factor=st.floats(1.0, 2.0),
    side_ratio=st.floats(0.0, 0.3),
    friction=st.floats(0.0, 0.3),
)


@given(
    force=loads,
    acting=cases,
    blocked=st.sampled_from(["extend", "retract"]),
    name=st.sampled_from(["linkspan-rocker", "sluice-crank", "bench-lever"]),
)
def test_forces_and_moments_of_any_arm_close(force, acting, blocked, name):
    arm = loaded(demo(name), force)
    stuck = LoadCase(kind="blocked", push=blocked, side_ratio=0.05)
    weight = heavy(arm)
    forces = statics(arm, weight, swing(7), [acting.model_copy(update={"eccentricity": 7.0}), stuck])
    assert residual(arm, weight, forces).max() < 1e-12  # rounding of doubles

    # The same by hand in the world frame, from the files' own numbers: moments about the output pin.
    pose = poses(arm, swing(7))
    for c, shock in enumerate((acting.shock_factor, 1.0)):
        weight_force = np.stack([np.zeros(7), -np.full(7, weight.total[0] * GRAVITY * shock)])
        moment = (
            about(pose.output_pin.T, np.zeros((2, 7)), to_world(pose.phi, forces.pivot[:2, 0, c]))
            + about(pose.output_pin.T, pose.input_pin.T, forces.cylinder[0, c] * pose.push.T)
            + about(pose.output_pin.T, to_world(pose.phi, weight.cg[0][:, None]), weight_force)
            + forces.pivot_moment[2, 0, c]
        )
        size = np.abs(forces.pivot[:2, 0, c]).max() * arm.geometry.output_arm
        assert np.abs(moment).max() < 1e-11 * size


def to_world(phi, vector):
    c, s = np.cos(phi), np.sin(phi)
    return np.stack([c * vector[0] - s * vector[1], s * vector[0] + c * vector[1]])


def about(centre, point, force):
    """Moment about z of a force at a point."""
    return (point[0] - centre[0]) * force[1] - (point[1] - centre[1]) * force[0]


@given(friction=st.floats(0.01, 0.3), force=loads)
def test_friction_opposes_the_motion_and_has_its_size(friction, force):
    arm = loaded(demo("linkspan-rocker"), force)
    weight = heavy(arm)
    up, still, down = (
        statics(arm, weight, swing(5), [LoadCase(kind=kind, friction=friction if kind != "hold" else 0.0)])
        for kind in ("raise", "hold", "lower")
    )
    assert np.all(up.cylinder > still.cylinder) and np.all(still.cylinder > down.cylinder)
    for forces, turn in ((up, 1.0), (down, -1.0)):
        reaction = np.hypot(forces.pivot[0], forces.pivot[1])
        lag = friction * reaction * arm.geometry.pivot.pin.diameter / 2.0
        assert forces.pivot_moment[2] == pytest.approx(
            -turn * lag, rel=1e-9
        )  # raising turns this arm counter-clockwise


def test_virtual_work():
    """Without friction and weight the cylinder's work is the load's: F dl = P dx between two near poses."""
    arm = demo("sluice-crank")
    middle, step = 0.37, 1e-5
    forces = statics(arm, WEIGHTLESS, [middle], [HOLD])
    pose = poses(arm, [middle - step, middle + step])
    stroke = np.diff(pose.cylinder_length)[0]
    rise = -np.diff(pose.output_pin, axis=0)[0] @ poses(arm, [middle]).pull[0]
    assert forces.cylinder[0, 0, 0] * stroke == pytest.approx(
        forces.load[0, 0, 0] * rise, rel=1e-6
    )  # central difference


def test_resisting_moment_is_met():
    arm = changed(
        demo("linkspan-rocker"), driven__load=tuple(LoadPoint(at=at, moment="700 kN*m") for at in (0.0, 1.0))
    )
    forces = statics(arm, WEIGHTLESS, swing(3), [HOLD])
    pose = poses(arm, swing(3))
    assert forces.load[0, 0] * np.abs(pose.pull_arm) == pytest.approx(700e6, rel=1e-12)
    assert forces.cylinder[0, 0] * np.abs(pose.push_arm) == pytest.approx(700e6, rel=1e-12)


def test_blocked_cylinder_stands_at_relief_pressure():
    arm = demo("linkspan-rocker")
    blocked = [LoadCase(kind="blocked", push=way) for way in ("extend", "retract")]
    forces = statics(arm, WEIGHTLESS, swing(5), blocked)
    relief, bore, rod = arm.drive.relief_pressure, arm.drive.cylinder_bore, arm.drive.rod
    assert forces.cylinder[0, 0] == pytest.approx(relief * math.pi / 4.0 * bore**2, rel=1e-12)
    assert forces.cylinder[0, 1] == pytest.approx(-relief * math.pi / 4.0 * (bore**2 - rod**2), rel=1e-12)
    assert forces.pressure == pytest.approx(relief, rel=1e-12)
    # The output force times its moment arm is the cylinder's moment.
    pose = poses(arm, swing(5))
    assert forces.load[0] * pose.pull_arm == pytest.approx(-forces.cylinder[0] * pose.push_arm, rel=1e-9)


def test_overshoot_multiplies_the_relief_pressure():
    """Relief valve 20 % over its setting: piston area times 1.2 times the setting."""
    arm = demo("linkspan-rocker")
    blocked = [LoadCase(kind="blocked", push="extend", overshoot_factor=1.2)]
    forces = statics(arm, WEIGHTLESS, swing(5), blocked)
    area = math.pi / 4.0 * arm.drive.cylinder_bore**2
    assert forces.cylinder == pytest.approx(1.2 * arm.drive.relief_pressure * area, rel=1e-12)
    assert forces.pressure == pytest.approx(1.2 * arm.drive.relief_pressure, rel=1e-12)


@pytest.mark.parametrize("name", ["linkspan-rocker", "sluice-crank", "bench-lever"])
def test_the_worse_of_all_signs_of_side_force_and_eccentricity_tilts_the_pivot(name):
    """Every combination of signs by r x F, in three dimensions and from pin forces alone; mirror images left out."""
    arm, ratio, offset = demo(name), 0.02, 3.0
    one = statics(arm, heavy(arm), swing(9), [raising(side_ratio=ratio, eccentricity="3 mm", friction=0.1)])
    places = [np.array([*centre(arm, pin), 0.0]) for pin in ("input", "output")]
    plane = [np.array([pin[0, 0, 0], pin[1, 0, 0]]) for pin in (one.input, one.output)]
    most = 0.0
    for way, e_in, e_out in itertools.product((1.0, -1.0), repeat=3):
        for p in range(9):
            tilt = np.zeros(3)
            for at, force, side, e in zip(places, plane, (1.0, way), (e_in, e_out), strict=True):
                pin = np.array([*force[:, p], side * ratio * np.hypot(*force[:, p])])
                tilt += np.cross(at + [0.0, 0.0, e * offset], pin)
            most = max(most, float(np.hypot(*tilt[:2])))
    found = float(np.hypot(*one.pivot_moment[:2]).max())
    # The signs of eccentricity are those that load each arm most: beside the pivot's own worst under 3 %.
    assert 0.97 * most < found < most * (1.0 + 1e-9)
    # Of each arm the sideways moment at the pivot is the largest possible: both parts add.
    for (_, pin, _), length in zip(
        along(arm, one), (arm.geometry.input_arm, arm.geometry.output_arm), strict=True
    ):
        added = np.abs(offset * pin.s) + np.abs(length * pin.z)
        assert np.abs(pin.offset * pin.s - length * pin.z) == pytest.approx(added, rel=1e-12)


@given(factor=st.floats(0.1, 10.0))
def test_all_loads_times_a_factor_are_all_forces_times_it(factor):
    arm, weight = demo("linkspan-rocker"), heavy(demo("linkspan-rocker"))
    more = loaded(arm, 405e3 * factor)
    once = statics(loaded(arm, 405e3), weight, swing(5), [raising(friction=0.1, side_ratio=0.02)])
    scaled = Mass(weight.total * factor, weight.cg, weight.boss, weight.area_density)
    again = statics(more, scaled, swing(5), [raising(friction=0.1, side_ratio=0.02)])
    for name in ("cylinder", "input", "output", "pivot", "pivot_moment"):
        size = np.abs(getattr(once, name)).max() * factor
        assert getattr(again, name) == pytest.approx(getattr(once, name) * factor, abs=1e-9 * size)


def test_mirror_image():
    """The arm mirrored in the vertical axis: same forces, friction moments of the other sign."""
    arm = loaded(demo("linkspan-rocker"), 400e3)
    g = arm.geometry
    # Mirrored, the output arm points left: angle pi - phi; the input arm then stands clockwise from it, which is the
    # same as an output arm turned so that the roles of the included angle swap sign; a straight lever has no such sign.
    straight = changed(
        arm, geometry__included_angle=math.pi, driven__direction=-math.pi / 2.0, driven__anchor=None
    )
    mirror = changed(
        straight,
        drive__lowered=math.pi - straight.drive.lowered,
        drive__raised=math.pi - straight.drive.raised,
        drive__anchor=Point.model_construct(x=-arm.drive.anchor.x, y=arm.drive.anchor.y),
    )
    assert g.included_angle != math.pi  # the demo arm itself is bent
    one, other = (statics(a, heavy(straight), swing(5), [raising(friction=0.1)]) for a in (straight, mirror))
    assert other.cylinder == pytest.approx(one.cylinder, rel=1e-9)
    assert np.hypot(*other.pivot[:2]) == pytest.approx(np.hypot(*one.pivot[:2]), rel=1e-9)
    assert other.pivot_moment[2] == pytest.approx(-one.pivot_moment[2], rel=1e-9)
    assert other.input[1] == pytest.approx(-one.input[1], rel=1e-9)


def test_shock_multiplies_load_and_weight():
    arm, weight = demo("linkspan-rocker"), heavy(demo("linkspan-rocker"))
    once, shaken = (statics(arm, weight, swing(3), [raising(shock_factor=k)]) for k in (1.0, 1.5))
    assert shaken.cylinder == pytest.approx(1.5 * once.cylinder, rel=1e-12)
    assert shaken.gravity == pytest.approx(1.5 * once.gravity, rel=1e-12)
    assert np.linalg.norm(once.gravity[:, 0, 0]) == pytest.approx(9.80665, rel=1e-12)


def test_piston_areas():
    bore, annulus = cylinder_areas(
        changed(demo("linkspan-rocker"), drive__cylinder_bore=200.0, drive__rod=120.0)
    )
    assert bore == pytest.approx(31415.93, abs=0.01)  # pi/4 200^2
    assert annulus == pytest.approx(20106.19, abs=0.01)  # pi/4 (200^2 - 120^2)
