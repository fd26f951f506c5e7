"""Projections and sections against closed forms of the arm's own sizes."""

import cadquery as cq
import numpy as np
import pytest

from analysis.drawing.frame import Frame, extent, stroke
from geometry.projection import ABOVE, FRONT, projected
from geometry.tidy import tidied
from tests.arms import demo
from tests.package.made import seen

NAMES = ["bench-lever", "sluice-crank"]  # an i and a box


def enclosed(edges):
    """Area within closed edges by Green's theorem over their chords, whatever way each edge runs; outer less inner."""
    runs = [np.array(stroke(edge, Frame(0.0, 0.0, 1.0), "outline").points) for edge in edges]
    loops = []
    while runs:
        loop = runs.pop(0)
        while np.hypot(*(loop[0] - loop[-1])) > 1e-2:
            near = min(
                range(len(runs)), key=lambda i: min(np.hypot(*(runs[i][e] - loop[-1])) for e in (0, -1))
            )
            run = runs.pop(near)
            loop = np.vstack([loop, run if np.hypot(*(run[0] - loop[-1])) < 1e-2 else run[::-1]])
        x, y = loop.T
        loops.append(abs(np.sum(x * np.roll(y, -1) - np.roll(x, -1) * y)) / 2.0)
    return 2.0 * max(loops) - sum(loops)


def test_hidden_edge_of_a_stepped_block_is_hidden_and_drawn_once():
    block = (
        cq.Workplane("XY").box(10, 10, 10).cut(cq.Workplane("XY").box(4, 4, 6).translate((0, 0, -2))).val()
    )
    front = tidied(projected(block, FRONT))  # the pocket opens away from the eye
    assert extent({"hidden": front["hidden"]}) == pytest.approx((-2.0, -2.0, 2.0, 2.0), abs=1e-3)
    assert len(front["hidden"]) == 4 and len(front["visible"]) == 4
    above = tidied(projected(block, ABOVE))
    assert len(above["visible"]) == 4


@pytest.mark.parametrize("name", NAMES)
def test_section_b_has_the_area_of_its_plates(name):
    arm = demo(name)
    section, views = arm.geometry.section, seen(name)
    hub, pin = arm.geometry.pivot.outside / 2.0, arm.geometry.output_arm
    share = (views["station_B_mm"] - hub) / (pin - hub)
    depth = section.depth_at_hub + share * (section.depth_at_pins - section.depth_at_hub)
    slope = np.hypot(1.0, (section.depth_at_hub - section.depth_at_pins) / 2.0 / (pin - hub))
    clear = depth - 2.0 * section.flange_thickness * slope  # flanges are square to their sloping edges
    webs = section.web_thickness * (2.0 if section.kind == "box" else 1.0)
    fillets = 4.0 * section.fillet**2 * (1.0 - np.pi / 4.0) if section.kind == "i" else 0.0
    area = section.width * depth - (section.width - webs) * clear + fillets
    assert enclosed(views["sections"]["B"]["cut"]) == pytest.approx(
        area, rel=2e-3
    )  # chords of fillets, their slope


@pytest.mark.parametrize("name", NAMES)
def test_extents_of_views_are_those_of_the_arm(name):
    arm, views = demo(name), seen(name)
    geometry = arm.geometry
    pin = geometry.input_arm * np.array([np.cos(geometry.included_angle), np.sin(geometry.included_angle)])
    left = min(pin[0] - geometry.input.outside / 2.0, -geometry.pivot.outside / 2.0)
    right = geometry.output_arm + geometry.output.outside / 2.0
    front = extent(views["views"]["front"])
    assert front[0] == pytest.approx(left, abs=1e-3) and front[2] == pytest.approx(right, abs=1e-3)
    half = geometry.pivot.width / 2.0
    plan, unfolded = extent(views["views"]["plan"]), extent(views["sections"]["A"])
    assert plan[1::2] == pytest.approx((-half, half), abs=1e-3)
    assert unfolded[0] == pytest.approx(-geometry.input_arm - geometry.input.outside / 2.0, abs=1e-3)
    assert unfolded[2] == pytest.approx(right, abs=1e-3)


@pytest.mark.parametrize("name", NAMES)
def test_no_stretch_of_a_line_is_drawn_twice(name):
    for view in seen(name)["views"].values():
        lines = [
            edge["points"] for kind in view.values() for edge in kind if len(edge.get("points", [])) == 2
        ]
        upright = [sorted((a[1], b[1])) + [a[0]] for a, b in lines if abs(a[0] - b[0]) < 1e-6]
        for i, (low, high, x) in enumerate(upright):
            for other_low, other_high, other in upright[i + 1 :]:
                assert abs(x - other) > 2e-3 or min(high, other_high) - max(low, other_low) < 1e-2
