"""hand.json: what the mesh, its comparison and the summary take from the hand calculation; N, mm, MPa, kg, rad."""

from __future__ import annotations

from params.steps.contract import Contract, OfCases, Plane


class Station(Contract):
    """Internal forces (N, N mm) and stresses (MPa) at one place along an arm, `s` mm from the pivot centre."""

    s: float
    depth: float
    N: float
    V2: float
    V3: float
    M2: float
    M3: float
    T: float
    web: float  # shear force that the webs carry
    sigma_plus: float  # at the flange middle on the +eta side
    sigma_minus: float
    tau_web: float
    normal: float
    shear: float
    equivalent: float
    worst_point: str


class Nominal(Contract):
    """Stations of both arms in one load case."""

    fraction: float
    stations: dict[str, tuple[Station, ...]]


class Moved(Contract):
    """Movement of a pin relative to the pivot, mm."""

    in_plane: float
    sideways: float


class NetSection(Contract):
    """What one arm brings to the pivot centre (N, N mm), and the stress on the net section's outside."""

    N: float
    V2: float
    V3: float
    M2: float
    M3: float
    T: float
    sigma_plus: float
    sigma_minus: float


class HandCase(Nominal):
    """One load case at the position that loads the arm most."""

    phi_rad: float
    cylinder_force: float
    load: float
    pressure: float
    pin_force: dict[str, float]
    deflection: dict[str, Moved]
    deflection_hub: dict[str, Moved]  # the hub's share of it
    deflection_most: dict[str, Moved]  # were hub and boss no stiffer than the arm at their edges
    bore_peak: dict[str, float]
    net_section: dict[str, NetSection]


class Governing(Contract):
    """The row of checks.csv with the least margin."""

    check: str
    place: str
    load_case: str
    margin: float


class HandFile(OfCases):
    units: str
    position: str
    least_position: str
    caution: str
    mass_kg: float
    cg_mm: Plane
    least_margin: float
    governing: Governing
    drawn_case: str
    fails: int
    out_of_range: int
    rows: int
    largest_residual: float
    cases: dict[str, HandCase]
    least: dict[str, Nominal]  # of those that a duty pair names, where they load the arm least
