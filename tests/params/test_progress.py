"""What the terminal shows of a run: one line a step, the end of a failed step's log, the answers at the end.

Whole runs: tests/test_terminal.py.
"""

from __future__ import annotations

import logging
import re
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import pytest

from params.steps.progress import ANSWERS, SHOWN, TERMINAL, Brief, brief

TOP = Path(__file__).resolve().parents[2]


def event(name: str, level: int = logging.INFO, **fields: Any) -> logging.LogRecord:
    record = logging.LogRecord("run", level, "", 0, "much that nobody reads", (), None)
    record.__dict__.update(fields | {"event": SimpleNamespace(name=name)})
    return record


def job(number: int, rule: str, **fields: Any) -> logging.LogRecord:
    told = {"jobid": number, "rule_name": rule, "wildcards": {"arm": "tiny"}, "output": [], "log": []}
    return event("JOB_INFO", **told | fields)


@pytest.fixture
def lines() -> list[str]:
    return []


@pytest.fixture
def terminal(lines: list[str]) -> Brief:
    return Brief(write=lines.append)


def test_one_line_a_step_with_what_it_is_for(terminal: Brief, lines: list[str]) -> None:
    """Two steps at a time: the second to begin ends first."""
    for record in (
        job(1, "draw_view", wildcards={"arm": "tiny", "name": "stress"}),
        job(2, "prove"),
        event("JOB_FINISHED", job_id=2),
        event("PROGRESS", done=9, total=120),
        event("JOB_FINISHED", job_id=1),
        event("PROGRESS", done=10, total=120),
    ):
        assert not terminal.filter(record)
    assert len(lines) == 2
    assert re.fullmatch(r"  9 of 120  prove +\d+\.\d s", lines[0])
    assert re.fullmatch(r" 10 of 120  draw view stress +\d+\.\d s", lines[1])


def test_the_table_of_rules_is_not_shown(terminal: Brief, lines: list[str]) -> None:
    assert not terminal.filter(event("RUN_INFO"))
    assert lines == []


def test_once_steps_run_only_their_lines_are_shown(terminal: Brief, lines: list[str]) -> None:
    terminal.filter(job(1, "prove"))
    assert not terminal.filter(event("SHELLCMD"))
    assert lines == []


def failure(number: int, *logs: Path) -> logging.LogRecord:
    return event(
        "JOB_ERROR", logging.ERROR, jobid=number, rule_name="prove", log=[str(path) for path in logs]
    )


def test_warnings_pass_until_a_step_has_failed(terminal: Brief, lines: list[str]) -> None:
    """After that the workflow's own account of it would stand below the reason."""
    assert terminal.filter(event("", logging.WARNING))
    terminal.filter(job(1, "prove"))
    assert terminal.filter(event("", logging.WARNING))
    terminal.filter(failure(1))
    assert not terminal.filter(event("", logging.WARNING))
    assert lines == ["failed: prove\n  it left no reason in its log"]


def test_a_failure_shows_the_last_lines_of_its_log_once(
    terminal: Brief, lines: list[str], tmp_path: Path
) -> None:
    log = tmp_path / "log.txt"
    log.write_text("".join(f"line {number}\n\n" for number in range(1, 31)))
    terminal.filter(job(1, "prove"))
    for _ in range(2):  # the workflow says it twice
        terminal.filter(failure(1, log, tmp_path / "none"))
    (told,) = lines
    first, *rest = told.splitlines()
    assert first == "failed: prove"
    assert rest == [f"  line {number}" for number in range(31 - SHOWN, 31)]


def test_a_run_that_did_not_end_says_how_far_it_came(terminal: Brief, lines: list[str]) -> None:
    terminal.unfinished()
    for record in (job(1, "hand"), event("JOB_FINISHED", job_id=1), event("PROGRESS", done=1, total=7)):
        terminal.filter(record)
    terminal.unfinished()
    assert lines[0] == "not finished: no step done; the same command goes on from there"
    assert lines[2] == "not finished: 1 of 7 steps done; the same command goes on from there"


def test_the_answers_come_at_the_end_in_their_order(
    terminal: Brief, lines: list[str], tmp_path: Path
) -> None:
    """The text of a step that answers: its output; its log where the output is no text."""
    table, log = tmp_path / "overview.txt", tmp_path / "package.txt"
    table.write_text("the sizes\n\n")
    log.write_text("the package\n")
    terminal.filter(job(1, "package", output=["a-A.zip"], log=[str(log)]))
    terminal.filter(job(2, "overview", output=[str(table)], log=["other.txt"]))
    for number in (1, 2):
        terminal.filter(event("JOB_FINISHED", job_id=number))
    terminal.filter(event("PROGRESS", done=2, total=2))
    del lines[:]
    terminal.answer()
    assert lines == ["\nthe sizes", "\nthe package"]


def test_only_what_writes_to_the_terminal_is_brief() -> None:
    logger, shown, kept = logging.Logger("run"), logging.StreamHandler(), logging.StreamHandler()
    shown.set_name(TERMINAL)
    for handler in (shown, kept):
        logger.addHandler(handler)
    made = brief(logger, dry=False)
    assert shown.filters == [made]
    assert kept.filters == []


def test_rules_that_answer_are_rules() -> None:
    rules = "".join(path.read_text() for path in (TOP / "analysis").rglob("*.smk"))
    assert all(f"\nrule {name}:\n" in rules for name in ANSWERS)
