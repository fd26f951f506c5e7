"""All load cases of an arm on one mesh: loads in balance, displacements, nodal stresses, error estimate."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Any

import numpy as np

from analysis.contracts.loads import CaseLoads
from analysis.elastic import memory
from analysis.elastic.error import energy_error
from analysis.elastic.invariants import von_mises
from analysis.elastic.loads import BoreLoad, Resultants, Seats, balance, case_vector
from analysis.elastic.material import Elastic
from analysis.elastic.mesh import Mesh
from analysis.elastic.recovery import nodal_volumes, stresses
from analysis.elastic.solve import Solution, solve
from analysis.elastic.supports import rigid
from analysis.fatigue.cycles import field_at_least
from geometry.datums import centre
from params.schema.arm import Arm
from params.schema.material import Material
from params.steps.arrays import Floats

PIVOT = "pivot_bore"


@dataclass(frozen=True)
class Loaded:
    """Nodal loads of one case, in balance."""

    vector: Floats  # (3n,) N
    resultants: Resultants
    rebalanced: (
        float  # force added at the pivot because mesh and hand weight differ, share of the largest pin force
    )
    bores: dict[str, BoreLoad]
    body: tuple[float, ...]  # (3,) weight, N/mm3


@dataclass(frozen=True)
class Proof:
    """Every case on one mesh; arrays in the order of `cases`."""

    mesh: Mesh
    cases: tuple[str, ...]
    loaded: tuple[Loaded, ...]
    solution: Solution
    stress: Floats  # (C, n, 6) MPa
    equivalent: Floats  # (C, n) MPa
    element_error: Floats  # (C, m) energy norm of the error of each element, sqrt(N mm)
    error: Floats  # (C,) relative error in the energy norm
    mass: float  # kg
    cg: Floats  # (3,) mm
    least: dict[
        str, Floats
    ]  # stress alone, (n, 6) MPa, of the cases also solved at the position where they load the arm least


def elastic(material: Material) -> Elastic:
    return Elastic(material.elastic_modulus, material.poisson_ratio, material.density)


def in_balance(
    mesh: Mesh, arm: Arm, case: CaseLoads, density: float, volumes: Floats
) -> tuple[dict[str, BoreLoad], float]:
    """Bore loads of one case of loads.json; the change by the mesh's own weight is added at the pivot, its size
    given as a share of the largest pin force."""
    bores = {name: bore_load(arm, name, wanted.force, wanted.moment) for name, wanted in case.bores.items()}
    mass, cg = weighed(mesh, density, volumes)
    force, moment = balance(list(bores.values()), case.gravity, mass, cg)
    pivot = bores[PIVOT]
    bores[PIVOT] = bore_load(arm, PIVOT, np.subtract(pivot.force, force), np.subtract(pivot.moment, moment))
    largest = max(float(np.linalg.norm(load.force)) for load in bores.values())
    return bores, float(np.linalg.norm(force)) / largest


def loaded(mesh: Mesh, arm: Arm, case: CaseLoads, density: float, volumes: Floats, seats: Seats) -> Loaded:
    """Nodal loads of one case; `seats` as for `case_vector`."""
    bores, share = in_balance(mesh, arm, case, density, volumes)
    vector, resultants = case_vector(mesh, list(bores.values()), case.gravity, density, volumes, seats)
    body = tuple(density * value for value in case.gravity)
    return Loaded(vector, resultants, share, bores, body)


def weighed(mesh: Mesh, density: float, volumes: Floats) -> tuple[float, Floats]:
    """Mass, kg, and centre of gravity (3,), mm, of the mesh."""
    return density * float(volumes.sum()), volumes @ mesh.points / volumes.sum()


def bore_load(arm: Arm, surface: str, force: Any, moment: Any) -> BoreLoad:
    x, y = centre(arm, surface.removesuffix("_bore"))
    return BoreLoad(surface, (float(x), float(y)), triple(force), triple(moment))


def triple(values: Any) -> tuple[float, float, float]:
    a, b, c = (float(value) for value in values)
    return a, b, c


def prove(
    mesh: Mesh,
    arm: Arm,
    material: Material,
    cases: Mapping[str, CaseLoads],
    least: Mapping[str, CaseLoads] | None = None,
) -> Proof:
    """Solve every case of loads.json on the mesh, and those at their `least`, as right sides of one matrix; the fields are
    empty where the solution's status is not ok."""
    law, volumes, least = elastic(material), nodal_volumes(mesh), least or {}
    seats: Seats = {}
    every = [
        loaded(mesh, arm, case, law.density, volumes, seats) for case in (*cases.values(), *least.values())
    ]
    own, own_loads = slice(len(cases)), tuple(every[: len(cases)])
    # The method is chosen by the number of cases alone, so that the right sides of `least` change no result of the cases.
    method, _ = memory.choose(mesh, len(cases), "auto", None)
    solution = solve(mesh, law, np.stack([one.vector for one in every]), method)
    mass, cg = weighed(mesh, law.density, volumes)
    if not solution.ok:
        nothing = np.zeros((0, 0))
        return Proof(
            mesh, tuple(cases), own_loads, solution, nothing, nothing, nothing, np.zeros(0), mass, cg, {}
        )
    nodal = stresses(mesh, law, solution.displacement, [one.resultants.tractions for one in every])
    solution, stress = of_cases(solution, own), nodal[own]
    by_element, relative = energy_error(mesh, law, solution.displacement, stress)
    beside = dict(zip(least, nodal[len(cases) :], strict=True))
    return Proof(
        mesh,
        tuple(cases),
        own_loads,
        solution,
        stress,
        von_mises(stress),
        by_element,
        relative,
        mass,
        cg,
        beside,
    )


def of_cases(solution: Solution, own: slice) -> Solution:
    """The part of a solution that belongs to some of its cases."""
    figures = solution.figures
    by_case = {name: getattr(figures, name)[own] for name in ("residual", "reaction", "energy")}
    return replace(solution, displacement=solution.displacement[own], figures=replace(figures, **by_case))


def relative(mesh: Mesh, displacement: Floats) -> Floats:
    """Displacements (n, 3) less the rigid motion that fits those of the pivot bore best."""
    nodes = mesh.nodes(PIVOT)
    middle = mesh.points[nodes].mean(axis=0)
    amount = np.linalg.lstsq(
        rigid(mesh.points[nodes] - middle).reshape(-1, 6), displacement[nodes].ravel(), rcond=None
    )[0]
    return displacement - rigid(mesh.points - middle) @ amount


def fields(proof: Proof) -> tuple[dict[str, Floats], dict[str, Floats]]:
    """Nodal and element arrays of stress.vtu, one set for each load case: mm relative to the pivot bore, MPa, sqrt(N mm).

    Beside them the stress alone of cases at their least.
    """
    nodal: dict[str, Floats] = {}
    cells: dict[str, Floats] = {}
    for index, case in enumerate(proof.cases):
        nodal[f"displacement:{case}"] = relative(proof.mesh, proof.solution.displacement[index])
        nodal[f"stress:{case}"] = proof.stress[index]
        nodal[f"equivalent_stress:{case}"] = proof.equivalent[index]
        cells[f"error:{case}"] = proof.element_error[index]
    nodal |= {field_at_least(case): stress for case, stress in proof.least.items()}
    return nodal, cells
