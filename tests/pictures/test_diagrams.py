"""Diagrams: same tables give the same bytes, and what they print is what the tables say."""

import re
import shutil

import pytest

from analysis.hand.evaluate import evaluate
from analysis.hand.files import write
from analysis.pictures.diagrams import digits, free_body, section_forces
from analysis.tables.files import read_csv, read_json, write_json
from params.files.read import read_material
from params.steps.caution import CAUTION
from tests.arms import ARMS, demo

NAMES = ("linkspan-rocker", "sluice-crank")


@pytest.fixture(scope="module", params=NAMES)
def folder(request, tmp_path_factory):
    arm = demo(request.param)
    result = tmp_path_factory.mktemp(request.param)
    write(evaluate(arm, read_material(arm.material)), result)
    shutil.copy(ARMS / f"{request.param}.yaml", result / "arm.yaml")
    return result


def words(path):
    """Text of an SVG whose text is kept as text, a sentence over two lines as one."""
    return " ".join(re.sub(r"<[^>]*>", "\n", path.read_text()).split())


@pytest.mark.parametrize("draw", [free_body, section_forces])
def test_same_tables_same_bytes(folder, draw):
    for name in ("one.svg", "two.svg"):
        draw(folder, folder / name)
    one = (folder / "one.svg").read_bytes()
    assert one == (folder / "two.svg").read_bytes()
    assert b"<dc:date>" not in one
    assert CAUTION in words(folder / "one.svg")


def test_free_body_shows_every_force_with_its_value(folder):
    hand = read_json(folder / "hand.json")
    hand["drawn_case"] = "raise"
    write_json(folder / "hand.json", hand)
    free_body(folder, folder / "free.svg")
    text = words(folder / "free.svg")
    arm = demo(hand_name(folder))
    case = hand["cases"]["raise"]
    for bore, name in (("input_bore", "input pin"), ("output_bore", "output pin"), ("pivot_bore", "pivot")):
        assert f"{name} {digits(case['pin_force'][bore], 'force', arm.units)}" in text
    assert "weight" in text and "pivot friction" in text and "clockwise" in text


def hand_name(folder):
    return re.search(r"^name: (\S+)", (folder / "arm.yaml").read_text(), re.MULTILINE).group(1)


def test_section_forces_show_both_ends_of_the_drawn_case(folder):
    section_forces(folder, folder / "forces.svg")
    text = words(folder / "forces.svg").replace("\u2212", "-")
    case = read_json(folder / "hand.json")["drawn_case"]
    rows = [
        row
        for row in read_csv(folder / "stations.csv")
        if row["load_case"] == case and row["arm"] == "output"
    ]
    column = next(name for name in rows[0] if name.startswith("M3_"))
    for row in (rows[0], rows[-1]):
        assert f"{float(row[column]):,.4g}" in text


def test_numbers_have_four_digits():
    assert digits(123456.0, "force", "si") == "123.5"
    assert digits(44482216.15, "force", "us") == "10,000"  # ten thousand kip
    assert digits(0.0, "force", "si") == "0"
