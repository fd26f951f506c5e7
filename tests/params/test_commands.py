"""`params.check` and `params.new` as they are run."""

from __future__ import annotations

import re
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest
from pydantic import BaseModel

from params import check, new
from params.files.commented import commented
from params.files.messages import model_in
from params.files.read import read_arm
from params.files.yamlfile import read_yaml
from params.steps.caution import CAUTION
from tests.arms import ARMS
from tests.params.edits import VALID, edited

NAMES = ["", "Upper", "a/b", "../up", "a b", "1st", "x" * 41, "a.yaml", "-x", "ä"]


def test_check_prints_ok_sizes_and_caution(capsys: pytest.CaptureFixture[str]) -> None:
    assert check.main([str(path) for path in sorted(ARMS.glob("*.yaml"))]) == 0
    printed = capsys.readouterr()
    assert printed.err == ""
    assert printed.out.count(": ok\n") == 3
    assert printed.out.count("overall length, boss to boss") == 3
    assert printed.out.endswith(CAUTION + "\n")
    first, _, rest = printed.out.partition("sluice-crank.yaml: ok")
    assert " in\n" not in first  # SI arms in mm and kN, the US arm in inches and kip
    assert " mm" not in rest
    assert " kip\n" in rest


def test_check_prints_every_problem_and_fails(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "bench-lever.yaml"
    path.write_text(edited(("bore: 40 mm", "bore: 40"), ("kind: i\n", "kind: j\n"))[0])
    filed = tmp_path / "filed" / "arm.yaml"
    assert check.main([str(path), "--file-as", str(filed)]) == 1
    printed = capsys.readouterr()
    assert len(printed.err.strip().splitlines()) == 2
    assert not filed.exists()
    assert CAUTION in printed.out


def test_check_goes_on_after_a_bad_file(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert check.main([str(tmp_path / "none.yaml"), str(ARMS / "bench-lever.yaml")]) == 1
    printed = capsys.readouterr()
    assert "none.yaml:1: file: cannot be read: no such file, check the path" in printed.err
    assert "bench-lever.yaml: ok" in printed.out


def test_check_files_the_same_bytes(tmp_path: Path) -> None:
    filed = tmp_path / "results" / "arm.yaml"
    assert check.main([str(ARMS / "bench-lever.yaml"), "--file-as", str(filed)]) == 0
    assert filed.read_bytes() == (ARMS / "bench-lever.yaml").read_bytes()
    assert read_arm(filed) == read_arm(ARMS / "bench-lever.yaml")


def test_new_writes_a_file_that_reads_well(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert new.main(["my-arm"], tmp_path) == 0
    arm = read_arm(tmp_path / "my-arm.yaml")
    assert arm.name == "my-arm"
    assert arm.geometry == read_arm(ARMS / "bench-lever.yaml").geometry
    assert "next: ./with-env python -m params.check" in capsys.readouterr().out


def test_new_never_writes_over_a_file(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "my-arm.yaml"
    path.write_text("mine")
    assert new.main(["my-arm"], tmp_path) == 1
    assert path.read_text() == "mine"
    assert "exists already, nothing was written, choose another name" in capsys.readouterr().err


@pytest.mark.parametrize("name", NAMES)
def test_new_refuses_names(tmp_path: Path, name: str) -> None:
    folder = tmp_path / "arms"
    folder.mkdir()
    with pytest.raises(ValueError, match="is not a name for an arm"):
        new.write_new(name, folder)
    assert [path.name for path in tmp_path.rglob("*")] == ["arms"]


def test_comments_written_anew_keep_the_data(tmp_path: Path) -> None:
    path = tmp_path / "bench-lever.yaml"
    bare = [line for line in VALID.splitlines() if not line.lstrip().startswith("#")]
    path.write_text("# My own head.\n" + "\n".join(bare) + "\n")
    data = read_yaml(path).data
    assert new.main(["--comments", str(path)]) == 0
    assert read_yaml(path).data == data
    assert path.read_text().startswith("# My own head.\n# Every quantity is text with its unit")
    once = path.read_text()
    assert new.main(["--comments", str(path)]) == 0
    assert path.read_text() == once


@pytest.mark.parametrize(
    "text",
    [
        "a: b",
        "# x",
        "12",
        "1e3",
        "true",
        "~",
        "",
        "- x",
        "a\nb",
        'say "so"',
        "back\\slash",
        " x ",
        "no",
        "[x]",
        "x" * 300,
        "well-kept # " * 20 + "end",
    ],
)
def test_any_text_survives_writing_and_reading(tmp_path: Path, text: str) -> None:
    arm = read_yaml(ARMS / "bench-lever.yaml").data | {"description": text}
    path = tmp_path / "bench-lever.yaml"
    path.write_text(commented(arm, new.Arm, "head"))
    assert read_yaml(path).data["description"] == text


def test_run_as_commands(tmp_path: Path) -> None:
    command = [sys.executable, "-m", "params.check", str(tmp_path / "none.yaml")]
    run = subprocess.run(command, capture_output=True, text=True, check=False)
    assert run.returncode == 1
    assert "Traceback" not in run.stderr


def test_a_starter_has_the_usual_mesh(tmp_path: Path) -> None:
    """The demo's coarse one would follow an arm for years; the usual figures are those that the schema tells."""
    mesh = read_arm(new.write_new("fresh", tmp_path)).mesh
    assert (mesh.per_quarter_bore, mesh.growth, mesh.peak_change, mesh.levels) == (8, 1.5, 0.03, 4)
    assert read_arm(tmp_path / "fresh.yaml").sweep.confirm == 6


def keys_of(model: type[BaseModel]) -> Iterator[str]:
    """Every key of a schema and of the records in it."""
    for key, field in model.model_fields.items():
        yield key
        if inner := model_in(field.annotation):
            yield from keys_of(inner)


def test_a_starter_shows_every_key_with_its_meaning() -> None:
    lines = new.starter("fresh").splitlines()
    for key in set(keys_of(new.Arm)):
        own = [number for number, line in enumerate(lines) if re.match(rf" *(?:# )?{key}:", line)]
        explained = [line for line in lines if re.match(rf" *# +{key}: \S", line)]
        assert explained or any(lines[number - 1].lstrip().startswith("# ") for number in own), key


def test_a_section_that_is_left_out_serves_once_its_signs_are_taken_away(tmp_path: Path) -> None:
    """The section `drawing`, which the smallest demo has not: with the # before its keys removed and a value put in."""
    text = new.starter("fresh")
    start = text.index("# drawing:\n")
    head, section = text[:start], text[start:]
    section = section.replace("# drawing:", "drawing:").replace("  # owner:", "  owner: Me (invented)")
    path = tmp_path / "fresh.yaml"
    path.write_text(head + section)
    assert read_arm(path).drawing.owner == "Me (invented)"
