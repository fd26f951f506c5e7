"""Every command that the Snakefile calls answers `--help`, and refuses wrong arguments in one line."""

from __future__ import annotations

import re
import runpy
import sys
from pathlib import Path

import pytest

from params.steps.arguments import arguments

HERE = Path(__file__).resolve().parents[2]
RULES = "\n".join(
    path.read_text() for path in [HERE / "Snakefile", *HERE.rglob("*.smk")] if ".venv" not in path.parts
)
STEPS = sorted(set(re.findall(r"\bpython -m ((?:params|geometry|analysis)\.[\w.]+)", RULES)))


def run(step: str, monkeypatch: pytest.MonkeyPatch, *given: str) -> int:
    """Exit code of `python -m STEP ARGUMENT...`, in this process: a start of each takes a second or two."""
    monkeypatch.setattr(sys, "argv", [step, *given])
    for name in (step, f"{step}.__main__"):  # a module that is loaded already would make Python warn
        if not hasattr(sys.modules.get(name), "__path__"):  # a package stays: its modules hang on it
            monkeypatch.delitem(sys.modules, name, raising=False)
    with pytest.raises(SystemExit) as end:
        runpy.run_module(step, run_name="__main__", alter_sys=True)
    return int(end.value.code or 0)


def test_the_snakefile_calls_steps() -> None:
    assert len(STEPS) > 40


@pytest.mark.parametrize("step", STEPS)
def test_help(step: str, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(step, monkeypatch, "--help") == 0
    printed = capsys.readouterr()
    assert printed.out.startswith("usage: ")
    assert "-h, --help" in printed.out
    assert printed.err == ""


@pytest.mark.parametrize("step", STEPS)
def test_wrong_arguments_are_refused_in_one_line(
    step: str, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run(step, monkeypatch, "--no-such-option") == 2
    (line,) = capsys.readouterr().err.splitlines()
    assert line.endswith("; --help shows what it takes")


@pytest.mark.parametrize(
    ("given", "expected"),
    [
        (["next", "a", "b", "c"], ["next", Path("a"), ["b", "c"]]),
        (["judge", "a"], ["judge", Path("a"), []]),
    ],
)
def test_arguments_come_in_order(
    given: list[str], expected: list[object], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(sys, "argv", ["step", *given])
    assert arguments("A step.", command=("next", "judge"), folder=Path, names=[str]) == expected


@pytest.mark.parametrize("given", [[], ["next"], ["other", "a"], ["next", "a", "--names"]])
def test_what_is_wrong_ends_with_2(
    given: list[str], monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr(sys, "argv", ["step", *given])
    with pytest.raises(SystemExit) as end:
        arguments("A step.", command=("next", "judge"), folder=Path, names=[str])
    assert end.value.code == 2
    assert len(capsys.readouterr().err.splitlines()) == 1
