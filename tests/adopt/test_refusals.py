"""What is refused, each in one line with the mend, and nothing changed by it."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

from analysis.adopt import revised
from analysis.adopt.__main__ import main
from analysis.adopt.choice import Refused
from analysis.adopt.part import changes
from analysis.tables.files import read_csv, write_csv, write_json
from params.files.read import read_arm
from tests.adopt.conftest import Adopt, Ids
from tests.adopt.made import NAME, judged

Printed = pytest.CaptureFixture[str]
DATE = ["--date", "2026-02-01"]


@pytest.fixture
def unchanged(top: Path):
    """Arms and issued files are the same bytes after the test."""
    before = {path: path.read_bytes() for path in (top / "arms").rglob("*") if path.is_file()}
    yield
    assert {path: path.read_bytes() for path in (top / "arms").rglob("*") if path.is_file()} == before


def line(printed: Printed) -> str:
    """The one line of the refusal."""
    told = printed.readouterr()
    assert told.out == "" and len(told.err.splitlines()) == 1
    return told.err


@pytest.mark.usefixtures("unchanged")
@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["no-arm", "FIRST"], "no-arm: is no arm; known are bench-lever"),
        (["../arms/bench-lever", "FIRST"], "is no arm; known are bench-lever"),
        (["", "FIRST"], "is no arm; known are bench-lever"),
        (
            [NAME, "d999999"],
            "d999999: is no design of the sweep and no route; known are MESHED, cast,",
        ),
        ([NAME, "forged"], "forged: is no design of the sweep and no route; known are MESHED,"),
        ([NAME, "../designs/d000001"], "is no design of the sweep and no route"),
        ([NAME, "d16"], "is no design of the sweep and no route"),
        ([NAME, "\x1b[2Jd\n1"], "[2Jd 1: is no design"),
        ([NAME, "cast"], "cast: has no design to adopt, "),
        ([NAME, "BAD"], "BAD: fails by hand, "),
        ([NAME, "BAD", "--not-confirmed"], "BAD: fails by hand, "),
        (
            [NAME, "BY-HAND"],
            "BY-HAND: was never meshed, meshed are MESHED; --not-confirmed takes it",
        ),
        ([NAME, "SECOND", "--date", "2026-02-30"], "--date '2026-02-30': is not a day such as 2027-05-03"),
        ([NAME, "SECOND", "--date", "tomorrow"], "--date 'tomorrow': is not a day"),
        ([NAME, "SECOND", "--reason", ""], "--reason '': is not a line of 1 to 200 characters"),
        ([NAME, "SECOND", "--reason", "x" * 201], "is not a line of 1 to 200 characters"),
        ([NAME, "SECOND", "--reason", "a\nrevision: Z"], "--reason 'a revision: Z': has more than one line"),
        ([NAME, "SECOND", "--by", "a\x00b"], "--by 'a b': has more than one line or control characters"),
        ([NAME, "SECOND", "--revision", "a/b"], "--revision 'a/b': is not capital letters"),
        (
            [NAME, "SECOND", "--revision", "A"],
            "revision A is in the file already; name another, --revision NEXT",
        ),
        (
            [NAME, "SECOND", "--date", "2026-06-23"],  # late-autumn orders on 2026-06-22
            "drawing.issued: 2026-06-23, is after the order, on 2026-06-22 or before",
        ),
    ],
)
def test_refused_in_one_line(run: Adopt, ids: Ids, capsys: Printed, words: list[str], said: str) -> None:
    for token, names in ids.items():
        said = said.replace(token, names)
    assert run(*(ids.get(word, word) for word in words)) == 1
    assert said in line(capsys)


@pytest.mark.usefixtures("unchanged")
def test_what_does_not_check_names_the_arms_own_file(
    top: Path, run: Adopt, ids: Ids, capsys: Printed
) -> None:
    assert run(NAME, ids["SECOND"], "--date", "2026-06-23") == 1
    told = line(capsys)
    assert told.startswith(
        f"nothing was changed, with design {ids['SECOND']} of the sweep the file would not check: "
    )
    assert f": {top}/arms/bench-lever.yaml:" in told and ".adopt-" not in told
    assert told.endswith("issue it earlier, or order later\n")


@pytest.mark.usefixtures("unchanged")
def test_no_results_at_all(top: Path, capsys: Printed) -> None:
    assert main([NAME, "d1", "--reason", "x", *DATE], top / "arms", top / "empty") == 1
    assert "as-written/summary.json: is not there; run `snakemake" in line(capsys)


@pytest.mark.usefixtures("unchanged")
def test_results_of_another_library(top: Path, run: Adopt, capsys: Printed) -> None:
    copy = top / "results" / NAME / "inputs" / "routes" / "welded.yaml"
    copy.write_text(copy.read_text() + "# other\n")
    assert run(NAME, "welded") == 1
    assert (
        "routes/welded.yaml changed since these results; run `snakemake --cores all --config arm=bench-lever"
        in line(capsys)
    )


@pytest.mark.usefixtures("unchanged")
@pytest.mark.parametrize("name", ["SECOND", "welded"])
def test_a_design_file_that_somebody_changed(
    top: Path, run: Adopt, ids: Ids, capsys: Printed, name: str
) -> None:
    folder = top / "results" / NAME
    name = ids.get(name, name)
    place = folder / "designs" / name if name.startswith("d") else folder / "making" / name / "best"
    (place / "arm.yaml").write_text(
        (place / "arm.yaml").read_text().replace("design_factor: 2", "design_factor: 1")
    )
    assert run(NAME, name) == 1
    assert f"{place}/arm.yaml: is not what the arm's file gives now; run `snakemake" in line(capsys)


@pytest.mark.usefixtures("unchanged")
def test_results_of_another_program(
    top: Path, run: Adopt, ids: Ids, capsys: Printed, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("params.files.origin.digest", lambda *modules: "0" * 64)
    assert run(NAME, ids["SECOND"]) == 1
    assert "the program changed since these results" in line(capsys)


def test_results_of_another_arm_file(top: Path, run: Adopt, ids: Ids, capsys: Printed) -> None:
    source = top / "arms" / f"{NAME}.yaml"
    source.write_text(source.read_text().replace("relief_pressure: 16 MPa", "relief_pressure: 15 MPa"))
    before = source.read_bytes()
    assert run(NAME, ids["SECOND"]) == 1
    assert "the parameter file changed since these results" in line(capsys)
    assert source.read_bytes() == before and not (top / "arms" / "issued").exists()


@pytest.mark.usefixtures("unchanged")
@pytest.mark.parametrize(
    ("mesh", "said"), [(-0.031, "its least margin is -3.1 %"), (0.02, "its least margin is +2.0 %")]
)
def test_a_design_that_fails_by_mesh(
    top: Path, run: Adopt, ids: Ids, capsys: Printed, mesh: float, said: str
) -> None:
    """Under 0 it fails; under the 5 % wanted it is no new design either. --not-confirmed does not help."""
    judged(top / "results" / NAME / "designs" / ids["SECOND"], mesh)
    holding = ids["MESHED"].replace(f"{ids['SECOND']}, ", "")
    for more in ([], ["--not-confirmed"]):
        assert run(NAME, ids["SECOND"], *more) == 1
        told = line(capsys)
        assert said in told and f"+5 % is wanted; holding are {holding}, deposited, welded" in told


@pytest.mark.usefixtures("unchanged")
def test_a_design_that_cannot_be_built(top: Path, run: Adopt, ids: Ids, capsys: Printed) -> None:
    place = top / "results" / NAME / "designs" / ids["SECOND"] / "summary.json"
    write_json(place, {"state": "cannot be built", "reason": "the blend does not fit"})
    assert run(NAME, ids["SECOND"]) == 1
    assert f"{ids['SECOND']}: cannot be built, the blend does not fit; choose another" in line(capsys)


def test_adopted_already(top: Path, run: Adopt, ids: Ids, capsys: Printed) -> None:
    assert run(NAME, "welded") == 0
    capsys.readouterr()
    now = (top / "arms" / f"{NAME}.yaml").read_bytes()
    for name, said in (
        ("welded", "was adopted already, as revision B"),
        (ids["FIRST"], "the parameter file changed"),
    ):
        assert run(NAME, name) == 1
        assert said in line(capsys)
    assert (top / "arms" / f"{NAME}.yaml").read_bytes() == now


@pytest.mark.usefixtures("unchanged")
def test_a_design_that_is_the_arm_as_written(
    top: Path, run: Adopt, ids: Ids, capsys: Printed, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(revised, "changes", lambda *given: [])
    assert run(NAME, ids["SECOND"]) == 1
    assert f"{ids['SECOND']}: is what revision A has already; nothing was changed" in line(capsys)


def test_an_issued_file_of_other_bytes_is_never_overwritten(
    top: Path, run: Adopt, ids: Ids, capsys: Printed
) -> None:
    """The number and the revision are those of a part that left the house: raise the revision."""
    source, issued = top / "arms" / f"{NAME}.yaml", top / "arms" / "issued"
    issued.mkdir()
    kept = issued / f"{NAME}-A.yaml"
    kept.write_text(source.read_text() + "# as sent\n")
    before = source.read_bytes(), kept.read_bytes()
    with pytest.raises(Exception, match="was issued as another part"):
        run(NAME, ids["SECOND"])
    assert (source.read_bytes(), kept.read_bytes()) == before


@pytest.mark.usefixtures("unchanged")
def test_a_revision_that_was_issued_before(top: Path, run: Adopt, ids: Ids, capsys: Printed) -> None:
    """Somebody went back to A after B had left the house."""
    issued = top / "arms" / "issued"
    issued.mkdir()
    kept = issued / f"{NAME}-B.yaml"
    kept.write_text((top / "arms" / f"{NAME}.yaml").read_text().replace("revision: A", "revision: B"))
    assert run(NAME, ids["SECOND"]) == 1
    assert "was issued as revision B; name another, --revision NEXT" in line(capsys)
    kept.unlink()
    issued.rmdir()


@pytest.mark.usefixtures("unchanged")
def test_flaws_that_nobody_checked(top: Path, run: Adopt, capsys: Printed) -> None:
    """A route's steel without Charpy energy at the coldest temperature: the design's file has lost its section on cracks."""
    arm = read_arm(top / "arms" / f"{NAME}.yaml")
    with pytest.raises(Refused, match=r"a572-50: its flaws were not checked.*; write the Charpy energy"):
        changes({"cracks": {}}, {}, arm, arm)


@pytest.mark.usefixtures("unchanged")
def test_a_best_design_that_fails(top: Path, run: Adopt, capsys: Printed) -> None:
    """A route whose best has a reason against it is refused by its margin."""
    judged(top / "results" / NAME / "making" / "welded" / "best", 0.01)
    assert run(NAME, "welded") == 1
    assert "welded: fails, its least margin is +1.0 %" in line(capsys)


@pytest.mark.usefixtures("unchanged")
def test_a_table_of_other_figures(top: Path, run: Adopt, ids: Ids, capsys: Printed) -> None:
    """Margin in the sweep's table that the hand calculation of the new file does not give."""
    table = top / "results" / NAME / "sweep" / "chosen.csv"
    rows = read_csv(table)
    changed = [row | {"min_margin": "0.5"} if row["id"] == ids["SECOND"] else row for row in rows]
    write_csv(table, list(rows[0]), changed)
    assert run(NAME, ids["SECOND"]) == 1
    assert "by hand in the arm's file" in line(capsys)


@pytest.mark.usefixtures("unchanged")
def test_nothing_is_left_of_a_file_that_cannot_be_put_in_place(
    top: Path, run: Adopt, ids: Ids, monkeypatch: pytest.MonkeyPatch
) -> None:
    def full(*given: object) -> None:
        raise OSError(28, "No space left on device", "bench-lever.yaml")

    monkeypatch.setattr(revised, "report", full)
    with pytest.raises(OSError, match="No space"):
        run(NAME, ids["SECOND"])
    assert sorted(path.name for path in (top / "arms").iterdir()) == [f"{NAME}.yaml"]


def test_the_command_itself_says_one_line() -> None:
    """As it is run: no arguments, no reason, an arm that is nowhere."""
    for words, code, said in (
        ([], 2, "the following arguments are required: arm, design, --reason"),
        ([NAME, "d1"], 2, "the following arguments are required: --reason"),
        (
            ["nowhere", "d1", "--reason", "x"],
            1,
            "nowhere: is no arm; known are bench-lever, linkspan-rocker, sluice-crank",
        ),
    ):
        done = subprocess.run(
            [sys.executable, "-m", "analysis.adopt", *words],
            capture_output=True,
            text=True,
            env=os.environ,
            cwd=Path(__file__).parents[2],
            check=False,
        )
        assert (done.returncode, len(done.stderr.splitlines())) == (code, 1)
        assert said in done.stderr
