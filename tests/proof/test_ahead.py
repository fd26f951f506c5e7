"""Meshes made ahead: those that are needed in any case, and the file that stays is that of the last solve."""

from __future__ import annotations

from pathlib import Path
from types import SimpleNamespace

import pytest

from analysis.proof import refine as prove
from geometry.mesher import MeshRefused
from tests.arms import demo

PEAKS = {
    "settles at the third": ([100.0, 101.0, 101.5, 0.0], [8, 11, 15]),
    "settles at the fourth": ([100.0, 150.0, 170.0, 171.0], [8, 11, 15, 20]),
    "does not settle": ([100.0, 150.0, 200.0, 250.0], [8, 11, 15, 20]),
}


@pytest.fixture
def mesh_sizes(request: pytest.FixtureRequest, monkeypatch: pytest.MonkeyPatch) -> list[int]:
    """A stand-in for the mesher, which refuses the fixture's parameter; the numbers asked of it, in their order."""
    numbers: list[int] = []
    refused = getattr(request, "param", 0)

    def meshed(folder: Path, _: object, per_quarter: int) -> tuple[int, int]:
        numbers.append(per_quarter)
        if per_quarter == refused:
            raise MeshRefused("refused by the test", (0.0, 0.0, 0.0))
        (folder / prove.AHEAD).write_text(str(per_quarter))
        return per_quarter, per_quarter

    monkeypatch.setattr(prove, "meshed", meshed)
    return numbers


def solver(peaks: list[float], fails: int = 0):
    """A stand-in that gives one peak after another, and does not end well at one number."""
    left = iter(peaks)

    def level(_: Path, __: object, ___: object, report: int, ____: object) -> SimpleNamespace:
        peak = next(left)
        proof = SimpleNamespace(solution=SimpleNamespace(ok=report != fails))
        return SimpleNamespace(proof=proof, peaks=dict.fromkeys(prove.PEAKS, peak), per_quarter=report)

    return level


# 8 elements per quarter bore, then 1.35 times as many each: 10.8, 14.6 and 19.7, rounded.
@pytest.mark.parametrize(("peaks", "wanted"), PEAKS.values(), ids=PEAKS)
def test_no_mesh_is_made_in_vain(
    peaks: list[float],
    wanted: list[int],
    mesh_sizes: list[int],
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(prove, "level", solver(peaks))
    levels = prove.refine(tmp_path, demo("linkspan-rocker"), None, False)  # type: ignore[arg-type]
    assert [one.per_quarter for one in levels] == mesh_sizes == wanted
    assert [path.name for path in tmp_path.iterdir()] == ["arm.msh"]
    assert (tmp_path / "arm.msh").read_text() == str(wanted[-1])


def test_a_solve_that_ends_badly_keeps_its_own_mesh(
    mesh_sizes: list[int], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(prove, "level", solver([100.0, 100.0], fails=11))
    levels = prove.refine(tmp_path, demo("linkspan-rocker"), None, False)  # type: ignore[arg-type]
    assert [one.per_quarter for one in levels] == [8, 11]
    assert {path.name: path.read_text() for path in tmp_path.iterdir()} == {"arm.msh": "11"}


@pytest.mark.parametrize("mesh_sizes", [11], indirect=True)
def test_a_refused_mesh_ends_the_proof(
    mesh_sizes: list[int], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(prove, "level", solver([100.0]))
    with pytest.raises(MeshRefused):
        prove.refine(tmp_path, demo("linkspan-rocker"), None, False)  # type: ignore[arg-type]
    assert [path.name for path in tmp_path.iterdir()] == ["arm.msh"]
