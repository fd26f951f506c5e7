"""Sections of both arms on the mesh: what passes through them, and the stress of their flanges. All load cases at once.

Axes of an arm: s from the pivot to its pin, eta counter-clockwise of it, z. Stress in MPa in the arm's frame.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from analysis.contracts.elastic import Cut, Flange, Resultants
from analysis.elastic.cut import Slice, integration, passed_by_nodes, passed_by_stress, plane_slice
from analysis.elastic.error import energy_error
from analysis.elastic.invariants import Peak, peak_of
from analysis.elastic.material import Elastic
from analysis.elastic.mesh import Mesh
from analysis.mechanics.warping import skin
from geometry.datums import ARMS, ArmDatum, arm_datum, bore, slant
from params.schema.arm import Arm
from params.steps.arrays import Floats

NAMES = tuple(Resultants.model_fields)
FACE = (
    0.985,
    1.3,
)  # shares of the half depth between which the outside of an arm is a flange's outer face, blends included


@dataclass(frozen=True)
class Solved:
    """One mesh with the displacements (C, n, 3) mm, stresses (C, n, 6) MPa and weights (C, 3) N/mm3 of all its cases."""

    mesh: Mesh
    material: Elastic
    displacement: Floats
    stress: Floats
    body: Floats

    @cached_property
    def at_nodes(self) -> Floats:
        """Stress (n, C, 6): of all cases side by side at each node."""
        return np.ascontiguousarray(self.stress.swapaxes(0, 1))

    def error_of(self, elements: NDArray[np.int64]) -> Floats:
        """Estimated error (C,) in the energy norm of some elements, a share of their own energy's norm."""
        nodes, tets = np.unique(self.mesh.tets[elements], return_inverse=True)
        part = Mesh(self.mesh.points[nodes], tets.reshape(-1, 10))
        return energy_error(part, self.material, self.displacement[:, nodes], self.stress[:, nodes])[1]


def frame(datum: ArmDatum) -> Floats:
    """Unit vectors along s, eta and z, (3, 3)."""
    return np.array([[*datum.along, 0.0], [*datum.across, 0.0], [0.0, 0.0, 1.0]])


def walls(arm: Arm, name: str) -> Floats:
    """s of the sections through the middle of the walls of hub and boss, mm."""
    hub, boss = bore(arm, "pivot"), bore(arm, name)
    return np.array(
        [(hub.outside + hub.bore) / 4.0, arm_datum(arm, name).length - (boss.outside + boss.bore) / 4.0]
    )


def sections(arm: Arm, name: str, solved: Solved, places: Floats, flanges: bool) -> list[tuple[Cut, ...]]:
    """Sections of one arm at `places`, for each case."""
    of_place = [section(arm, name, solved, s, flanges) for s in places]
    return [tuple(cuts[case] for cuts in of_place) for case in range(len(solved.stress))]


def section(arm: Arm, name: str, solved: Solved, s: float, flanges: bool) -> list[Cut]:
    """One section in all cases, of the metal on the arm's side of the line that halves the angle between the arms."""
    datum, mesh = arm_datum(arm, name), solved.mesh
    axes, about = frame(datum), np.array([*datum.point(s), 0.0])
    height, own = (mesh.points - about) @ axes[0], mesh.points @ own_side(arm, name)
    beyond = np.minimum(*(np.mean(of[mesh.tets[:, :4]], axis=1) for of in (height, own))) > 0.0
    by_nodes = passed_by_nodes(mesh, solved.material, solved.displacement, beyond, solved.body, about)
    cut = plane_slice(mesh, height)
    cut = cut.within(cut.place @ own_side(arm, name))
    error = solved.error_of(np.unique(cut.element))
    points = integration(cut)
    by_stress = passed_by_stress(points, points.of(mesh, solved.at_nodes), axes[0], about)
    none = [None] * len(solved.stress)
    sides = [flange(arm, datum, solved, cut, s, side) if flanges else none for side in (1.0, -1.0)]
    return [
        Cut(
            s=s,
            nodes=in_axes(by_nodes[case], axes),
            stress=in_axes(by_stress[case], axes),
            error=error[case],
            plus=sides[0][case],
            minus=sides[1][case],
        )
        for case in range(len(solved.stress))
    ]


def own_side(arm: Arm, name: str) -> Floats:
    """Normal (3,) of the plane that halves the angle between the arms, toward this arm."""
    own, other = (arm_datum(arm, one).along for one in (name, *(one for one in ARMS if one != name)))
    return np.array([*(own - other), 0.0]) / np.hypot(*(own - other))


def in_axes(passed: Floats, axes: Floats) -> Resultants:
    """Force and moment (6,) in the arm's own axes."""
    return Resultants(**dict(zip(NAMES, np.concatenate([axes @ passed[:3], axes @ passed[3:]]), strict=True)))


def flange(
    arm: Arm, datum: ArmDatum, solved: Solved, cut: Slice, s: float, side: float
) -> Sequence[Flange | None]:
    """Straight line through the stress along the arm over the thickness of the flange on one side, for each case."""
    axes, half, shape = frame(datum), float(datum.depth(s)) / 2.0, arm.geometry.section
    thick = skin(shape.kind, 2.0 * half, shape.flange_thickness or 0.0) * slant(datum, s)
    points = integration(cut.within(side * (cut.place @ axes[1]) - (half - thick)))
    if not points.area.sum() > 0.0:
        return [None] * len(solved.stress)
    out = side * (points.place @ axes[1])
    stress = normal(points.of(solved.mesh, solved.at_nodes), datum.along)
    middle = np.average(out, weights=points.area)
    mean = np.average(stress, axis=0, weights=points.area)
    steep = np.average((out - middle)[:, None] * stress, axis=0, weights=points.area) / np.average(
        (out - middle) ** 2, weights=points.area
    )
    return [
        Flange(mean=mean[case], outer=mean[case] + steep[case] * (half - middle)) for case in range(len(mean))
    ]


def normal(stress: Floats, direction: Floats) -> Floats:
    """Normal stress (...) in a direction (2,) of the arm's plane, of stress (..., 6)."""
    c, s = direction
    return c * c * stress[..., 0] + s * s * stress[..., 1] + 2.0 * c * s * stress[..., 3]


def flange_peaks(arm: Arm, name: str, solved: Solved) -> list[Peak]:
    """Largest equivalent and principal stress at any node of the flanges' outer faces between hub edge and boss edge, per case.

    The stress on the sloping face itself: along it, not along the arm's line, so 1/cos^2 of the slope is in it.
    """
    datum, nodes = arm_datum(arm, name), solved.mesh.nodes("outside")
    place = solved.mesh.points[nodes, :2]
    s, eta = place @ datum.along, np.abs(place @ datum.across) / (datum.depth(place @ datum.along) / 2.0)
    on = (s >= datum.hub_edge) & (s <= datum.boss_edge) & (eta >= FACE[0]) & (eta <= FACE[1])
    return [peak_of(stress, solved.mesh, nodes[on]) for stress in solved.stress]
