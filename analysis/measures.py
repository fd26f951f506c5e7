"""What the mesh says of what the hand calculation knows: deflections, fibre stresses, the section through the pivot."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import numpy as np
from numpy.typing import NDArray

from analysis.elastic.mesh import Mesh
from analysis.elastic.sample import Sampler
from analysis.proof import relative
from geometry.datums import ARMS, ArmDatum, arm_datum, bore
from params.arm import Arm

Floats = NDArray[np.float64]
Sample = Callable[[Floats], Floats]
ACROSS = np.array([-0.48, -0.24, 0.0, 0.24, 0.48])  # places across a flange's width, as shares of it
DEEP = (
    0.94,
    0.98,
)  # shares of the half depth where stress is read inside the flange; the outer fibre by the line through both
THROUGH = 7  # Gauss points over a wall of the hub, and over its width


def stations(datum: ArmDatum, width: float, s: Floats, sample: Sample) -> list[dict[str, float]]:
    """Stress along the arm at the outer fibre of both flanges, MPa: mean over the width, and `largest` anywhere over it."""
    found = []
    for place in s:
        row = {"s": float(place), "largest": 0.0}
        for side, name in ((1.0, "plus"), (-1.0, "minus")):
            inner, outer = (
                along(sample(fibre_points(datum, width, float(place), side * deep)), datum) for deep in DEEP
            )
            fibre = outer + (outer - inner) * (1.0 - DEEP[1]) / (DEEP[1] - DEEP[0])
            row[f"sigma_{name}"] = float(fibre.mean())
            row["largest"] = max(row["largest"], float(np.abs(fibre).max()))
        found.append(row)
    return found


def fibre_points(datum: ArmDatum, width: float, s: float, deep: float) -> Floats:
    """Points (p, 3) across the width at a share of the half depth."""
    plane = datum.point(s, deep * float(datum.depth(s)) / 2.0)
    z = ACROSS * width
    return np.column_stack([np.broadcast_to(plane, (len(z), 2)), z])


def along(stress: Floats, datum: ArmDatum) -> Floats:
    """Normal stress along the arm's axis from stress (..., 6) in the arm frame."""
    c, s = datum.along
    return c * c * stress[..., 0] + s * s * stress[..., 1] + 2.0 * c * s * stress[..., 3]


def pivot_section(arm: Arm, datum: ArmDatum, sample: Sample) -> dict[str, float]:
    """The section through the pivot square to the arm: moment about z of the stress in both walls of the hub (N mm), and
    the mean stress along the arm in each wall (MPa). Gauss points over wall and width, uniform stress taken to both faces.
    """
    hub = bore(arm, "pivot")
    inner, outer = hub.bore / 2.0, hub.outside / 2.0
    knots, weights = np.polynomial.legendre.leggauss(THROUGH)
    z = 0.5 * hub.width * knots
    found, moment = {}, 0.0
    for side, name in ((1.0, "plus"), (-1.0, "minus")):
        eta = side * (0.5 * (inner + outer) + 0.5 * (outer - inner) * knots)
        plane = datum.point(0.0, eta)
        points = np.column_stack([np.repeat(plane, THROUGH, axis=0), np.tile(z, THROUGH)])
        stress = along(sample(points), datum).reshape(THROUGH, THROUGH)
        over_width = np.nansum(stress * weights, axis=1) / np.nansum(
            np.where(np.isnan(stress), np.nan, weights), axis=1
        )
        found[f"mean_{name}"] = float(over_width @ weights / 2.0)
        moment -= float((over_width * eta) @ weights / 2.0 * (outer - inner) * hub.width)
    return found | {"M3": moment}


def deflections(mesh: Mesh, arm: Arm, displacement: Floats) -> dict[str, dict[str, float]]:
    """Movement of both pins relative to the pivot bore, across the arm in its plane and sideways along z, mm."""
    moved = relative(mesh, displacement)
    found = {}
    for name in ARMS:
        mean = moved[mesh.nodes(f"{name}_bore")].mean(axis=0)
        found[name] = {"in_plane": float(mean[:2] @ arm_datum(arm, name).across), "sideways": float(mean[2])}
    return found


def of_case(
    mesh: Mesh, arm: Arm, displacement: Floats, stress: Floats, sampler: Sampler, places: dict[str, Floats]
) -> dict[str, Any]:
    """Everything above for one load case; `places` are the stations s of each arm."""

    def sample(points: Floats) -> Floats:
        return sampler(points, stress)

    return {
        "deflection": deflections(mesh, arm, displacement),
        "stations": {name: stations(arm_datum(arm, name), arm.geometry.section.width, places[name], sample) for name in ARMS},
        "pivot_section": {name: pivot_section(arm, arm_datum(arm, name), sample) for name in ARMS},
    }  # fmt: skip
