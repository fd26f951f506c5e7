"""Measures of solids whose edges, corners and wedges are known, and those of the arms, which no mesher stumbles over."""

import cadquery as cq
import numpy as np
import pytest

from geometry.outline import LEAST_ANGLE, SolidRefused, inner_radius, pocket
from geometry.solid import solid
from geometry.soundness import reread, soundness
from geometry.step import write_step
from tests.arms import changed, demo
from tests.geometry.test_solid import bench


def test_a_block():
    told = soundness(cq.Solid.makeBox(1.0, 2.0, 3.0))
    assert told.edge.value == pytest.approx(1.0) and not told.faults
    assert told.width.value == pytest.approx(
        2.0 * 2.0 / 6.0
    )  # the end of 1 by 2: twice its area over its outline
    assert told.corner.value == pytest.approx(np.pi / 2.0) and told.wedge.value == pytest.approx(np.pi / 2.0)


def test_a_prism_over_a_sharp_triangle():
    """Corners of a right triangle of legs 1 and 4: atan(1/4) is the sharpest, of the ends and of the wedge between sides."""
    points = [cq.Vector(0.0, 0.0, 0.0), cq.Vector(4.0, 0.0, 0.0), cq.Vector(0.0, 1.0, 0.0)]
    end = cq.Face.makeFromWires(cq.Wire.makePolygon(points, close=True))
    told = soundness(cq.Solid.extrudeLinear(end, cq.Vector(0.0, 0.0, 2.0)))
    assert told.corner.value == pytest.approx(np.arctan(0.25)) and told.wedge.value == pytest.approx(
        np.arctan(0.25)
    )
    assert told.corner.place[:2] == pytest.approx((4.0, 0.0)) and told.wedge.place[:2] == pytest.approx(
        (4.0, 0.0)
    )


def test_a_notch_is_no_sharp_corner():
    """Inside a square notch metal and faces turn by 270 degrees; the least is still the square one outside."""
    block = cq.Solid.makeBox(3.0, 3.0, 1.0).cut(cq.Solid.makeBox(1.0, 1.0, 1.0)).Solids()[0]
    told = soundness(block)
    assert told.corner.value == pytest.approx(np.pi / 2.0) and told.wedge.value == pytest.approx(np.pi / 2.0)


def test_a_blend_that_touches_the_hub_leaves_a_corner_of_no_angle():
    """Two circles of radius 10, one above the other, touch; the plate between them is thinner than the hub."""
    hub = cq.Solid.makeCylinder(10.0, 4.0)
    plate = cq.Solid.makeBox(10.0, 20.0, 2.0).cut(cq.Solid.makeCylinder(10.0, 4.0, cq.Vector(0.0, 20.0, 0.0)))
    assert soundness(hub.fuse(plate).Solids()[0]).corner.value < np.radians(1.0)


@pytest.mark.parametrize("name", ["bench-lever", "linkspan-rocker", "sluice-crank"])
def test_the_demo_arms_are_sound_also_after_reading_their_step_again(name, tmp_path):
    body = solid(demo(name))
    told = soundness(body)
    assert not told.faults
    assert np.degrees(told.corner.value) > 14.9 and np.degrees(told.wedge.value) > 60.0
    write_step(body, {}, demo(name), tmp_path / "arm.step")
    assert list(reread(tmp_path / "arm.step", body)) == []


@pytest.mark.parametrize("kind", ["i", "box", "solid"])
@pytest.mark.parametrize("angle", [100.0, 148.0, 180.0])
def test_no_corner_is_sharper_than_the_arms_edges_meet_the_hub(kind, angle):
    told = soundness(solid(bench(kind, angle)))
    assert not told.faults and np.degrees(told.corner.value) > 14.9


def test_a_boss_as_large_as_the_arm_is_deep_is_met_at_the_least_angle():
    """Its edge would run along the circle; it leans in over the last stretch."""
    arm = bench("solid", 180.0, geometry__output__outside=40.0, geometry__input__outside=40.0)
    assert np.degrees(soundness(solid(arm)).corner.value) > 14.9


def test_a_blend_cuts_the_circle_at_the_angle_asked_for():
    """Circles of radii R and r whose centres are d apart cross at acos((d2 - R2 - r2) / 2 R r), any textbook of geometry."""
    hub, blend = 45.0, 15.0
    apart = inner_radius(hub, blend, LEAST_ANGLE) + blend
    assert np.arccos((apart**2 - hub**2 - blend**2) / (2.0 * hub * blend)) == pytest.approx(LEAST_ANGLE)


def test_a_slight_taper_makes_no_edge_too_short_to_mesh():
    """A bend of 0.3 degrees rounded with a common radius would be an edge of some hundredths of a millimetre."""
    arm = bench("i", 180.0, geometry__section__depth_at_hub=41.0, geometry__section__fillet=3.0)
    assert soundness(solid(arm)).edge.value > 0.5


def test_the_metal_at_the_knee_leaves_no_edge_too_short_to_mesh():
    """A low hub without blends of its own: where the knee's straight met the arms' edges, which bend there, 0.03 mm were left."""
    arm = changed(
        demo("linkspan-rocker"),
        geometry__pivot__outside=600.0,
        geometry__section__depth_at_hub=570.0,
        geometry__section__depth_at_pins=270.0,
    )
    body = solid(arm)
    assert soundness(body).edge.value > 1.0
    assert [blend.made for blend in short_of(arm)] == []


def short_of(arm):
    """Blends that had to be made smaller."""
    short = []
    solid(arm, short)
    return short


def test_corners_of_a_pocket_are_made_one_by_one_where_none_can_be_swept(monkeypatch):
    arm = bench("i", 150.0, geometry__section__fillet=2.0)
    wanted = pocket(arm, "output").Area()
    monkeypatch.setattr("geometry.outline.opened", lambda face, radius: None)
    assert pocket(arm, "output").Area() == pytest.approx(wanted, rel=1e-9)  # the same lines and arcs
    # Radius 4.8 mm needs more of the edge between hub circle and bend than its 7 mm; a disc would sweep on over the bend.
    with pytest.raises(SolidRefused, match=r"output arm: corners of 4\.8 mm radius do not fit the pocket"):
        pocket(bench("i", 150.0, geometry__section__fillet=4.0), "output")


def test_the_mass_hardly_changes_with_the_least_angle():
    """Against an outline without blends: blends and bends are a small part of the arm."""
    arm = demo("linkspan-rocker")
    sharp = changed(arm, geometry__blend_radius=0.0)
    assert solid(arm).Volume() == pytest.approx(solid(sharp).Volume(), rel=5e-3)
