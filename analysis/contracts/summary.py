"""summary.json: the answer for one arm or design, or why there is none; mm, MPa, kg. The last step of the proof writes it."""

from __future__ import annotations

from pathlib import Path
from typing import Literal

from analysis.contracts.elastic import MeshSize, Solver
from params.files.origin import Origin
from params.steps.contract import Contract, read_model

Verdict = Literal["holds", "explain", "fails"]


class MeshCheck(Contract):
    """One check by mesh at one place in one load case."""

    check: str
    place: str
    load_case: str
    demand_MPa: float
    capacity_MPa: float | None
    margin: float
    band_percent: float | None = None  # of the demand, where it is a peak of several meshes
    settled: bool | None = None  # none: nothing says so (one mesh, or a stress that is no peak)


class Position(Contract):
    """Where in the swing a load case was taken."""

    fraction: float
    at: str


class Summary(Contract):
    """An arm that was meshed and solved."""

    state: Literal["holds", "fails"]  # of hand and mesh together
    arm: str
    revision: str
    material: str
    caution: str
    mass_kg: float
    mesh_mass_kg: float
    sizes_mm: dict[str, float]
    governing: str
    hand_margin: float
    hand_fails: int
    hand_out_of_range: int
    mesh_margin: float
    mesh_governing: str
    mesh_governing_case: str
    mesh_checks: tuple[MeshCheck, ...]
    verdict: Verdict
    explain: tuple[str, ...]
    mesh: MeshSize
    solver: Solver
    settled: bool
    peak_error_band_percent: float | None  # none: one mesh shows none
    energy_error_percent: float
    cases: dict[str, Position]
    seconds: dict[str, float]
    peak_memory_MB: float
    versions: dict[str, str]
    parameter_sha256: str
    origin: Origin

    @property
    def least_margin(self) -> float:
        return min(self.hand_margin, self.mesh_margin)

    @property
    def least_governing(self) -> str:
        """The check with the least margin, and whether it is by hand or by mesh."""
        by_mesh = self.mesh_margin < self.hand_margin
        return f"{self.mesh_governing} (mesh)" if by_mesh else f"{self.governing} (hand)"


class NotBuilt(Contract):
    """A design whose solid, mesh or solution cannot be had."""

    state: Literal["cannot be built"] = "cannot be built"
    reason: str
    mesh_margin: None = None


Answer = Summary | NotBuilt


def read_answer(path: Path) -> Answer:
    """The summary of a design, or why it has none; Unfit as `read_model`."""
    return read_model(path, Summary, NotBuilt)


def read_summary(path: Path) -> Summary:
    return read_model(path, Summary)
