"""Results to adopt from, made once; each test has a copy of its own."""

from __future__ import annotations

import shutil
from collections.abc import Callable
from pathlib import Path

import pytest

from analysis.adopt.__main__ import main
from analysis.tables.files import read_csv
from tests.adopt.made import NAME, world
from tests.arms import ARMS

BENCH = (ARMS / f"{NAME}.yaml").read_text().replace("confirm: 1\n", "confirm: 3\n")
Adopt = Callable[..., int]
Ids = dict[str, str]


@pytest.fixture(scope="session")
def made(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return world(tmp_path_factory.mktemp("made"), BENCH)


@pytest.fixture
def top(made: Path, tmp_path: Path) -> Path:
    return Path(shutil.copytree(made, tmp_path / "top"))


@pytest.fixture
def ids(made: Path) -> Ids:
    """Designs of the sweep: two meshed ones, all meshed ones, one that only the hand has judged, one that it refuses."""
    folder = made / "results" / NAME / "sweep"
    meshed = [row["id"] for row in read_csv(folder / "chosen.csv")]
    rows = [row for row in read_csv(folder / "designs.csv") if row["id"] not in meshed]
    by_hand = next(row["id"] for row in rows if row["feasible"] == "yes")
    bad = next(row["id"] for row in rows if row["feasible"] != "yes")
    return {
        "FIRST": meshed[0],
        "SECOND": meshed[1],
        "MESHED": ", ".join(meshed),
        "BY-HAND": by_hand,
        "BAD": bad,
    }


@pytest.fixture
def run(top: Path) -> Adopt:
    """The command on the copy; the date and the reason are given unless a test gives its own."""

    def command(*words: str) -> int:
        given = [*words]
        for option, value in (("--reason", "Crack at the pivot bore"), ("--date", "2026-02-01")):
            given += [] if option in words else [option, value]
        return main(given, top / "arms", top / "results")

    return command
