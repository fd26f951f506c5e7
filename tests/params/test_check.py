"""The check of any file, of what an arm names, and of the examples in params/README.md."""

from __future__ import annotations

import re
import shutil
from pathlib import Path

import pytest

from params import check
from params.files.read import HERE
from params.files.yamlfile import read_yaml
from params.steps.problems import ParameterError

BLOCK = re.compile(r"```yaml\n# params/(?P<folder>\w+)/(?P<name>[\w-]+\.yaml)\n(?P<text>.*?)```", re.DOTALL)
EXAMPLES = [match.groupdict() for match in BLOCK.finditer((HERE / "README.md").read_text())]


@pytest.fixture
def files(tmp_path: Path) -> Path:
    """The folders of parameter files, to be changed."""
    for folder in ("arms", "materials", "routes", "outages"):
        shutil.copytree(HERE / folder, tmp_path / folder)
    return tmp_path


def change(path: Path, old: str, new: str) -> None:
    text = path.read_text()
    assert old in text
    path.write_text(text.replace(old, new, 1))


def problems(path: Path) -> list[str]:
    try:
        check.report(path)
    except ParameterError as error:
        return [line.replace(f"{path.parents[1]}/", "") for line in str(error).splitlines()]
    return []


@pytest.mark.parametrize("folder", ["arms", "materials", "routes", "outages"])
def test_every_file_is_recognised_and_reads_well(folder: str) -> None:
    for path in sorted((HERE / folder).glob("*.yaml")):
        assert check.kind_of(read_yaml(path)) == folder.removesuffix("s")
        assert f"{path}: ok" in check.report(path)


def test_the_page_has_an_example_of_each_kind() -> None:
    assert [example["folder"] for example in EXAMPLES] == ["arms", "materials", "routes", "outages"]


@pytest.mark.parametrize("example", EXAMPLES, ids=lambda example: example["folder"])
def test_examples_of_the_page_pass_the_check(files: Path, example: dict[str, str]) -> None:
    path = files / example["folder"] / example["name"]
    path.write_text(example["text"])
    assert problems(path) == []
    assert f"{path}: ok" in check.report(path)


@pytest.mark.parametrize("text", ["colour: red\n", "- a\n- b\n", "just words\n"])
def test_a_file_of_another_kind_is_refused(files: Path, text: str) -> None:
    path = files / "arms" / "odd.yaml"
    path.write_text(text)
    (line,) = problems(path)
    assert line.startswith("arms/odd.yaml:1: file: ")
    assert "is not an arm, a material, a route or an outage" in line or "is not a group of keys" in line


# What is changed in which file, and what the check of the smallest arm then says.
NAMED = [
    (
        "materials/a572-50.yaml",
        "density: 7850 kg/m^3",
        "",
        "materials/a572-50.yaml:2: density: is missing, add density",
    ),
    (
        "materials/a572-50.yaml",
        "yield_strength: 345 MPa",
        "yield_strength: 945 MPa",
        "materials/a572-50.yaml:6: tensile_strength: 450 MPa, is below the yield strength, at least 945 MPa, check both",
    ),
    ("routes/cast.yaml", "factors:", "factor:", "is not a known key"),
    ("routes/welded.yaml", "after: [cut]", "after: [cutt]", "cutt, is not a task of this file"),
    (
        "outages/late-autumn.yaml",
        "closes: 2026-12-06",
        "closes: 2026-10-06",
        "outages/late-autumn.yaml:6: closes: 2026-10-06, closes before it opens, on 2026-11-02 or later, check both dates",
    ),
    (
        "arms/bench-lever.yaml",
        'found: "2026-02-02"',
        'found: "2026-11-02"',
        "found_cracks.0.found: 2026-11-02, is not before the outage, before 2026-11-02, "
        "when params/outages/late-autumn.yaml opens, "
        "check the day, or name the next outage",
    ),
    (
        "arms/bench-lever.yaml",
        "# drawing:",
        'drawing: {issued: "2026-06-23"}',
        "drawing.issued: 2026-06-23, is after the order, on 2026-06-22 or before, when params/outages/late-autumn.yaml"
        " has the order placed, issue it earlier, or order later",
    ),
    (
        "arms/bench-lever.yaml",
        "rod: 25 mm",
        "rod: 45 mm",
        "drive.rod: 45.0 mm, is not smaller than the cylinder's bore",
    ),
    (
        "arms/bench-lever.yaml",
        "tensile_strength: 700 MPa",
        "tensile_strength: 400 MPa",
        "geometry.pivot.pin.tensile_strength: 400.0 MPa, is below the yield strength",
    ),
    (
        "arms/bench-lever.yaml",
        "outage: late-autumn",
        "outage: late-autum",
        "outage: late-autum, is not the name of an outage file, one of early-summer, late-autumn, write one of them or add a file",
    ),
    (
        "arms/bench-lever.yaml",
        "routes: [cast,",
        "routes: [casted,",
        "routes: casted, is not the name of a route file, one of cast, deposited, welded, write one of them or add a file",
    ),
    (
        "arms/bench-lever.yaml",
        "routes: [cast, deposited,",
        "routes: [cast, cast,",
        "routes: cast, is listed 2 times",
    ),
]


@pytest.mark.parametrize(("name", "old", "new", "expected"), NAMED, ids=[row[3][:50] for row in NAMED])
def test_what_a_run_would_stop_at_is_found(files: Path, name: str, old: str, new: str, expected: str) -> None:
    change(files / name, old, new)
    lines = problems(files / "arms" / "bench-lever.yaml")
    assert any(expected in line for line in lines), lines
    assert len(lines) == len(set(lines))


def test_a_crack_found_the_day_before_the_outage_is_no_fault(files: Path) -> None:
    change(files / "arms" / "bench-lever.yaml", 'found: "2026-02-02"', 'found: "2026-11-01"')
    assert problems(files / "arms" / "bench-lever.yaml") == []


def test_the_old_arms_material_is_read(files: Path) -> None:
    (files / "materials" / "old-steel.yaml").write_text("name: old-steel\nform: cast\nsource: x\n")
    change(files / "arms" / "linkspan-rocker.yaml", "    material: a27-65-35", "    material: old-steel")
    change(
        files / "arms" / "linkspan-rocker.yaml", "routes: [cast, deposited, welded]\n", "routes: [welded]\n"
    )
    lines = problems(files / "arms" / "linkspan-rocker.yaml")
    assert any("materials/old-steel.yaml:1: yield_strength: is missing" in line for line in lines)


def test_only_the_routes_that_an_arm_names_are_read(files: Path) -> None:
    change(files / "arms" / "bench-lever.yaml", "routes: [cast, deposited, welded]", "routes: [welded]")
    change(files / "routes" / "cast.yaml", "factors:", "factor:")
    assert problems(files / "arms" / "bench-lever.yaml") == []
    change(files / "arms" / "bench-lever.yaml", "routes: [welded]\n", "")
    assert problems(files / "arms" / "bench-lever.yaml") != []


def test_a_pin_that_no_check_of_its_code_knows(files: Path) -> None:
    """AISC 360 D5.2: a bore at most 1 mm (1/32 in) larger than its pin. 6.12 in - 5.99 in = 3.3 mm."""
    path = files / "arms" / "sluice-crank.yaml"
    change(path, "    bore: 6 in\n", "    bore: 6.12 in\n")
    (line,) = [line for line in problems(path) if "input.pin" in line]
    assert "diameter: 5.99 in, is 0.13 in smaller than the bore of 6.12 in" in line
    assert "at least 6.08 in: 0.04 in less" in line  # 6.12 in less 0.0394 in
    assert "or write pin_code bth1 or en1993, which judge a loose pin" in line


@pytest.mark.parametrize(
    ("arm", "old", "new", "expected"),
    [
        ("sluice-crank", "bore: 13 in", "bore: 13", 'write the unit after the number such as "13 in"'),
        ("sluice-crank", "bore: 13 in", "bore: wide", 'write it such as "1.5 in"'),
        ("sluice-crank", "bore: 13 in", "bore: 13 inch", 'write it such as "13 in"'),
        ("sluice-crank", "bore: 13 in", "bore: 1300 in", "is out of range, between 0.0394 in and 787 in"),
        ("sluice-crank", "expansion: 6.5 uin/in/F", "expansion: 6.5", 'write it such as "6.5 uin/in/F"'),
        ("bench-lever", "force: 9 kN", "force: 115 kips", 'write it such as "115 kip"'),
        ("bench-lever", "force: 9 kN", "force: 115", 'write the unit after the number such as "115 kN"'),
        ("bench-lever", "bore: 40 mm", "bore: 1300 in", "is out of range, between 0.0394 in and 787 in"),
        ("bench-lever", "bore: 40 mm", "bore: 130 m", "is out of range, between 1 mm and 20 m"),
    ],
)
def test_advice_is_in_the_units_of_the_file_or_of_the_value(
    files: Path, arm: str, old: str, new: str, expected: str
) -> None:
    path = files / "arms" / f"{arm}.yaml"
    change(path, old, new)
    (line,) = problems(path)
    assert expected in line


def test_a_load_in_kips_of_a_us_arm(files: Path) -> None:
    path = files / "arms" / "sluice-crank.yaml"
    text = path.read_text()
    force = re.search(r"force: [\d.]+ kip\b", text)
    assert force
    path.write_text(text.replace(force[0], "force: 115 kips", 1))
    (line,) = problems(path)
    assert line.endswith(
        'force: 115 kips, has the unit kips, a force is in one of N, kN, MN, lbf, kip, write it such as "115 kip"'
    )
