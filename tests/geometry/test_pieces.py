"""Pieces of the near-net solid: they add up, stay on their side of the joint, and their files read well."""

import cadquery as cq
import numpy as np
import pytest

from geometry.nearnet import nearnet
from geometry.outline import SolidRefused
from geometry.pieces import box, joint_faces, pieces
from geometry.solid import solid
from geometry.step import read_step, write_step
from tests.geometry.test_nearnet import bench, route

CUTS = [("input", 80.0), ("output", 90.0), ("output", 130.0)]


@pytest.fixture(scope="module", params=["i", "box", "solid"])
def made(request):
    arm = bench(request.param, 120.0)
    whole = nearnet(arm, route())
    return arm, whole, pieces(whole, arm, CUTS)


def test_volumes_add_up_to_the_near_net_solid(made):
    _, whole, parts = made
    assert len(parts) == 4
    assert sum(part.Volume() for part in parts) == pytest.approx(whole.Volume(), rel=1e-9)
    centre = sum((part.Center() * part.Volume() for part in parts), cq.Vector()) * (1.0 / whole.Volume())
    assert centre.toTuple() == pytest.approx(
        whole.Center().toTuple(), abs=1e-4
    )  # mm of 350: the kernel's integration


def test_every_piece_stays_on_its_side(made):
    """The joints' planes are square to the arms: hub's piece, input arm's, then the output arm's from the hub outward."""
    _, _, (hub, outer, middle, end) = made
    angle = np.radians(120.0)
    along = hub.rotate(cq.Vector(), cq.Vector(0.0, 0.0, 1.0), -120.0).BoundingBox()
    assert along.xmax == pytest.approx(80.0, abs=1e-3)
    assert hub.BoundingBox().xmax == pytest.approx(90.0, abs=1e-3)
    assert outer.rotate(cq.Vector(), cq.Vector(0.0, 0.0, 1.0), -120.0).BoundingBox().xmin == pytest.approx(
        80.0, abs=1e-3
    )
    assert (middle.BoundingBox().xmin, middle.BoundingBox().xmax) == pytest.approx((90.0, 130.0), abs=1e-3)
    assert end.BoundingBox().xmin == pytest.approx(130.0, abs=1e-3)
    length, _, width = box(outer, angle)
    assert length == pytest.approx(150.0 + 22.0 + 0.6 - 80.0, abs=1e-3)  # arm, boss radius and allowance
    assert width == pytest.approx(40.0 + 3.0, abs=1e-3)  # boss and machining stock


def test_joint_faces_are_named_and_files_read_again(made, tmp_path):
    arm, _, parts = made
    for part, joints in zip(parts, (2, 1, 2, 1), strict=True):
        faces = joint_faces(part, arm, CUTS)
        assert len(faces) == joints
        write_step(part, {"joint": faces}, arm, tmp_path / "piece.step")
        assert read_step(tmp_path / "piece.step").Volume() == pytest.approx(part.Volume(), rel=1e-9)
        assert (tmp_path / "piece.step").read_text().count("ADVANCED_FACE('joint'") == joints


def test_no_cut_leaves_the_whole():
    arm = bench()
    whole = solid(arm)
    assert [part.Volume() for part in pieces(whole, arm, [])] == [whole.Volume()]


def test_a_cut_that_leaves_nothing_is_refused():
    arm = bench()
    with pytest.raises(
        SolidRefused, match="the piece beyond 500 mm of the output arm is no single valid solid"
    ):
        pieces(solid(arm), arm, [("output", 500.0)])
