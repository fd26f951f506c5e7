"""Which library counts for a file, which files are a run's copies, and what a result says that it was made from."""

from __future__ import annotations

import hashlib
from pathlib import Path

import pytest

from params.files.origin import changed, copies, lines, origin
from params.files.read import read_arm
from params.steps import library
from params.steps.program import digest
from tests.arms import ARMS, demo

STEEL, AUTUMN = "materials/a572-50.yaml", "outages/late-autumn.yaml"
BENCH = (ARMS / "bench-lever.yaml").read_text()


@pytest.fixture
def run(tmp_path: Path) -> Path:
    """An arm's results with copies of a material, a route and the outage, each with a remark of its own."""
    folder = tmp_path / "results" / "bench-lever"
    places = {STEEL: STEEL, "routes/cast.yaml": "routes/cast.yaml", AUTUMN: library.OUTAGE}
    for name, copy in places.items():
        filed = folder / "inputs" / copy
        filed.parent.mkdir(parents=True, exist_ok=True)
        filed.write_text("# of this run\n" + (library.PROJECT / name).read_text())
    for place in ("as-written", "designs/d000001", "making/cast/best"):
        (folder / place).mkdir(parents=True)
        (folder / place / "arm.yaml").write_text(BENCH)
    return folder


def sha(path: Path) -> str:
    return hashlib.sha256(path.read_bytes()).hexdigest()


def test_a_digest_is_sha_256(tmp_path: Path) -> None:
    """FIPS 180-4, example of "abc"."""
    (tmp_path / "a").write_bytes(b"abc")
    assert (
        library.sha256(tmp_path / "a") == "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"
    )


@pytest.mark.parametrize("place", ["as-written", "designs/d000001", "making/cast/best"])
def test_beside_a_run_its_copies_count(run: Path, place: str) -> None:
    assert library.library_of(run / place / "arm.yaml") == run / "inputs"
    assert read_arm(run / place / "arm.yaml").library == run / "inputs"


def test_another_folder_of_parameter_files_is_its_own_library(tmp_path: Path) -> None:
    (tmp_path / "mine" / "materials").mkdir(parents=True)
    assert library.library_of(tmp_path / "mine" / "arms" / "a.yaml") == tmp_path / "mine"


def test_away_from_all_of_it_the_project_counts(tmp_path: Path) -> None:
    assert library.library_of(tmp_path / "arm.yaml") == ARMS.parent
    assert demo("bench-lever").library == ARMS.parent


def test_copies_do_not_bear_the_name_of_what_they_describe(run: Path) -> None:
    for path in (run / "as-written" / "arm.yaml", run / "inputs" / "outage.yaml", run / "inputs" / STEEL):
        assert library.is_copy(path)
    for path in (ARMS / "bench-lever.yaml", library.PROJECT / STEEL, library.PROJECT / AUTUMN):
        assert not library.is_copy(path)


def test_a_result_names_the_copies_it_was_made_from(run: Path) -> None:
    """The outage by the name in its file; the digest is that of the copy."""
    source = run / "as-written" / "arm.yaml"
    made = origin(read_arm(source), source)
    wanted = {
        STEEL: sha(run / "inputs" / STEEL),
        "routes/cast.yaml": sha(run / "inputs" / "routes" / "cast.yaml"),
    }
    assert made.inputs == wanted | {AUTUMN: sha(run / "inputs" / "outage.yaml")}
    assert made.arm == hashlib.sha256(BENCH.encode()).hexdigest()
    assert [name for name, _ in lines(made)] == [
        "parameter file",
        STEEL,
        AUTUMN,
        "routes/cast.yaml",
        "program",
    ]


def test_some_steps_and_some_files(run: Path) -> None:
    source = run / "as-written" / "arm.yaml"
    made = origin(read_arm(source), source, ("analysis.hand",), [STEEL])
    assert list(made.inputs) == [STEEL]
    assert made.program == digest("analysis.hand") != digest("geometry.solid") != digest()


def test_by_hand_there_are_no_copies() -> None:
    assert copies(library.PROJECT) == {}


def test_what_has_changed_since(run: Path) -> None:
    """Beside the run's own copies nothing has; beside the project each copy with its remark is another file."""
    source = run / "as-written" / "arm.yaml"
    made = origin(read_arm(source), source, ("analysis.hand",), [STEEL])
    assert changed(made, source, ("analysis.hand",), run / "inputs") == []
    assert changed(made, source, ("analysis.hand",)) == [STEEL]
    bare = made.model_copy(update={"inputs": {}})
    (run / "inputs" / STEEL).unlink()
    assert changed(made, source, ("analysis.hand",), run / "inputs") == [STEEL]
    assert changed(bare, source, ("geometry.solid",)) == ["the program"]
    source.write_text(BENCH + "# a remark\n")
    assert changed(bare, source, ("analysis.hand",)) == ["the parameter file"]
    source.unlink()
    assert changed(bare, source, ("analysis.hand",)) == ["the parameter file"]
