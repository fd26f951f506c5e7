"""Quantities of the hand calculation measured on the mesh: deflections, fibre stresses, the section through the pivot.

Every place is located in the mesh once and read for all C load cases together. Stress in MPa, in the arm's frame.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from analysis.contracts.elastic import Fibre, PivotSection
from analysis.contracts.hand import Moved
from analysis.elastic.mesh import Mesh
from analysis.elastic.sample import Sampler
from analysis.proof.cases import relative
from geometry.datums import ARMS, ArmDatum, arm_datum, bore
from params.schema.arm import Arm
from params.steps.arrays import Floats

Sample = Callable[[Floats], Floats]  # stress (p, C, 6) at points (p, 3); NaN outside the metal
ACROSS = np.array([-0.48, -0.24, 0.0, 0.24, 0.48])  # places across a flange's width, as shares of it
DEEP = (0.94, 0.98)  # shares of the half depth that are read; the outer fibre by the line through both
OVER_WALL, OVER_WIDTH = 60, 24  # cells of the section through the pivot
BEYOND = 1.35  # the section through the pivot is looked for up to this share of the hub's radius


def stations(datum: ArmDatum, width: float, s: Floats, sample: Sample) -> list[tuple[Fibre, ...]]:
    """Stress along the arm at the outer fibre of both flanges, station by station for each case.

    `sigma_plus` and `sigma_minus` are means over the width, `largest` is the largest size anywhere over it.
    """
    fibre = {
        name: fibre_stress(datum, width, s, side, sample) for name, side in (("plus", 1.0), ("minus", -1.0))
    }
    mean = {name: values.mean(axis=1) for name, values in fibre.items()}  # (S, C)
    largest = np.abs(np.concatenate(list(fibre.values()), axis=1)).max(axis=1)
    return [
        tuple(
            Fibre(
                s=place,
                sigma_plus=mean["plus"][k, case],
                sigma_minus=mean["minus"][k, case],
                largest=largest[k, case],
            )
            for k, place in enumerate(s)
        )
        for case in range(largest.shape[1])
    ]


def fibre_stress(datum: ArmDatum, width: float, s: Floats, side: float, sample: Sample) -> Floats:
    """Stress along the arm at the outer fibre, (S, places over the width, C)."""
    read = []
    for deep in DEEP:
        plane = datum.point(s, side * deep * datum.depth(s) / 2.0)
        points = np.column_stack([np.repeat(plane, len(ACROSS), axis=0), np.tile(ACROSS * width, len(s))])
        read.append(normal(sample(points), datum.along).reshape(len(s), len(ACROSS), -1))
    inner, outer = read
    return outer + (outer - inner) * (1.0 - DEEP[1]) / (DEEP[1] - DEEP[0])


def normal(stress: Floats, direction: Floats) -> Floats:
    """Normal stress (...) in a direction (2,) of the arm's plane, of stress (..., 6)."""
    c, s = direction
    return c * c * stress[..., 0] + s * s * stress[..., 1] + 2.0 * c * s * stress[..., 3]


def pivot_section(arm: Arm, sample: Sample) -> list[PivotSection]:
    """The section through the pivot along the bisector of the arms, for each case.

    `M3` (N mm, counter-clockwise positive) is the moment about z that the half with the output arm hands on to the other
    through this section; `mean_inner` and `mean_outer` (MPa) are the mean normal stresses of the hub's wall between the arms and of
    the one behind. Midpoints of cells over wall and width; a cell outside the metal counts nothing.
    """
    hub = bore(arm, "pivot")
    inner, outer = hub.bore / 2.0, hub.outside / 2.0
    bisector = 0.5 * arm.geometry.included_angle
    across = np.array([np.cos(bisector), np.sin(bisector)])
    out = np.array([-across[1], across[0]])  # out of the half with the output arm
    r = inner + (BEYOND * outer - inner) * (np.arange(OVER_WALL) + 0.5) / OVER_WALL
    z = hub.width * ((np.arange(OVER_WIDTH) + 0.5) / OVER_WIDTH - 0.5)
    cell = (r[1] - r[0]) * (z[1] - z[0])
    section: dict[str, Floats] = {}
    moment = np.zeros(1)
    for name, side in (("inner", 1.0), ("outer", -1.0)):
        plane = side * r[:, None] * across
        points = np.column_stack([np.repeat(plane, len(z), axis=0), np.tile(z, len(r))])
        stress = normal(sample(points), out).reshape(len(r), len(z), -1)
        section[f"mean_{name}"] = np.nanmean(stress[r < outer].reshape(-1, stress.shape[2]), axis=0)
        # On the half with the output arm: position side r across, force stress out, and across x out = +z; handed on: minus.
        moment = moment - side * np.einsum("r,rzc->c", r, np.nan_to_num(stress)) * cell
    section["M3"] = moment
    return [
        PivotSection(**{name: values[case] for name, values in section.items()})
        for case in range(len(moment))
    ]


def deflections(mesh: Mesh, arm: Arm, displacement: Floats) -> dict[str, Moved]:
    """Movement of both pins relative to the pivot bore, across the arm in its plane and sideways along z, mm."""
    moved = relative(mesh, displacement)
    movements = {}
    for name in ARMS:
        mean = moved[mesh.nodes(f"{name}_bore")].mean(axis=0)
        movements[name] = Moved(in_plane=mean[:2] @ arm_datum(arm, name).across, sideways=mean[2])
    return movements


@dataclass(frozen=True)
class Measured:
    """What the mesh says in one load case of what the hand calculation knows."""

    deflection: dict[str, Moved]
    stations: dict[str, tuple[Fibre, ...]]
    pivot_section: PivotSection


def measures(
    mesh: Mesh, arm: Arm, displacement: Floats, stress: Floats, places: dict[str, Floats]
) -> list[Measured]:
    """Everything above for each case: displacement (C, n, 3), stress (C, n, 6), stations s of each arm."""
    sampler, field = Sampler(mesh), np.ascontiguousarray(np.moveaxis(stress, 0, 1))

    def sample(points: Floats) -> Floats:
        return sampler(points, field)

    width = arm.geometry.section.width
    read = {name: stations(arm_datum(arm, name), width, places[name], sample) for name in ARMS}
    sections = pivot_section(arm, sample)
    return [
        Measured(
            deflections(mesh, arm, displacement[case]),
            {name: read[name][case] for name in ARMS},
            sections[case],
        )
        for case in range(len(stress))
    ]
