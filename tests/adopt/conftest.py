"""Results to adopt from, made once; each test has a copy of its own."""

from __future__ import annotations

import shutil
from collections.abc import Callable
from pathlib import Path

import pytest

from analysis.adopt.__main__ import main
from tests.adopt.made import NAME, world
from tests.arms import ARMS

BENCH = (ARMS / f"{NAME}.yaml").read_text().replace("confirm: 1\n", "confirm: 3\n")
Adopt = Callable[..., int]


@pytest.fixture(scope="session")
def made(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return world(tmp_path_factory.mktemp("made"), BENCH)


@pytest.fixture
def top(made: Path, tmp_path: Path) -> Path:
    return Path(shutil.copytree(made, tmp_path / "top"))


@pytest.fixture
def run(top: Path) -> Adopt:
    """The command on the copy; the date and the reason are given unless a test gives its own."""

    def command(*words: str) -> int:
        given = [*words]
        for option, value in (("--reason", "Crack at the pivot bore"), ("--date", "2026-02-01")):
            given += [] if option in words else [option, value]
        return main(given, top / "arms", top / "results")

    return command
