"""Joints where stress and fatigue allow, cuts for the least time, and one clear line for a part of which no split fits the cell."""

from __future__ import annotations

import itertools
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from analysis.hand.evaluate import evaluate
from analysis.making.pieces import cutting
from analysis.making.pieces import table as pieces
from analysis.making.pieces.deposition import on_cells, work
from analysis.making.pieces.envelope import Box, box_of, circle, stance
from analysis.making.pieces.joints import PARTIAL, damage, joint_curve, joints
from analysis.making.pieces.split import (
    MOST,
    SURE,
    blank,
    choices,
    longest,
    masses,
    split,
    why_not,
)
from analysis.tables.files import read_csv, read_json
from geometry import pieces as solids
from params.files.read import read_material
from params.schema.bores import History
from params.schema.route import Route
from tests.arms import ARMS, changed, demo, raised_and_lowered
from tests.making.files import PARAMS
from tests.making.files import demo as demo_route

POUND = 0.45359237  # kg, exact


def cell_of(route: Route, **fields: object) -> Route:
    """The route with its cell or limits changed."""
    limits = {name: fields.pop(name) for name in ("largest_mass",) if name in fields}
    assert route.deposition is not None
    return route.model_copy(
        update={
            "deposition": route.deposition.model_copy(update=fields),
            "limits": route.limits.model_copy(update=limits),
        }
    )


@pytest.fixture(scope="module")
def found():
    """The demo arm as written, its joints and its blank by the deposited route."""
    arm, route = demo("linkspan-rocker"), demo_route("deposited")
    material = read_material(arm.material)
    at = joints(arm, material, route)
    return arm, route, material, at, blank(arm, route, material.density, at)


def used(at):
    return tuple(one.stress[one.allowed] for one in at)


def test_joint_stress_is_that_of_the_member_check(found) -> None:
    """The greatest share over all stations is the combined-stress check's, over the joint factor of 0.9; so at the hub edge."""
    arm, _, material, at, _ = found
    for one in at:
        (check,) = (
            row
            for row in evaluate(arm, material).checked
            if row.clause.check == "combined stress" and row.place == f"{one.arm} arm"
        )
        assert one.stress.max() == pytest.approx(check.used.max() / 0.9, rel=1e-6)
        assert np.argmax(one.stress) == 0


def test_joint_factor_and_blends_bound_the_stations(found) -> None:
    arm, route, material, at, _ = found
    weak = route.model_copy(update={"factors": route.factors.model_copy(update={"joint": 0.45})})
    for one, halved in zip(at, joints(arm, material, weak), strict=True):
        assert halved.stress == pytest.approx(2.0 * one.stress, rel=1e-12)
        kept = one.s[one.allowed]
        assert (
            kept.min() >= one.s[0] + 120.0 - 1e-9 and kept.max() <= one.s[-1] - 120.0 + 1e-9
        )  # blend radius
        assert not np.any(halved.allowed & (halved.stress > 1.0))


def test_damage_of_a_joint_in_closed_form() -> None:
    """Category 90, 40 mm thick: (25/40)^0.2, partial factor 1.35 (EN 1993-1-9:2005 Tables 3.1 and 8.3); 5,000 cycles a year of
    100 MPa: N = 2e6 (S/100)^3 with S = 90 x 0.9103 / 1.35 = 60.69 MPa, so 447,000 cycles."""
    arm = changed(raised_and_lowered(demo("bench-lever")), geometry__section__flange_thickness=40.0)
    curve = joint_curve(arm, read_material("a572-50"), demo_route("deposited"))
    assert curve is not None and PARTIAL == 1.35
    stress = np.zeros((8, len(arm.load_cases) + 2, 2))  # raise and lower at their least behind the cases
    stress[3, list(arm.load_cases).index("raise"), 0] = 100.0
    stress[3, list(arm.load_cases).index("raise"), 1] = (
        40.0  # below the limit 0.737 x 60.69 = 44.7 MPa: no damage
    )
    strength = 90.0 * (25.0 / 40.0) ** 0.2 / 1.35
    yearly = damage(arm, stress, curve)
    assert yearly[0] == pytest.approx(5000.0 / (2e6 * (strength / 100.0) ** 3), rel=1e-3)
    assert yearly[1] == 0.0
    # A measured history 0, 1, 0 as often as the pair doubles the damage; a range over 1.5 fy = 517.5 MPa has no life (8(1)).
    log = History(
        title="invented", from_case="lower", to_case="raise", values=(0.0, 1.0, 0.0), times_per_year=5000.0
    )
    assert damage(changed(arm, bores__histories=(log,)), stress, curve)[0] == pytest.approx(
        2.0 * yearly[0], rel=1e-9
    )
    assert np.isinf(damage(arm, 6.0 * stress, curve)[0])
    # Alike at their most, and raise falls to nothing over the swing: the pair's range is 100 MPa still.
    stress[3, list(arm.load_cases).index("lower"), 0] = 100.0
    stress[3, -2:, 0] = 0.0, 100.0
    assert damage(arm, stress, curve)[0] == pytest.approx(yearly[0], rel=1e-9)


def test_without_a_class_only_stress_counts() -> None:
    arm, route = demo("bench-lever"), demo_route("deposited")
    bare = route.model_copy(update={"welds": ()})
    for one in joints(arm, read_material(arm.material), bare):
        assert np.isnan(one.fatigue).all()
        assert one.allowed.tolist() == (one.clear & (one.stress <= 1.0)).tolist()


def test_the_demo_splits_within_reach_and_mass(found) -> None:
    _, route, _, at, given_blank = found
    made = split(given_blank, route, used(at))
    assert made is not None
    assert stance(given_blank.hub((None, None)), route.deposition) is None  # the whole part is out of reach
    heavy = masses(given_blank, made.cuts)
    assert sum(heavy) == pytest.approx(given_blank.total, rel=1e-12)
    for box, mass in zip(made.boxes, heavy, strict=True):
        assert stance(box, route.deposition) is not None and SURE * mass <= route.limits.largest_mass


def test_no_split_with_as_many_joints_is_quicker(found) -> None:
    """Every pair of single cuts by hand, pieces on two cells by trying every share."""
    _, route, _, at, given_blank = found
    made = split(given_blank, route, used(at))
    assert made is not None and [len(cuts) for cuts in made.cuts] == [1, 1]
    per_kg = work(route.deposition, 1.0).days
    least = np.inf
    for a, b in itertools.product(range(len(given_blank.stations[0])), range(len(given_blank.stations[1]))):
        outer = given_blank.outside(0, a), given_blank.outside(1, b)
        weights = [given_blank.total - sum(outer), *outer]
        ends = [
            max(sum(w for w, cell in zip(weights, way, strict=True) if cell == one) for one in (0, 1))
            for way in itertools.product((0, 1), repeat=3)
        ]
        least = min(least, per_kg * min(ends))
    assert (
        least - 1e-9 <= made.days <= least + 0.25
    )  # days: no cell's plan is told in less than a shift of six hours


def test_a_joint_must_win_its_day(found) -> None:
    """One cell: cutting further wins nothing, so there are as few joints as the reach asks; many cells: the lightest hub."""
    _, route, _, at, given_blank = found
    alone = split(given_blank, cell_of(route, cells=1), used(at))
    many = split(given_blank, cell_of(route, cells=5), used(at))
    assert alone is not None and many is not None
    fewest = min(len(a) + len(b) for a, b in choices(given_blank, route, route.deposition))
    assert sum(map(len, alone.cuts)) == fewest == 1
    assert (
        sum(map(len, many.cuts)) == 2 and many.days < alone.days - 1.0
    )  # a joint takes a day to make and examine


@given(st.lists(st.integers(1, 30), min_size=1, max_size=2 * MOST + 1), st.integers(1, 4))
def test_longest_cell_time_is_that_of_the_best_assignment(days: list[int], cells: int) -> None:
    found_days = longest(np.array([days], dtype=float), cells)[0]
    assert found_days == pytest.approx(on_cells([float(day) for day in days], cells).days, abs=1e-9)


def test_boxes_and_stances_of_plain_figures() -> None:
    """A rectangle 400 x 300 turned by 30 degrees has the diagonal 500; upright it stands on 300 x 100."""
    c, s = np.cos(np.pi / 6.0), np.sin(np.pi / 6.0)
    corners = np.array([[0.0, 0.0], [400.0, 0.0], [400.0, 300.0], [0.0, 300.0]]) @ np.array([[c, s], [-s, c]])
    box = box_of(corners, 100.0)
    assert (box.length, box.depth, box.turn) == pytest.approx((400.0, 300.0, np.pi / 6.0), rel=1e-9)
    cell = demo_route("deposited").deposition.model_copy(
        update={"reach_radius": 250.1, "reach_height": 450.0}
    )
    assert stance(box, cell).up == "flat"
    assert stance(box, cell.model_copy(update={"reach_radius": 210.0})).up == "on edge"
    assert stance(box, cell.model_copy(update={"reach_radius": 160.0})).up == "upright"
    assert stance(box, cell.model_copy(update={"reach_radius": 150.0})) is None
    assert np.hypot(*circle(np.zeros(2), 2.0).T).min() >= 1.0


@pytest.mark.parametrize(
    ("old", "new", "words"),
    [
        (
            "largest_mass: 2500 kg",
            "largest_mass: 1 kg",
            ":16: limits.largest_mass: the hub's piece, at least ",
        ),
        (
            "reach_radius: 1.6 m",
            "reach_radius: 20 mm",
            ": deposition.reach_radius: the hub's piece, at least ",
        ),
    ],
)
def test_a_part_that_fits_no_split_is_one_line(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], old: str, new: str, words: str
) -> None:
    source, arm = tmp_path / "deposited.yaml", ARMS / "bench-lever.yaml"
    text = (PARAMS / "routes" / "deposited.yaml").read_text()
    assert old in text
    source.write_text(text.replace(old, new))
    assert cutting.main([str(arm), str(source), str(tmp_path)]) == 0
    told = capsys.readouterr().err.splitlines()
    assert len(told) == 1 and told[0].startswith(f"{source}:")
    assert (
        words in told[0]
        and "cannot be split into pieces that fit the cell" in told[0]
        and "choose a larger cell" in told[0]
    )
    plan = read_json(tmp_path / "plan.json")
    assert plan["pieces"] == [] and plan["reason"].startswith(
        "cannot be split into pieces that fit the cell: the hub's piece"
    )


def small_cell(folder: Path) -> Path:
    """The deposited route with a cell that cannot hold the bench lever whole, and stock in proportion."""
    text = (PARAMS / "routes" / "deposited.yaml").read_text()
    for old, new in (
        ("reach_radius: 1.6 m", "reach_radius: 150 mm"),
        ("reach_height: 1.8 m", "reach_height: 150 mm"),
        ("machining: 5 mm", "machining: 1.5 mm"),
        ("near_net: 2 mm", "near_net: 0.6 mm"),
        ("bead_width: 8 mm", "bead_width: 3 mm"),
    ):
        assert old in text
        text = text.replace(old, new)
    (folder / "deposited.yaml").write_text(text)
    return folder / "deposited.yaml"


def test_from_the_plan_to_the_table(tmp_path: Path) -> None:
    """Pieces cut from the solid: masses near the closed form, within the cell, on the cells by weight, wire by the yield."""
    route, place = small_cell(tmp_path), tmp_path / "bench-lever" / "making" / "deposited"
    for folder in (place / "best", tmp_path / "bench-lever" / "as-written"):
        folder.mkdir(parents=True)
        (folder / "arm.yaml").write_bytes((ARMS / "bench-lever.yaml").read_bytes())
    (place / "best.csv").write_text("route,id\ndeposited,d000000\n")
    assert cutting.main([str(place / "best" / "arm.yaml"), str(route), str(place)]) == 0
    assert solids.main(place / "best" / "arm.yaml", route, place / "plan.json", place / "pieces") == 0
    pieces.main(tmp_path / "bench-lever", [route])
    plan, rows = read_json(place / "plan.json"), read_csv(tmp_path / "bench-lever" / "making" / "pieces.csv")
    assert len(plan["cuts"]) >= 1 and len(rows) == len(plan["pieces"]) == len(plan["cuts"]) + 1
    for row, told in zip(rows, plan["pieces"], strict=True):
        mass = float(row["deposit_mass_kg"])
        assert mass == pytest.approx(
            told["estimated_kg"], rel=0.03
        )  # closed form leaves out blends and corners
        assert float(row["needs_radius_mm"]) <= 150.0 and row["note"] == ""
        assert float(row["finished_mass_kg"]) < mass
        assert float(row["wire_mass_kg"]) == pytest.approx(mass / 0.95, rel=1e-5)  # six digits in tables
        assert float(row["days"]) == pytest.approx(mass / 4.05 / 0.667 / 24.0, rel=1e-5)
        assert (place / "pieces" / row["step"]).exists()
    chosen = [row for row in read_csv(place / "joints.csv") if row["chosen"] == "yes"]
    assert len(chosen) == len(plan["cuts"]) and {row["allowed"] for row in chosen} == {"yes"}


def test_common_practice_of_pieces_in_parallel() -> None:
    """4,000 lb takes about four weeks and 2,000 lb about two; in parallel four, not six; common practice, no source."""
    per_kg = work(demo_route("deposited").deposition, 1.0).days
    days = per_kg * POUND * np.array([[4000.0, 2000.0]])
    assert longest(days, 2)[0] == pytest.approx(28.0, rel=0.1)  # "about" is a tenth
    assert longest(days, 1)[0] == pytest.approx(42.0, rel=0.1)


def test_a_box_that_is_too_high_lies_on_its_side() -> None:
    cell = demo_route("deposited").deposition.model_copy(update={"reach_radius": 100.0, "reach_height": 60.0})
    assert stance(Box(0.0, 100.0, 40.0, 90.0), cell).up == "on edge"


def test_words_on_pieces_are_in_the_arms_units() -> None:
    """1 kg is 2.20462 lb, 2,500 kg are 5,511.6 lb, 1.6 m are 62.99 in (exact factors: 0.45359237 kg, 25.4 mm)."""
    arm, route = demo("sluice-crank"), demo_route("deposited")
    material = read_material(arm.material)
    given_blank = blank(arm, route, material.density, joints(arm, material, route))
    light = cell_of(route, largest_mass=1.0)
    _, value, limit = why_not(given_blank, light, light.deposition)
    assert value.endswith(" lb") and limit == "at most 2.20 lb"
    flat = cell_of(route, largest_mass=1e6, reach_radius=25.4, reach_height=254.0)
    _, value, limit = why_not(given_blank, flat, flat.deposition)
    assert value.endswith(" in") and limit == "within a radius of 1.00 in and 10.00 in high"
    told = pieces.misfit(Box(0.0, 1.0, 1.0, 1.0), 3000.0, route, route.deposition, "us")
    assert told == "heavier than the route's largest mass, 5,512 lb"
