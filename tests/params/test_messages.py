"""Each fault of a parameter file as the exact line that a person reads; numbers in the lines are worked out by hand."""

# ruff: noqa: E501 (the lines as they are printed)
from __future__ import annotations

from pathlib import Path

import pytest

from tests.params.broken_rules import OUTSIDE, RULES
from tests.params.edits import NAME, VALID, edited, problem_lines

LENGTHS = "one of mm, cm, m, in, ft"
NAMES = "lower-case letters, digits, - and _, a letter first, at most 40"

# What is changed, and what is said of the line that was changed.
SCHEMA = [
    (
        "bore: 40 mm",
        "bore: 40",
        f'geometry.pivot.bore: 40, has no unit, {LENGTHS}, write the unit after the number such as "40 mm"',
    ),
    (
        "bore: 40 mm",
        'bore: "40"',
        f'geometry.pivot.bore: 40, has no unit, {LENGTHS}, write the unit after the number such as "40 mm"',
    ),
    (
        "bore: 40 mm",
        "bore: 40 MPa",
        f'geometry.pivot.bore: 40 MPa, has the unit MPa, a length is in {LENGTHS}, write it such as "40 mm"',
    ),
    (
        "bore: 40 mm",
        "bore: -40 mm",
        "geometry.pivot.bore: -40 mm, is negative, between 1 mm and 20 m, check the number and its unit",
    ),
    (
        "bore: 40 mm",
        "bore: 0 mm",
        "geometry.pivot.bore: 0 mm, is out of range, between 1 mm and 20 m, check the number and its unit",
    ),
    (
        "bore: 40 mm",
        "bore: 400 m",
        "geometry.pivot.bore: 400 m, is out of range, between 1 mm and 20 m, check the number and its unit",
    ),
    (
        "bore: 40 mm",
        "bore: nan mm",
        f'geometry.pivot.bore: nan mm, is not a finite number, a number and {LENGTHS}, write it such as "1.5 mm"',
    ),
    (
        "bore: 40 mm",
        "bore: 1e999 mm",
        f'geometry.pivot.bore: 1e999 mm, is not a finite number, a number and {LENGTHS}, write it such as "1.5 mm"',
    ),
    (
        "bore: 40 mm",
        "bore: forty",
        f'geometry.pivot.bore: forty, is not a length, a number and {LENGTHS}, write it such as "1.5 mm"',
    ),
    (
        "bore: 40 mm",
        "bore:",
        f'geometry.pivot.bore: empty, is not a length, a number and {LENGTHS}, write it such as "1.5 mm"',
    ),
    (
        "angle: 150 deg",
        "angle: 45 deg",
        "geometry.included_angle: 45 deg, is out of range, between 90 deg and 180 deg, check the number and its unit",
    ),
    (
        "angle: 150 deg",
        "angle: 150 mm",
        'geometry.included_angle: 150 mm, has the unit mm, an angle is in one of deg, rad, write it such as "150 deg"',
    ),
    (
        "kind: i\n",
        "kind: tube\n",
        "geometry.section.kind: tube, is not one of the choices, one of i, box or solid, write one of them",
    ),
    (
        "shock_factor: 1.1",
        "shock_factor: 0.5",
        "load_cases.raise.shock_factor: 0.5, is too small, at least 1.0, check the number",
    ),
    (
        "shock_factor: 1.1",
        "shock_factor: true",
        "load_cases.raise.shock_factor: True, is not a number, write a plain number, without unit or quotes",
    ),
    (
        "shock_factor: 1.1",
        "shock_factor: nan",
        "load_cases.raise.shock_factor: nan, is not a number, write a plain number, without unit or quotes",
    ),
    (
        "shock_factor: 1.1",
        "shock_factor: 9e999",
        "load_cases.raise.shock_factor: inf, is not a finite number, check the number",
    ),
    ("{at: 1,", "{at: 1.5,", "driven.load.1.at: 1.5, is too large, at most 1.0, check the number"),
    (
        "cycles_per_year: 5000",
        "cycles_per_year: 0",
        "duty.pairs.0.cycles_per_year: 0, is too small, more than 0.0, check the number",
    ),
    ("steps: 5", "steps: 2.5", "sweep.depth_at_hub.steps: 2.5, is not a whole number, write a whole number"),
    (
        "pins_rotate: true",
        "pins_rotate: yes",
        "criteria.pins_rotate: yes, is neither true nor false, write true or false",
    ),
    (
        "  raise: {",
        "  Raise up: {",
        f"load_cases.Raise up: Raise up, has characters that are not allowed, {NAMES}, change it",
    ),
    (
        "name: bench",
        "name: ../bench",
        f"name: ../bench-lever, has a path separator, {NAMES}, write a plain name",
    ),
    (
        "material: a572-50",
        "material: ..\\a572-50",
        f"material: ..\\a572-50, has a path separator, {NAMES}, write a plain name",
    ),
    ("revision: A", "revision: 1", "revision: 1, is not text, write it in quotes"),
    (
        "web_thickness: 9 mm",
        "web_thicknes: 9 mm",
        "geometry.section.web_thicknes: is not a known key, known keys: kind, depth_at_hub, depth_at_pins, width, flange_thickness, web_thickness, fillet, did you mean web_thickness?",
    ),
    (
        "  input_arm: ",
        "  input_amr: ",
        "geometry.input_amr: is not a known key, known keys: input_arm, output_arm, included_angle, blend_radius, pivot, input, output, section, did you mean input_arm?",
    ),
    (
        "friction: 0.1}",
        "frictoin: 0.1}",
        "load_cases.raise.frictoin: is not a known key, known keys: kind, push, load_factor, shock_factor, overshoot_factor, side_ratio, eccentricity, friction, design_factor, did you mean friction?",
    ),
]


@pytest.mark.parametrize(("old", "new", "expected"), [row for row in SCHEMA + RULES if row[2]])
def test_the_line_that_was_changed_is_told_with_its_mend(
    tmp_path: Path, old: str, new: str, expected: str
) -> None:
    text, line = edited((old, new))
    assert f"{NAME}.yaml:{line}: {expected}" in problem_lines(tmp_path, text)


@pytest.mark.parametrize(("old", "new", "expected"), [row for row in SCHEMA if "no key" not in row[2]])
def test_one_fault_is_told_once(tmp_path: Path, old: str, new: str, expected: str) -> None:
    text, line = edited((old, new))
    assert problem_lines(tmp_path, text) == [f"{NAME}.yaml:{line}: {expected}"]


def test_valid_file_has_no_problem(tmp_path: Path) -> None:
    assert problem_lines(tmp_path, VALID) == []


def test_every_problem_is_told_at_once(tmp_path: Path) -> None:
    text, line = edited(("bore: 40 mm", "bore: 40"), ("kind: i\n", "kind: j\n"), ("levels: 3", "levels: 33"))
    lines = problem_lines(tmp_path, text)
    assert len(lines) == 3
    assert lines[0].startswith(f"{NAME}.yaml:{line}: geometry.pivot.bore: ")
    assert ": geometry.section.kind: j," in lines[1]
    assert ": mesh.levels: 33," in lines[2]


def test_problems_of_the_shape_and_of_the_motion_come_together(tmp_path: Path) -> None:
    text, _ = edited(OUTSIDE, ("stroke: 120 mm", "stroke: 30 mm"), ("to_case: raise", "to_case: unloaded"))
    assert [line.split(": ")[1] for line in problem_lines(tmp_path, text)] == [
        "geometry.pivot.outside",
        "geometry.pivot.outside",
        "drive.stroke",
        "duty.pairs.0.to_case",
        "found_cracks.0.length",  # in so thin a hub it is beyond the solution for its shape as well
    ]


def test_a_bore_larger_than_its_hub_is_not_told_at_the_crack(tmp_path: Path) -> None:
    lines = problem_lines(tmp_path, edited(("    bore: 40 mm\n", "    bore: 95 mm\n"))[0])
    assert [line.split(": ")[1] for line in lines] == [
        "geometry.pivot.outside",
        "geometry.pivot.pin.diameter",
    ]


def test_missing_key_is_told_at_its_parent(tmp_path: Path) -> None:
    text, line = edited(("    outside: 90 mm\n", ""))
    parent = VALID[: VALID.index("\n  pivot:")].count("\n") + 2
    assert parent < line
    expected = "geometry.pivot.outside: is missing, add outside below geometry.pivot"
    assert problem_lines(tmp_path, text) == [f"{NAME}.yaml:{parent}: {expected}"]


@pytest.mark.parametrize(
    ("old", "new", "limit"),
    [  # half of 40 mm less 1.2 x 8 mm, the corner of the pocket; 36 mm less twice 8 mm
        ("flange_thickness: 9 mm", "flange_thickness: 13 mm", "at the pins, less than 10.4 mm"),
        ("web_thickness: 9 mm", "web_thickness: 21 mm", "within the width, less than 20.0 mm"),
    ],
)
def test_fillets_take_their_room(tmp_path: Path, old: str, new: str, limit: str) -> None:
    text, line = edited((old, new), ("    fillet: 0 mm", "    fillet: 8 mm"))
    assert any(f":{line}: " in one and limit in one for one in problem_lines(tmp_path, text))


def test_missing_plate_of_an_i_section(tmp_path: Path) -> None:
    text, _ = edited(("  fillet: 0 mm\n", "\n"))
    parent = VALID[: VALID.index("\n  section:")].count("\n") + 2
    expected = "geometry.section.fillet: is missing, kind i needs it, add fillet below section"
    assert problem_lines(tmp_path, text) == [f"{NAME}.yaml:{parent}: {expected}"]


def test_solid_bar_has_no_plates(tmp_path: Path) -> None:
    lines = problem_lines(tmp_path, edited(("kind: i\n", "kind: solid\n"))[0])
    fields = [line.split(": ")[1] for line in lines]
    plates = ["flange_thickness", "web_thickness", "fillet"]
    assert fields == [f"geometry.section.{name}" for name in plates] + [
        "sweep.flange_thickness",
        "sweep.web_thickness",
    ]
    assert all("is not used with kind solid, a bar has no plates, remove the" in line for line in lines)


def test_cylinder_across_the_pivot_is_refused(tmp_path: Path) -> None:
    # The anchor stands at atan2(160, -300) = 151.93 deg, the input pin at phi + 150 deg: in line at phi = 1.93 deg.
    text, line = edited(("x: -120 mm", "x: -300 mm"), ("y: 300 mm", "y: 160 mm"))
    expected = (
        "drive.anchor: the cylinder crosses or nears dead centre inside the swing, at 1.9 deg, moment arm at least"
        " 0.05 of the arm, always on the same side, move the anchor or shorten the swing"
    )
    lines = [row.partition(": ") for row in problem_lines(tmp_path, text)]
    assert expected in [rest for _, _, rest in lines]
    anchor = VALID[: VALID.index("\n  anchor:")].count("\n") + 2
    assert f"{NAME}.yaml:{anchor}" in [place for place, _, _ in lines]
    assert anchor < line


def test_anchor_at_the_pivot_is_refused(tmp_path: Path) -> None:
    text, _ = edited(("x: -120 mm", "x: 0 mm"), ("y: 300 mm", "y: 0 mm"))
    lines = problem_lines(tmp_path, text)
    assert any("0.0 mm, is almost at the pivot, at least 15.0 mm away" in line for line in lines)
    assert any("dead centre" in line for line in lines)


def test_cylinder_that_makes_no_part_of_the_swing(tmp_path: Path) -> None:
    lines = problem_lines(tmp_path, edited(("closed_length: 190 mm", "closed_length: 400 mm"))[0])
    assert len(lines) == 1
    assert "the cylinder has 400.0 mm to 520.0 mm, it reaches no part of the swing" in lines[0]


@pytest.mark.parametrize(
    ("change", "wrong"),
    [
        (
            ("  direction: -90 deg", "  direction: -90 deg\n  anchor: {x: 0.2 m, y: -1 m}"),
            "has both direction and anchor",
        ),
        (("  direction: -90 deg\n", "\n"), "has neither direction nor anchor"),
    ],
)
def test_load_has_one_line_of_action(tmp_path: Path, change: tuple[str, str], wrong: str) -> None:
    line = VALID[: VALID.index("\ndriven:")].count("\n") + 2
    expected = (
        f"{NAME}.yaml:{line}: driven: {wrong}, exactly one of the two, keep the one that fits the machine"
    )
    assert problem_lines(tmp_path, edited(change)[0]) == [expected]


@pytest.mark.parametrize(
    "change", [("{at: 1,", "{at: 0.9,"), ("{at: 0,", "{at: 0.1,"), ("{at: 0,", "{at: 1,")]
)
def test_load_table_runs_over_the_whole_swing(tmp_path: Path, change: tuple[str, str]) -> None:
    lines = problem_lines(tmp_path, edited(change)[0])
    assert len(lines) == 1
    assert (
        "does not run from 0 to 1 in rising steps, at: 0 first, 1 last, sort the points and give both ends"
        in lines[0]
    )


def test_friction_that_locks_is_refused(tmp_path: Path) -> None:
    # Moment arm of 19 mm (anchor 3.7 deg off the input arm at the raised end) against 0.6 x 19.95 mm = 12 mm of friction circle.
    changes = [
        ("x: -120 mm", "x: -286 mm"),
        ("y: 300 mm", "y: 100 mm"),
        ("lowered: -12 deg", "lowered: 4 deg"),
    ]
    changes += [("raised: 12 deg", "raised: 7 deg"), ("friction: 0.1}", "friction: 0.6}")]
    lines = problem_lines(tmp_path, edited(*changes)[0])
    assert any(
        "load_cases.raise.friction: 0.6, pivot friction nearly locks the arm, less than" in line
        for line in lines
    )


def test_file_for_results_may_be_called_arm(tmp_path: Path) -> None:
    assert problem_lines(tmp_path, VALID, "arm") == []
    assert len(problem_lines(tmp_path, VALID, "other")) == 1


SWEEPS = [
    (
        "width",
        "least: 28 mm",
        "least: 40.5 mm",
        "least: 40.5 mm, leaves no design that can be built, at most 39.2 mm (the narrowest hub or boss is 2 % wider), lower it",
    ),
    (
        "flange_thickness",
        "least: 10 mm",
        "least: 17 mm",
        "least: 17.0 mm, leaves no design that can be built, at most 16.0 mm (two fifths of the greatest depth at the pins), lower it",
    ),
]


@pytest.mark.parametrize(("name", "old", "new", "expected"), SWEEPS)
def test_range_without_a_design(tmp_path: Path, name: str, old: str, new: str, expected: str) -> None:
    most = {"width": ("most: 38 mm", "most: 41 mm"), "flange_thickness": ("most: 12 mm", "most: 18 mm")}
    text, line = edited((old, new), most[name])
    assert problem_lines(tmp_path, text) == [f"{NAME}.yaml:{line}: sweep.{name}.{expected}"]


def test_hub_range_below_every_depth(tmp_path: Path) -> None:
    # The least depth at the hub is 60 mm: 61.2 mm with 2 % more.
    hub = "  hub:\n    least: 58 mm\n    most: 61 mm\n    steps: 2\n  grid_limit:"
    text, line = edited(("  grid_limit:", hub))
    limit = "at least 61.2 mm (2 % more than the least depth at the hub), raise it"
    expected = f"sweep.hub.most: 61.0 mm, leaves no design that can be built, {limit}"
    assert problem_lines(tmp_path, text) == [f"{NAME}.yaml:{line + 2}: {expected}"]


@pytest.mark.parametrize(("angle", "refused"), [(14.0, True), (16.0, False), (-14.0, True), (-16.0, False)])
def test_near_dead_centre_is_refused_without_crossing_it(tmp_path: Path, angle: float, refused: bool) -> None:
    """The swing ends at 12 deg either way: sin 2 deg = 0.035 is below the least of 0.05, sin 4 deg = 0.070 above it."""
    lines = problem_lines(tmp_path, edited(("direction: -90 deg", f"direction: {angle:g} deg"))[0])
    end = "12.0 deg" if angle > 0.0 else "-12.0 deg"
    assert [f"dead centre inside the swing, at {end}" in line for line in lines] == [True] * refused
