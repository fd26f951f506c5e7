"""Steps on missing, empty, cut-off or foreign files: one line that names the file, exit 1, no traceback.

A fault of the project itself is told in one line too, and its trace is kept in the file that the line names.
"""

from __future__ import annotations

import re
import subprocess
import sys
from pathlib import Path

import pytest

from analysis.tables.files import read_csv, read_json, read_row
from params.steps import guard as module
from params.steps.guard import one_line_errors
from params.steps.problems import OutOfRange, Unfit

HERE = Path(__file__).resolve().parents[2]
STEPS = sorted(
    ".".join(path.relative_to(HERE).with_suffix("").parts).removesuffix(".__main__")
    for room in ("analysis", "geometry", "params")
    for path in (HERE / room).rglob("*.py")
    if re.search(r'^if __name__ == "__main__":|^with one_line_errors', path.read_text(), re.MULTILINE)
    and path.name != "start.py"  # loads nothing that it can do without, and runs a step that is in this list
)


def run(step: str, *arguments: str) -> subprocess.CompletedProcess[str]:
    command = [sys.executable, "-m", step, *arguments]
    return subprocess.run(command, cwd=HERE, capture_output=True, text=True, check=False)


@pytest.mark.parametrize("step", ["analysis.bores.table", "analysis.hand", "geometry.solid"])
def test_a_step_without_arguments_says_so_in_one_line(step: str) -> None:
    ran = run(step)
    assert ran.returncode == 2
    expected = f"python -m {step}: the following arguments are required: "
    assert ran.stderr.startswith(expected)
    assert len(ran.stderr.splitlines()) == 1


@pytest.mark.parametrize(
    "step",
    ["analysis.sweep.materials", "analysis.making.decision.decision", "analysis.proof", "analysis.pictures"],
)
def test_a_step_without_its_files_ends_in_one_line(step: str, tmp_path: Path) -> None:
    ran = run(step, str(tmp_path))
    assert ran.returncode == 1
    assert len(ran.stderr.splitlines()) == 1, ran.stderr
    assert str(tmp_path) in ran.stderr


@pytest.mark.parametrize("step", STEPS)
def test_every_step_runs_under_the_guard(step: str) -> None:
    """Read, not run: thirty starts of Python take a minute. What stands below the guard stands under `one_line_errors`."""
    path = HERE.joinpath(*step.split("."))
    text = (path / "__main__.py" if path.is_dir() else path.with_suffix(".py")).read_text()
    below = text[text.index("with one_line_errors():") :] if "with one_line_errors():" in text else ""
    guarded = text.partition('if __name__ == "__main__":\n')[2]
    assert below, f"{step} is not wrapped"
    assert not guarded or guarded.startswith("    with one_line_errors():\n"), (
        f"{step} does work outside of it"
    )


@pytest.mark.parametrize(
    ("text", "message"),
    [(b"", "is empty"), (b"a,b\n1\n", "cells"), (b"a,b\n1,2,3\n", "cells"), (b"a\n\xff\n", "is not a table")],
)
def test_a_broken_table_is_named(text: bytes, message: str, tmp_path: Path) -> None:
    path = tmp_path / "life.csv"
    path.write_bytes(text)
    with pytest.raises(Unfit, match=message) as error:
        read_csv(path)
    assert str(error.value).startswith(str(path))


def test_a_table_with_only_its_heading_is_named_where_rows_are_needed(tmp_path: Path) -> None:
    path = tmp_path / "life.csv"
    path.write_text("arm,margin\n")
    assert read_csv(path) == []
    for read in (lambda: read_csv(path, least=1), lambda: read_row(path)):
        with pytest.raises(Unfit, match="has no rows below its heading; it must have at least 1") as error:
            read()
        assert str(error.value).startswith(str(path))
    path.write_text("arm,margin\nthis,1\nother,2\n")
    with pytest.raises(Unfit, match="has 2 rows; it must have one"):
        read_row(path)


@pytest.mark.parametrize("text", ["", '{"a": 1', "[" * 100_000])
def test_a_broken_json_file_is_named(text: str, tmp_path: Path) -> None:
    path = tmp_path / "hand.json"
    path.write_text(text)
    with pytest.raises(Unfit, match="not a complete JSON") as error:
        read_json(path)
    assert str(error.value).startswith(str(path))


def test_a_missing_column_or_key_is_told_with_its_file(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    table, message = tmp_path / "life.csv", tmp_path / "hand.json"
    table.write_text("margin\n1\n")
    message.write_text('{"cases": {"raise": {}}}')
    for read in (lambda: read_csv(table)[0]["years"], lambda: read_json(message)["cases"]["lower"]):
        with pytest.raises(SystemExit) as left, one_line_errors():
            read()
        assert left.value.code == 1
    lines = capsys.readouterr().err.splitlines()
    assert lines == [f"{table}: has no years; {module.MEND}", f"{message}: has no lower; {module.MEND}"]


def test_a_fault_of_the_project_keeps_its_trace(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(module, "TRACES", tmp_path / "log")
    monkeypatch.setattr(module, "READ", [Path("results/x/life.csv")])
    with pytest.raises(SystemExit) as left, one_line_errors():
        {"margin": "1"}["years"]
    assert left.value.code == 1
    (line,) = capsys.readouterr().err.splitlines()
    assert "has no 'years'" in line
    assert "test_guard.py:" in line
    assert "after reading life.csv)" in line
    (trace,) = (tmp_path / "log").iterdir()
    assert line.endswith(f"with the trace in {trace}")
    assert "Traceback (most recent call last):" in trace.read_text()
    assert '{"margin": "1"}["years"]' in trace.read_text()


def test_whatever_a_library_raises_is_one_line(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(module, "TRACES", tmp_path)
    for error in (
        RuntimeError("kernel\nsays no"),
        MemoryError(),
        StopIteration(),
        AssertionError("x\x1b[2J"),
    ):
        with pytest.raises(SystemExit), one_line_errors():
            raise error
        (line,) = capsys.readouterr().err.splitlines()
        assert line.isprintable()


def test_a_value_beyond_its_formula_asks_for_another_value(capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit), one_line_errors():
        raise OutOfRange("yield strength 345 MPa is outside 689 to 1725 MPa (upper shelf)")
    (line,) = capsys.readouterr().err.splitlines()
    assert line.endswith(
        "yield strength 345 MPa is outside 689 to 1725 MPa (upper shelf); nothing is extrapolated; "
        + module.CHANGE
    )


def test_no_room_for_a_trace_is_told(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "log").write_text("a file where a folder should be")
    monkeypatch.setattr(module, "TRACES", tmp_path / "log")
    with pytest.raises(SystemExit), one_line_errors():
        raise RuntimeError("x")
    assert "with the trace in no file," in capsys.readouterr().err


def test_a_place_that_cannot_be_written_is_told(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit), one_line_errors():
        tmp_path.write_text("a folder is here")
    assert capsys.readouterr().err == f"{tmp_path}: Is a directory; {module.RIGHTS}\n"


def test_a_reader_that_goes_away_is_no_fault() -> None:
    """As in `python -m params.check params/arms/*.yaml | head -1`; the shell's own word for it is enough."""
    command = f"{sys.executable} -u -m params.check params/arms/*.yaml | head -1"
    ran = subprocess.run(["bash", "-c", command], cwd=HERE, capture_output=True, text=True, check=False)
    assert ran.stdout == "params/arms/bench-lever.yaml: ok\n"
    assert ran.stderr == ""
