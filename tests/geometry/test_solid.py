"""The solid: valid for every kind and angle, its volume against closed forms, its faces, its STEP."""

import json
import subprocess
import sys

import cadquery as cq
import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from geometry import outline as outline_module
from geometry import solid as solid_module
from geometry.corners import corners, round_one
from geometry.datums import BORES
from geometry.faces import NAMES, named_faces
from geometry.notes import notes
from geometry.outline import SolidRefused, disc, outline
from geometry.solid import solid, written
from geometry.step import read_step, write_step
from tests.arms import changed, demo
from tests.geometry.figures import elevation, volume

ANGLES = [90.0, 110.0, 135.0, 165.0, 180.0]


def bench(kind="i", angle=150.0, **fields):
    arm = changed(demo("bench-lever"), geometry__included_angle=np.radians(angle), **fields)
    plates = (
        {}
        if kind != "solid"
        else {f"geometry__section__{name}": None for name in ("flange_thickness", "web_thickness", "fillet")}
    )
    return changed(arm, geometry__section__kind=kind, **plates)


@pytest.mark.parametrize("angle", ANGLES)
@pytest.mark.parametrize("kind", ["i", "box", "solid"])
def test_one_valid_solid_with_all_faces_named(kind, angle):
    arm = bench(kind, angle)
    body = solid(arm)
    assert body.isValid() and len(body.Solids()) == 1
    faces = named_faces(body, arm)
    assert set(faces) == set(NAMES)
    assert sum(len(group) for group in faces.values()) == len(body.Faces())
    assert sum(face.Area() for group in faces.values() for face in group) == pytest.approx(
        body.Area(), rel=1e-9
    )


@pytest.mark.parametrize(
    "fields",
    [{"geometry__section__fillet": 0.0}, {"geometry__pivot__chamfer": 0.0}, {"geometry__blend_radius": 0.0}],
)
def test_without_fillet_chamfer_or_blend(fields):
    assert solid(bench(**fields)).isValid()


@pytest.mark.parametrize("angle", ANGLES)
@pytest.mark.parametrize(("kind", "corner"), [("solid", 0.0), ("box", 4.0), ("i", 4.8)])
def test_volume_against_plane_figures(kind, corner, angle):
    fillet = {} if kind == "solid" else {"geometry__section__fillet": 4.0}
    arm = bench(kind, angle, geometry__blend_radius=8.0, **fillet)
    short = []
    made = solid(arm, short).Volume()
    assert not short
    # Left out of the figures: where an arm bends at the hub circle a long radius cuts slivers, tan(a) - a with a < 5 deg.
    assert made == pytest.approx(volume(arm.geometry, corner), rel=1e-3)


def fillet_area(circle, height, radius):
    """Area between a circle about the origin, the line y = height outside it, and the fillet that touches both.

    The fillet's centre is at the height plus its radius, and as far from the origin as both radii together.
    """
    start = np.array([np.sqrt(circle**2 - height**2), height])
    middle = np.array([np.sqrt((circle + radius) ** 2 - (height + radius) ** 2), height + radius])
    touch = np.array([middle[0], height])
    x, y = np.array([[0.0, 0.0], start, touch, middle]).T
    kite = 0.5 * abs(np.sum(x * np.roll(y, -1) - y * np.roll(x, -1)))
    turned = np.arctan2(middle[1], middle[0]) - np.arctan2(start[1], start[0])
    inside = np.pi / 2.0 - np.arctan2(middle[1], middle[0])
    return kite - 0.5 * circle**2 * turned - 0.5 * radius**2 * inside


@pytest.mark.parametrize("radius", [3.0, 12.0])
def test_each_blend_at_the_hub_adds_the_closed_form(radius):
    arm = bench("solid", 180.0, geometry__blend_radius=0.0)
    face = outline(arm)
    at_hub = [corner for corner in corners(face) if np.hypot(*corner) < 46.0]
    assert len(at_hub) == 4
    wanted = fillet_area(arm.geometry.pivot.outside / 2.0, arm.geometry.section.depth_at_hub / 2.0, radius)
    for corner in at_hub:
        assert round_one(face, corner, radius)[0].Area() - face.Area() == pytest.approx(
            wanted, rel=1e-6
        )  # kernel's own tolerance


def test_deep_arms_at_a_right_angle_keep_a_rib_between_their_pockets():
    arm = bench("i", 90.0, geometry__section__depth_at_hub=90.0, geometry__section__flange_thickness=4.0)
    body = solid(arm)
    at = (
        0.5 * (46.0 + (45.0 - 4.0) * np.sqrt(2.0)) / np.sqrt(2.0)
    )  # between hub and the flanges' inner corner
    z = 0.45 * arm.geometry.section.width
    assert body.isInside(cq.Vector(at, at, z))
    assert not body.isInside(cq.Vector(at + 4.0, at - 4.0, z))  # beside the rib the pocket is open


def test_a_blend_longer_than_its_edge_runs_on_over_the_next():
    arm = bench("solid", 90.0, geometry__blend_radius=8.0)  # the inner edges bend 7 mm from their corner
    short = []
    whole = outline(arm, short).fuse(*(disc(arm, name) for name in BORES))
    # The arcs at the two bends of each arm take off tan(a) - a with a < 3 deg: 1e-5 of the area.
    assert whole.Area() == pytest.approx(elevation(arm.geometry).area, rel=3e-4)
    assert not short


def test_a_blend_that_does_not_fit_is_made_smaller_and_told(monkeypatch):
    monkeypatch.setattr(outline_module, "closed", lambda face, radius: None)  # the kernel gives up
    short = []
    body = solid(bench("solid", 110.0, geometry__blend_radius=60.0), short)
    assert body.isValid() and short
    assert all(blend.made < blend.wanted == 60.0 for blend in short)
    (line, *_) = notes(bench("solid", 110.0, geometry__blend_radius=60.0), short)
    assert (
        line.startswith("A blend of 60.0 mm does not fit at x ")
        and "the hand calculation takes the whole radius" in line
    )


def test_a_boss_without_room_for_a_blend_is_told_in_the_arms_units():
    """An edge h / 2 off the axis crosses a circle of D about it at acos(h / D)."""
    told = notes(demo("sluice-crank"), [])
    assert len(told) == 2 and all(
        "has no blend at the" in line and "no check by hand" in line for line in told
    )
    assert all(
        f"geometry.{name}.outside" in line for name, line in zip(("input", "output"), told, strict=True)
    )
    assert notes(changed(demo("sluice-crank"), geometry__blend_radius=0.0), []) == []
    assert notes(demo("bench-lever"), []) == []
    low = changed(
        demo("sluice-crank"),
        geometry__pivot__outside=1.02 * demo("sluice-crank").geometry.section.depth_at_hub,
    )
    (hub, *_) = notes(low, [])  # acos(1 / 1.02) is 11 deg
    assert "at the pivot hub" in hub and "at 11 deg" in hub and "the hand calculation takes 5.00 in" in hub


def test_what_differs_is_filed_with_the_solid(tmp_path):
    arm = demo("sluice-crank")
    written(solid(arm), arm, tmp_path, notes(arm, []))
    assert json.loads((tmp_path / "faces.json").read_text())["notes"] == notes(arm, [])


def test_mirror_symmetry_about_the_mid_plane():
    body = solid(demo("linkspan-rocker"))
    assert abs(body.Center().z) < 1e-6


@settings(max_examples=8, deadline=None)
@given(
    angle=st.floats(90.0, 180.0),
    depth=st.floats(60.0, 86.0),
    flange=st.floats(3.0, 9.0),
    web=st.floats(3.0, 10.0),
    blend=st.floats(0.0, 60.0),
    kind=st.sampled_from(["i", "box"]),
)
def test_sizes_within_the_rules_give_a_valid_solid(angle, depth, flange, web, blend, kind):
    arm = bench(
        kind,
        angle,
        geometry__section__depth_at_hub=depth,
        geometry__section__flange_thickness=flange,
        geometry__section__web_thickness=web,
        geometry__blend_radius=blend,
    )
    body = solid(arm)  # a refusal here is a failure: all of these can be built
    assert body.isValid() and named_faces(body, arm)["pivot_bore"]


def test_step_read_again_gives_the_same_solid_and_carries_the_names(tmp_path):
    arm = bench()
    body = solid(arm)
    write_step(body, named_faces(body, arm), arm, tmp_path / "arm.step")
    again = read_step(tmp_path / "arm.step")
    assert again.Volume() == pytest.approx(body.Volume(), rel=1e-9)
    assert len(again.Faces()) == len(body.Faces())
    assert {n: len(g) for n, g in named_faces(again, arm).items()} == {
        n: len(g) for n, g in named_faces(body, arm).items()
    }
    text = (tmp_path / "arm.step").read_text()
    for name in NAMES:
        assert f"ADVANCED_FACE('{name}'" in text


def test_step_bytes_are_the_same_from_two_processes(tmp_path):
    for folder in ("a", "b"):
        command = [
            sys.executable,
            "-m",
            "geometry.solid",
            "params/arms/bench-lever.yaml",
            str(tmp_path / folder),
        ]
        subprocess.run(command, check=True, capture_output=True)
    for file in ("arm.step", "arm.brep", "faces.json"):
        assert (tmp_path / "a" / file).read_bytes() == (tmp_path / "b" / file).read_bytes()


def test_corners_that_do_not_fit_are_refused_with_their_place():
    with pytest.raises(
        SolidRefused, match=r"(input|output) arm: corners of 36 mm radius do not fit the pocket"
    ):
        solid(bench(geometry__section__fillet=30.0))


def test_step_is_of_the_newest_application_protocol(tmp_path):
    arm = bench("solid")
    body = solid(arm)
    write_step(body, named_faces(body, arm), arm, tmp_path / "arm.step")
    # ISO 10303-242; the schema's name as the standard writes it, from memory.
    assert "AP242_MANAGED_MODEL_BASED_3D_ENGINEERING_MIM_LF" in (tmp_path / "arm.step").read_text()


def test_the_command_refuses_with_one_line_and_code_3(tmp_path, capsys, monkeypatch):
    arm = bench(geometry__section__fillet=30.0)
    monkeypatch.setattr(solid_module, "read_arm", lambda _: arm)
    assert solid_module.main(tmp_path / "arm.yaml", tmp_path / "out") == 3
    told = capsys.readouterr().err
    assert told.count("\n") == 1 and "cannot be built: " in told
    assert not (tmp_path / "out").exists()
