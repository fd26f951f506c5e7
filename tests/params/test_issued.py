"""Issued revisions: kept byte for byte, never another part under the same number and revision; rules of the revision table."""

from __future__ import annotations

import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from params import check, issue
from params.files.issued import issued_as, place
from params.files.read import read_arm
from params.steps.problems import ParameterError
from tests.arms import ARMS
from tests.params.edits import NAME, VALID

TOP = ARMS.parents[1]
ROW = "revisions:\n  - {revision: A, date: 2026-01-31, reason: First}\n"


@pytest.fixture
def arms(tmp_path: Path) -> Path:
    (tmp_path / "arms").mkdir()
    shutil.copy(ARMS / f"{NAME}.yaml", tmp_path / "arms")
    return tmp_path / "arms"


def test_issued_is_the_same_bytes_and_twice_is_once(arms: Path, capsys: pytest.CaptureFixture[str]) -> None:
    for _ in range(2):
        assert issue.main([NAME], arms) == 0
        assert f"revision A is kept as {arms}/issued/bench-lever-A.yaml" in capsys.readouterr().out
    assert place(arms / f"{NAME}.yaml", "A").read_bytes() == (arms / f"{NAME}.yaml").read_bytes()
    assert [path.name for path in (arms / "issued").iterdir()] == ["bench-lever-A.yaml"]
    assert check.main([str(arms / f"{NAME}.yaml"), str(arms / "issued" / "bench-lever-A.yaml")]) == 0


def test_another_part_under_an_issued_revision_is_refused(
    arms: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """By the check, by its copy for a run, and by a second issue; one line with the mend. A raised revision is taken."""
    path = arms / f"{NAME}.yaml"
    assert issue.main([NAME], arms) == 0
    kept = place(path, "A").read_bytes()
    path.write_text(VALID.replace("width: 36 mm", "width: 37 mm"))
    capsys.readouterr()
    filed = arms.parent / "results" / "as-written" / "arm.yaml"
    for given in ([str(path)], [str(path), "--file-as", str(filed)]):
        assert check.main(given) == 1
        (told,) = capsys.readouterr().err.splitlines()
        assert told.startswith(f"{path}:16: revision: A, was issued as another part, {place(path, 'A')}")
        assert told.endswith("raise the revision, with a row in revisions that says why")
    assert not filed.exists()
    with pytest.raises(ParameterError, match="was issued as another part"):
        issue.main([NAME], arms)
    assert place(path, "A").read_bytes() == kept
    path.write_text(path.read_text().replace("revision: A", "revision: B"))
    assert check.main([str(path)]) == 0


def test_a_number_is_shared_by_files_of_other_names_too(arms: Path) -> None:
    """Two files that bear one drawing number are one part; the same revision of another number is none."""
    drawing = "\ndrawing: {number: BL-1}\n"
    (arms / "issued").mkdir()
    (arms / "issued" / "old-lever-A.yaml").write_text(VALID.replace("# drawing:\n", drawing))
    (arms / "issued" / "broken-A.yaml").write_text("drawing: [\n")
    assert issued_as("BL-1", "A", arms) == [arms / "issued" / "old-lever-A.yaml"]
    assert issued_as("bench-lever", "A", arms) == [] and issued_as("BL-1", "B", arms) == []
    assert issued_as("broken", "A", arms) == [arms / "issued" / "broken-A.yaml"]
    path = arms / f"{NAME}.yaml"
    assert check.main([str(path)]) == 0
    path.write_text(VALID.replace("# drawing:\n", drawing) + "# another\n")
    assert check.main([str(path)]) == 1


def test_unknown_arms_and_files_that_do_not_check_are_not_issued(
    arms: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert issue.main(["nowhere"], arms) == 1
    assert capsys.readouterr().err == "nowhere: is no arm; known are bench-lever\n"
    (arms / f"{NAME}.yaml").write_text(VALID.replace("width: 36 mm", "width: 36"))
    with pytest.raises(ParameterError, match="has no unit"):
        issue.main([NAME], arms)
    assert not (arms / "issued").exists()


def test_as_it_is_run() -> None:
    command = [sys.executable, "-m", "params.issue", "nowhere"]
    done = subprocess.run(command, capture_output=True, text=True, cwd=TOP, check=False)
    assert (done.returncode, done.stdout) == (1, "")
    assert done.stderr == "nowhere: is no arm; known are bench-lever, linkspan-rocker, sluice-crank\n"


@pytest.mark.parametrize(
    ("table", "said"),
    [
        (ROW, None),
        (
            ROW.replace("revision: A", "revision: B"),
            "revision: A, is not the last of the revision table, B, its last row,",
        ),
        (ROW + ROW.splitlines()[1] + "\n", "revisions.1.revision: A, is in the revision table twice"),
        (
            ROW.replace("revision: A", "revision: B")
            + ROW.splitlines()[1].replace("2026-01-31", "2026-01-30")
            + "\n",
            "revisions.1.date: 2026-01-30, is before the date of the row above, 2026-01-31, the date of revision B",
        ),
        (ROW.replace("reason: First", "reason: First, margin: 3"), "margin: is not a known key"),
        (ROW.replace("2026-01-31", "31.1.2026"), "is not a date"),
        (ROW.replace("First", "x" * 201), "revisions.0.reason"),
        (ROW.replace("}", ", design: a/b}"), "revisions.0.design: a/b, has a path separator"),
        (
            ROW.replace("}", ", before: {mass: 3, hand_margin: 0, mesh_margin: 0, governing: x}}"),
            "has no unit",
        ),
        (
            ROW.replace("}", ", before: {mass: 3 kg, hand_margin: -2, mesh_margin: 0, governing: x}}"),
            "is too small",
        ),
        ("revisions: A\n", "revisions: A, is not a list"),
    ],
)
def test_rules_of_the_revision_table(tmp_path: Path, table: str, said: str | None) -> None:
    path = tmp_path / f"{NAME}.yaml"
    path.write_text(VALID.replace("# revisions:\n", table))
    if said is None:
        assert [row.revision for row in read_arm(path).revisions] == ["A"]
        return
    with pytest.raises(ParameterError) as error:
        read_arm(path)
    assert said in str(error.value)
