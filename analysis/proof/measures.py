"""Quantities of the hand calculation measured on the mesh: deflections, sections, flanges, the section through the pivot.

Every place is located in the mesh once and read for all C load cases together. Stress in MPa, in the arm's frame.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from analysis.contracts.elastic import Cut, Peak, PivotSection
from analysis.contracts.hand import Moved
from analysis.elastic.mesh import Mesh
from analysis.elastic.sample import Sampler
from analysis.proof.cases import relative
from analysis.proof.cuts import Solved, flange_peaks, normal, sections, walls
from geometry.datums import ARMS, arm_datum, bore
from params.schema.arm import Arm
from params.steps.arrays import Floats

Sample = Callable[[Floats], Floats]  # stress (p, C, 6) at points (p, 3); NaN outside the metal
OVER_WALL, OVER_WIDTH = 60, 24  # cells of the section through the pivot
BEYOND = 1.35  # the section through the pivot is looked for up to this share of the hub's radius


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
    stations: dict[str, tuple[Cut, ...]]
    walls: dict[str, tuple[Cut, ...]]
    flange_peak: dict[str, Peak]
    pivot_section: PivotSection


def measures(arm: Arm, solved: Solved, places: dict[str, Floats]) -> list[Measured]:
    """Everything above for each case, at stations s (S,) of each arm."""
    sampler = Sampler(solved.mesh)

    def sample(points: Floats) -> Floats:
        return sampler(points, solved.at_nodes)

    stations = {name: sections(arm, name, solved, places[name], True) for name in ARMS}
    in_walls = {name: sections(arm, name, solved, walls(arm, name), False) for name in ARMS}
    peaks = {name: flange_peaks(arm, name, solved) for name in ARMS}
    at_pivot = pivot_section(arm, sample)
    return [
        Measured(
            deflections(solved.mesh, arm, solved.displacement[case]),
            {name: stations[name][case] for name in ARMS},
            {name: in_walls[name][case] for name in ARMS},
            {name: Peak(**vars(peaks[name][case])) for name in ARMS},
            at_pivot[case],
        )
        for case in range(len(solved.stress))
    ]
