"""The demo arms: they read well, every key has its comment, and their story's numbers hold."""

from __future__ import annotations

import re
from pathlib import Path

import numpy as np
import pytest

from params.new import renewed
from params.rules.derived import cylinder_areas, force_for_load, pin_to_pin
from params.rules.linkage import poses
from tests.arms import ARMS, demo

FILES = sorted(ARMS.glob("*.yaml"))
SWING = np.linspace(0.0, 1.0, 41)
KEY = re.compile(r"(?P<indent> *)(?P<key>[a-z_]+):( .*)?")
RECORD = re.compile(r"(?P<indent> *)(?:- |(?P<name>[a-z][a-z0-9_-]*): )(?P<body>\{.*\})")


def test_the_three_arms_are_here() -> None:
    assert [path.stem for path in FILES] == ["bench-lever", "linkspan-rocker", "sluice-crank"]


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_every_key_has_a_comment_above_it(path: Path) -> None:
    lines = path.read_text().splitlines()
    commented: list[str] = []  # the comment block above the last key
    block: list[str] = []
    keys = records = 0
    for line in lines:
        if line.lstrip().startswith("#"):
            block.append(line)
        elif record := RECORD.fullmatch(line):
            records += 1
            for name in re.findall(r"([a-z_]+): ", record["body"]):
                assert any(re.match(rf" *#   {name}: \S", text) for text in commented), (
                    f"{name} is not explained: {line}"
                )
        elif (key := KEY.fullmatch(line)) and not line.startswith("  Rocker"):
            keys += 1
            assert block, f"no comment above: {line}"
            # Above its own comment may stand the keys that the deeper block before it leaves out.
            assert block[-1].startswith(f"{key['indent']}#"), line
            commented, block = block, []
        elif not line:
            block = []
    assert keys > 80
    assert records >= 6


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_comments_are_those_of_the_schema(path: Path) -> None:
    assert renewed(path) == path.read_text(), "run `python -m params.new --comments` on it"


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_numbers_are_said_to_be_invented(path: Path) -> None:
    assert "every number invented" in path.read_text().splitlines()[0]
    assert "Invented" in demo(path.stem).caution


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_cylinder_is_strong_enough_for_the_load(path: Path) -> None:
    arm = demo(path.stem)
    needed = force_for_load(arm, poses(arm, SWING))
    assert np.all(needed > 0.0)
    assert needed.max() < 0.9 * cylinder_areas(arm)[0] * arm.drive.relief_pressure


def test_linkspan_rocker_is_as_its_story_says() -> None:
    arm = demo("linkspan-rocker")
    shape = arm.geometry
    assert arm.units == "si"
    assert (shape.input_arm, shape.output_arm) == (1250.0, 1750.0)
    assert np.degrees(shape.included_angle) == pytest.approx(165.0)
    assert (shape.pivot.outside, shape.pivot.bore) == (700.0, 320.0)
    section = shape.section
    assert (section.depth_at_hub, section.depth_at_pins, section.width) == (600.0, 300.0, 240.0)
    assert (section.flange_thickness, section.web_thickness) == (45.0, 40.0)
    needed = force_for_load(arm, poses(arm, SWING))
    assert needed.mean() == pytest.approx(620e3, rel=0.05)  # "about 620 kN" of the story
    assert arm.duty.pairs[0].cycles_per_year == 30 * 365  # 30 lifts a day
    assert len(arm.load_cases) == 9
    assert {case.kind for case in arm.load_cases.values()} == {"raise", "lower", "hold", "blocked"}


def test_old_casting_stands_near_its_limit() -> None:
    """Beam theory at the hub: 620 kN at 900 mm over W of two flanges 240 x 45 and a web of 40 in 600 deep is about 80 MPa."""
    section = demo("linkspan-rocker").geometry.section
    depth, width = section.depth_at_hub, section.width
    clear, room = depth - 2.0 * (section.flange_thickness or 0.0), width - (section.web_thickness or 0.0)
    modulus = (width * depth**3 - room * clear**3) / (6.0 * depth)
    stress = 620e3 * 900.0 / modulus
    assert stress == pytest.approx(80.0, rel=0.05)  # "about 80 MPa" of the story
    assert stress == pytest.approx(240.0 / 3.0, rel=0.05)  # A27 65-35 over the design factor


def test_sluice_crank_is_as_its_story_says() -> None:
    arm = demo("sluice-crank")
    assert arm.units == "us"
    assert arm.geometry.section.kind == "box"
    assert np.degrees(arm.geometry.included_angle) == pytest.approx(110.0)
    overall = pin_to_pin(arm) + (arm.geometry.input.outside + arm.geometry.output.outside) / 2.0
    assert overall / 304.8 == pytest.approx(12.0, rel=0.03)  # "about 12 ft"
    most = cylinder_areas(arm)[0] * arm.drive.relief_pressure / 4448.2216
    assert 200.0 <= most <= 250.0  # a cylinder of 200 kip, with room


def test_sweeps_have_the_sizes_they_should() -> None:
    grids = {}
    for path in FILES:
        sweep = demo(path.stem).sweep
        spans = [
            getattr(sweep, name)
            for name in ("depth_at_hub", "depth_at_pins", "width", "flange_thickness", "web_thickness", "hub")
        ]
        grids[path.stem] = int(np.prod([span.steps for span in spans if span]))
    assert 10_000 <= grids["linkspan-rocker"] <= 100_000
    assert grids["bench-lever"] <= 1000
    assert demo("linkspan-rocker").sweep.confirm == 6
    assert demo("bench-lever").sweep.confirm == 1
