"""loads.json: forces on the arm for the solver, N, N mm and m/s2 in the arm's frame. The hand calculation writes it."""

from __future__ import annotations

from params.steps.contract import Contract, OfCases, Vector


class Bore(Contract):
    """What a pin does to its bore: N, and N mm about the bore's centre at z = 0."""

    force: Vector
    moment: Vector


class CaseLoads(Contract):
    """One load case at one position of the swing."""

    fraction: float  # of the swing
    phi_rad: float  # of the output arm above the horizontal
    gravity: Vector  # m/s2, with the shock factor
    weight: Vector  # N, at the centre of gravity
    bores: dict[str, Bore]
    residual: float  # of equilibrium, as a share of the pivot reaction


class LoadsFile(OfCases):
    units: str
    position: str
    least_position: str
    caution: str
    cg_mm: Vector
    mass_kg: float
    cases: dict[str, CaseLoads]  # at the position that loads the arm most
    least: dict[str, CaseLoads]  # those that a duty pair names, where they load the arm least
