"""Internal forces and stresses along the arms: hand figures, free bodies cut by other means, exact wedge, combined points."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from analysis.hand.evaluate import evaluate
from analysis.mechanics.internal_forces import Pin, extremes, fibre, forces
from analysis.mechanics.response import response
from analysis.mechanics.sections import section
from analysis.mechanics.sizes import Sizes
from analysis.mechanics.statics import swing
from params.files.read import read_material
from params.schema.arm import LoadCase, LoadPoint
from tests.arms import changed, demo

STEEL = read_material("er100s-1")


def test_rocker_bends_at_the_hub_as_its_story_says():
    """About 80 MPa by beam theory at the hub: 620 kN of cylinder force on 0.9 m over the section's modulus (issue's figures)."""
    arm = demo("linkspan-rocker")
    part = section("i", 600.0, 240.0, 45.0, 40.0)
    # By hand: I = (240 600^3 - 200 510^3)/12 = 2.109e9 mm4, S = 7.031e6 mm3; 620e3 * 900 / S = 79.4 MPa.
    assert float(part.s3) == pytest.approx(7.031e6, rel=1e-3)
    raised = changed(arm, load_cases={"raise": LoadCase(kind="raise")})
    now = response(raised, STEEL, Sizes.from_arm(raised), swing())
    stress = np.abs(now.limbs[0].root.m3[0, 0]).max() / now.limbs[0].part.s3[0, 0]
    assert stress == pytest.approx(80.0, rel=0.08)  # the story says about


def test_internal_forces_are_those_of_the_outer_piece():
    """Cut at each station: the outer piece's pin force and weight, summed as vectors in the arm's frame."""
    arm = changed(
        demo("sluice-crank"),
        load_cases={"one": LoadCase(kind="hold", side_ratio=0.05, eccentricity="9 mm", shock_factor=1.5)},
    )
    material = read_material(arm.material)
    now = response(arm, material, Sizes.from_arm(arm), swing(3))
    angle = arm.geometry.included_angle
    for limb, along, pin in (
        (now.limbs[0], angle, now.statics.input),
        (now.limbs[1], 0.0, now.statics.output),
    ):
        s_axis, eta = (
            np.array([np.cos(along), np.sin(along), 0.0]),
            np.array([-np.sin(along), np.cos(along), 0.0]),
        )
        z = np.array([0.0, 0.0, 1.0])
        inside = limb.forces
        assert np.abs(limb.pin.offset) == pytest.approx(9.0)  # as the case says, to the side that adds
        for p in range(3):
            for k, s in enumerate(limb.s[0]):
                here = s * s_axis
                force, moment = (
                    pin[:, 0, 0, p].copy(),
                    np.cross(limb.length * s_axis + limb.pin.offset[0, 0, p] * z - here, pin[:, 0, 0, p]),
                )
                for mass, at in pieces(arm, limb, s, material.density):
                    fall = mass * now.statics.gravity[:, 0, p]
                    force, moment = force + fall, moment + np.cross(at * s_axis - here, fall)
                # N V2 V3 and T M2 M3 as the outer part acts on the inner one.
                computed = {
                    name: float(np.broadcast_to(getattr(inside, name), inside.n.shape)[0, 0, p, k])
                    for name in ("n", "v2", "v3", "t", "m2", "m3")
                }
                size = np.abs(pin[:, 0, 0, p]).max()
                assert [computed[name] for name in ("n", "v2", "v3")] == pytest.approx(
                    [force @ s_axis, force @ eta, force @ z], abs=2e-5 * size
                )
                assert [computed[name] for name in ("t", "m2", "m3")] == pytest.approx(
                    [moment @ s_axis, moment @ eta, moment @ z], abs=2e-5 * size * limb.length
                )


def pieces(arm, limb, s, density, count=400):
    """The outer part as point masses on the axis: slices of the arm, and the boss as the mass beyond its edge, at the pin."""
    end = limb.s[0, -1]
    edges = np.linspace(s, end, count + 1)
    middle = 0.5 * (edges[1:] + edges[:-1])
    sect = arm.geometry.section
    hub = arm.geometry.pivot.outside / 2.0
    boss = getattr(arm.geometry, limb.name).outside / 2.0
    # The crank's edges would run along its bosses: half the clear length or a radius before, they turn in to meet at 15 deg.
    turn = limb.length - boss - min(0.5 * (limb.length - boss - hub), boss)
    steep = (sect.depth_at_pins - sect.depth_at_hub) / (limb.length - hub)
    last = min(sect.depth_at_pins, 2.0 * boss * np.cos(np.radians(15.0)))
    corners = [sect.depth_at_hub, sect.depth_at_hub + steep * (turn - hub), last]
    depth = np.interp(middle, [hub, turn, limb.length], corners)
    area = (
        2.0 * sect.width * sect.flange_thickness
        + (depth - 2.0 * sect.flange_thickness) * 2.0 * sect.web_thickness
    )
    yield from zip(density * area * np.diff(edges), middle, strict=True)
    yield float(limb.outer[0][0, -1]), limb.length


def pin(fs=0.0, feta=0.0, fz=0.0, offset=0.0):
    one = np.ones((1, 1, 1))
    return Pin(fs * one, feta * one, fz * one, offset * np.ones((1, 1)))


def cut(acting, part, reach, taper=0.0, warp=None, face=1.0):
    """Forces and extremes at one station of a weightless arm."""
    here = np.array([[reach]])
    nothing = (np.zeros((1, 1)), np.zeros((1, 1)))
    still = np.zeros((2, 1, 1))
    slope = np.array([[taper]])
    warp = np.zeros((1, 1)) if warp is None else warp
    return forces(acting, still, here, nothing, slope), extremes(
        acting, still, here, nothing, slope, part, warp, np.array([[face]])
    )


def at_station(kind, *sizes):
    return section(kind, *(np.array([[size]]) for size in sizes))


def test_bending_tension_is_on_top_under_a_falling_load():
    part = at_station("i", 600.0, 240.0, 45.0, 40.0)
    inside, _ = cut(pin(feta=-100e3), part, 1000.0)
    assert float(inside.m3[0, 0, 0, 0]) == -100e6
    assert float(fibre(inside, part, 1.0)[0, 0, 0, 0]) > 0.0 > float(fibre(inside, part, -1.0)[0, 0, 0, 0])


signed = st.floats(-1.0, 1.0).filter(lambda value: abs(value) > 1e-3)


@given(n=signed, v=signed, w=signed, e=signed, kind=st.sampled_from(["i", "box", "solid"]))
def test_corner_stress_is_the_worst_of_the_four_corners(n, v, w, e, kind):
    """The normal stress at corners against the signed sum N/A - M3 eta/I3 + M2 z/I2 over all four, worked out on its own."""
    part = at_station(kind, 400.0, 200.0, 20.0, 16.0)
    inside, worst = cut(pin(n * 1e6, v * 1e5, w * 2e4, e * 10.0), part, 800.0)
    N, M3, M2 = (float(value.ravel()[0]) for value in (inside.n, inside.m3, inside.m2))
    corners = [
        N / float(part.area[0, 0]) - M3 * y / float(part.i3[0, 0]) + M2 * z / float(part.i2[0, 0])
        for y in (200.0, -200.0)
        for z in (100.0, -100.0)
    ]
    assert float(worst.equivalent[0, 0, 0]) >= np.max(np.abs(corners)) * (1.0 - 1e-12)
    if int(worst.point[0, 0, 0]) == 0:
        assert float(worst.normal[0, 0, 0]) == pytest.approx(np.max(np.abs(corners)), rel=1e-12)


def test_web_shear_in_a_wedge_with_inclined_flanges():
    """Flanges that meet at the load carry all of it: a truss of two bars has no shear in its web (statics of a joint)."""
    part = at_station("i", 500.0, 200.0, 1e-3, 10.0)
    reach = 2000.0
    # Depth falls to nought at the load; lever of the flange forces is the depth less a flange.
    taper = -(500.0 / reach) / float(part.lever[0, 0])
    inside, _ = cut(pin(feta=-100e3), part, reach, taper)
    assert abs(float(inside.web[0, 0, 0, 0])) < 1e-5 * 100e3  # the thickness of the flange over the depth


def test_solid_taper_carries_less_shear_at_its_axis():
    """Slope of the shear flow M Q/I: q = V Q/I + M d(Q/I)/ds, by finite difference of the section, at the axis of a bar."""
    h, slope, reach, load, step = 300.0, -0.2, 900.0, 50e3, 1e-3
    flow = lambda depth: 1.5 / depth  # noqa: E731  Q/I at mid-depth of a rectangle
    by_difference = (
        load * flow(h)
        + load * reach * (flow(h + slope * step) - flow(h - slope * step)) / (2.0 * step) * -1.0
    )
    part = at_station("solid", h, 60.0)
    inside, _ = cut(pin(feta=load), part, reach, slope / float(part.lever[0, 0]))
    assert float(inside.web[0, 0, 0, 0]) * flow(h) == pytest.approx(by_difference, rel=1e-6)


def test_the_sloping_face_of_a_wedge_is_stressed_along_itself():
    """A wedge under a force across its tip, exact on its face: P sin a cos a/(x (a - sin a cos a)) (Michell 1900; Timoshenko and
    Goodier, Theory of Elasticity, art. 38). Plain bending says too little; 1/cos^2 of the slope covers it."""
    slope, reach, force = 0.1, 1000.0, 1000.0
    half = np.arctan(slope)
    exact = force * np.sin(half) * np.cos(half) / (reach * (half - np.sin(half) * np.cos(half)))
    part = at_station("solid", 2.0 * slope * reach, 1.0)
    plain = cut(pin(feta=force), part, reach)[1].normal.item()
    along_face = cut(pin(feta=force), part, reach, face=1.0 + slope**2)[1].normal.item()
    assert plain < exact < along_face < 1.01 * exact


def test_shear_counts_with_the_root_of_three():
    """At the very tip a bar carries shear alone: 1.5 V/A at its axis, and sqrt(3) times that after von Mises (Hencky)."""
    _, worst = cut(pin(feta=90e3), at_station("solid", 200.0, 60.0), 0.0)
    assert float(worst.equivalent[0, 0, 0]) == pytest.approx(3.0**0.5 * 1.5 * 90e3 / 12e3, rel=1e-12)


def test_doubled_loads_double_stresses():
    arm = demo("linkspan-rocker")
    light = STEEL.model_copy(update={"density": 1e-15})
    cases = {"a": LoadCase(kind="raise", friction=0.1, side_ratio=0.03)}
    load = lambda force: tuple(LoadPoint(at=at, force=f"{force} kN") for at in (0.0, 1.0))  # noqa: E731
    once, twice = (
        evaluate(changed(arm, bores=None, cracks=None, load_cases=cases, driven__load=load(force)), light)
        for force in (200, 400)
    )
    for a, b in zip(once.rows(), twice.rows(), strict=True):
        if a.check.clause.kind in ("stress", "force", "length"):
            assert b.demand == pytest.approx(2.0 * a.demand, rel=1e-9)


def test_extremes_over_stations_are_the_largest_of_each():
    arm = demo("bench-lever")
    now = response(arm, read_material(arm.material), Sizes.from_arm(arm), swing(3))
    for limb in now.limbs:
        each = np.stack([limb.worst_at(k).equivalent for k in range(limb.s.shape[1])])
        assert limb.worst.equivalent == pytest.approx(each.max(axis=0), rel=1e-12)
        assert np.array_equal(limb.worst.station, each.argmax(axis=0))
