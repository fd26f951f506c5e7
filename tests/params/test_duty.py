"""A duty from no load, and the case that it needs."""

from pathlib import Path

from tests.params.edits import edited, problem_lines


def test_a_duty_from_no_load_without_such_a_case_is_told_how_to_write_it(tmp_path: Path) -> None:
    text, _ = edited(("  unloaded: {kind: hold, load_factor: 0}", "  idle: {kind: hold, load_factor: 0}"))
    lines = problem_lines(tmp_path, text)
    assert len(lines) == 2 and all(
        line.endswith("add unloaded: {kind: hold, load_factor: 0} to load_cases: the arm's own weight")
        for line in lines
    )
