"""elastic.json: what the mesh says of each load case, and of the solve; N, mm, MPa, kg. The finite-element step writes it."""

from __future__ import annotations

from analysis.contracts.hand import Moved
from params.steps.contract import Contract, OfCases, Vector


class Resultants(Contract):
    """What the outer part of an arm exerts on the inner one through a section, about its point on the arm's line; N, N mm."""

    N: float
    V2: float
    V3: float
    T: float
    M2: float
    M3: float


class Flange(Contract):
    """Straight line through the stress along the arm over a flange's thickness: its mean, and its value at the outer face, MPa."""

    mean: float
    outer: float


class Cut(Contract):
    """A section at `s` mm from the pivot centre: by the elements' nodal forces, and by integrating the stress; both flanges, none
    where the section has none, as through hub or boss."""

    s: float
    nodes: Resultants
    stress: Resultants
    error: float  # estimated error in the energy norm of the elements that the section cuts, a share
    plus: Flange | None
    minus: Flange | None


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
    stations: dict[str, tuple[Cut, ...]]  # as in hand.json
    walls: dict[
        str, tuple[Cut, ...]
    ]  # through the walls of hub and boss, where the bores leave the arm whole
    flange_peak: dict[
        str, Peak
    ]  # worst of the flanges' outer faces from hub edge to boss edge, wherever it lies
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
    unsettled: tuple[
        str, ...
    ] = ()  # surfaces whose peak still moves; all where there are fewer than three meshes
    mesh: MeshSize
    solver: Solver
    seconds: dict[str, float]
    peak_memory_MB: float
