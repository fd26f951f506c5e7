"""elastic.json: what the mesh says of each load case, and of the solve; N, mm, MPa, kg. The finite-element step writes it."""

from __future__ import annotations

from analysis.contracts.hand import Moved
from params.steps.contract import Contract, OfCases, Vector


class Fibre(Contract):
    """Stress of both flanges at `s` mm from the pivot centre; none where the place is outside the metal."""

    s: float
    sigma_plus: float | None
    sigma_minus: float | None
    largest: float | None


class Peak(Contract):
    """Largest equivalent and principal stress on a surface, MPa, and where, mm."""

    equivalent: float
    equivalent_at: Vector
    principal: float
    principal_at: Vector


class PivotSection(Contract):
    """The section through the pivot on the bisector of the arms: moment, N mm, and mean stress of both walls, MPa."""

    M3: float
    mean_inner: float | None
    mean_outer: float | None


class ElasticCase(Contract):
    fraction: float
    peaks: dict[str, Peak]
    pin_force: dict[str, float]
    deflection: dict[str, Moved]
    stations: dict[str, tuple[Fibre, ...]]
    pivot_section: PivotSection
    load_mismatch: float
    rebalanced: float
    imbalance: float
    reaction: float
    residual: float
    energy_error: float
    suction_MPa: dict[str, float]


class FatigueMargin(Contract):
    """Worst node of a region, or a weld: stress range and the range that the service life allows, MPa."""

    margin: float | None  # none: where nothing swings
    range: float
    allowable: float | None
    years: float | None  # none: without end
    at: Vector


class FlawMargin(Contract):
    """Worst node of a bore with the flaw that the coarsest examination just finds, MPa."""

    margin: float
    stress: float
    allowable: float
    load_case: str
    at: Vector
    note: str


class MeshSize(Contract):
    nodes: int
    elements: int
    unknowns: int
    per_quarter_bore: int
    worst_quality: float
    volume_mm3: float
    levels: int
    attempts: int
    notes: tuple[
        str, ...
    ] = ()  # what the meshed solid is not as the file says, and a mesh that took more than one attempt


class Solver(Contract):
    method: str
    iterations: int
    note: str


class ElasticFile(OfCases):
    caution: str
    mass_kg: float
    cg_mm: Vector
    cases: dict[str, ElasticCase]
    bands_percent: dict[
        str, float | None
    ]  # error band of each surface's peak; none where the meshes show none
    fatigue: dict[str, FatigueMargin]
    flaws: dict[str, FlawMargin]
    settled: bool
    mesh: MeshSize
    solver: Solver
    seconds: dict[str, float]
    peak_memory_MB: float
