"""Steps on missing, empty, cut-off or foreign files: one line that names the file, exit 1, no traceback."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

from analysis.tables import read_csv, read_json
from params.plainly import plainly

HERE = Path(__file__).resolve().parents[2]
STEPS = ("analysis.fits", "analysis.steels", "analysis.making.decision")


@pytest.mark.parametrize("step", STEPS)
@pytest.mark.parametrize("given", [True, False], ids=["empty folder", "no argument"])
def test_a_step_without_its_files_ends_in_one_line(step: str, given: bool, tmp_path: Path) -> None:
    arguments = [str(tmp_path)] if given else []
    ran = subprocess.run(
        [sys.executable, "-m", step, *arguments], cwd=HERE, capture_output=True, text=True, check=False
    )
    assert ran.returncode == 1
    assert len(ran.stderr.splitlines()) == 1, ran.stderr
    assert (str(tmp_path) if given else "argument") in ran.stderr


@pytest.mark.parametrize(
    ("text", "told"),
    [(b"", "is empty"), (b"a,b\n1\n", "cells"), (b"a,b\n1,2,3\n", "cells"), (b"a\n\xff\n", "is no table")],
)
def test_a_broken_table_is_named(text: bytes, told: str, tmp_path: Path) -> None:
    path = tmp_path / "life.csv"
    path.write_bytes(text)
    with pytest.raises(ValueError, match=told) as error:
        read_csv(path)
    assert str(path) in str(error.value)


@pytest.mark.parametrize("text", ["", '{"a": 1', "[" * 100_000])
def test_a_broken_json_file_is_named(text: str, tmp_path: Path) -> None:
    path = tmp_path / "hand.json"
    path.write_text(text)
    with pytest.raises(ValueError, match="no whole JSON") as error:
        read_json(path)
    assert str(path) in str(error.value)


def test_a_missing_column_is_told_with_its_place(capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit) as left, plainly():
        {"margin": "1"}["years"]
    assert left.value.code == 1
    told = capsys.readouterr().err
    assert "has no 'years'" in told
    assert "test_plainly.py:" in told
