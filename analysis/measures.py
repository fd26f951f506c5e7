"""What the mesh says about the quantities that the hand calculation knows: deflections, fibre stresses, ligaments, peaks."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import numpy as np
from numpy.typing import NDArray

from analysis.elastic.mesh import Mesh
from analysis.elastic.sample import Sampler
from analysis.elastic.supports import rigid
from geometry.datums import ARMS, ArmDatum, arm_datum, bore
from params.arm import Arm

Floats = NDArray[np.float64]
Sample = Callable[[Floats], Floats]
ACROSS = np.array([-0.42, -0.2, 0.0, 0.2, 0.42])  # places across a flange's width, as shares of it
DEEP = 0.999  # fibre stresses are read this share of the half depth out, inside the metal
THROUGH = 9  # places over a ligament, and over the hub's width


def stations(arm: Arm, datum: ArmDatum, s: Floats, sample: Sample) -> list[dict[str, float]]:
    """Stress along the arm at the middle of both flanges, mean over the width, and largest equivalent stress there."""
    found = []
    for place in s:
        row = {"s": float(place)}
        for side, name in ((1.0, "plus"), (-1.0, "minus")):
            points = fibre_points(arm, datum, float(place), side)
            stress = sample(points)
            row[f"sigma_{name}"] = float(np.nanmean(along(stress, datum)))
        found.append(row)
    return found


def fibre_points(arm: Arm, datum: ArmDatum, s: float, side: float) -> Floats:
    """Points (p, 3) across the width at the outer fibre on one side."""
    eta = side * DEEP * float(datum.depth(s)) / 2.0
    plane = datum.point(s, eta)
    z = ACROSS * arm.geometry.section.width
    return np.column_stack([np.broadcast_to(plane, (len(z), 2)), z])


def along(stress: Floats, datum: ArmDatum) -> Floats:
    """Normal stress along the arm's axis from stress (..., 6) in the arm frame."""
    c, s = datum.along
    return c * c * stress[..., 0] + s * s * stress[..., 1] + 2.0 * c * s * stress[..., 3]


def ligament(arm: Arm, datum: ArmDatum, side: float, sample: Sample) -> dict[str, float]:
    """Stress along the arm over the hub's wall at the section through the pivot, square to the arm: mean, and at the outside.

    Linear fit over the wall of the mean over the hub's width.
    """
    hub = arm.geometry.pivot
    inner, outer = hub.bore / 2.0, hub.outside / 2.0
    eta = side * np.linspace(inner + 0.02 * (outer - inner), outer - 0.02 * (outer - inner), THROUGH)
    z = np.linspace(-0.4, 0.4, THROUGH) * bore(arm, "pivot").width
    plane = datum.point(0.0, eta)
    points = np.column_stack([np.repeat(plane, THROUGH, axis=0), np.tile(z, THROUGH)])
    values = along(sample(points), datum).reshape(THROUGH, THROUGH).mean(axis=1)
    slope, level = np.polyfit(np.abs(eta), values, 1)
    return {
        "mean": float(values.mean()),
        "outside": float(level + slope * outer),
        "inside": float(level + slope * inner),
    }


def deflections(mesh: Mesh, arm: Arm, displacement: Floats) -> dict[str, dict[str, float]]:
    """Movement of both pins relative to the pivot bore, across the arm in its plane and sideways along z, mm."""
    bore_nodes = mesh.nodes("pivot_bore")
    motion = fitted(mesh.points[bore_nodes], displacement[bore_nodes])
    found = {}
    for name in ARMS:
        nodes = mesh.nodes(f"{name}_bore")
        moved = (displacement[nodes] - motion(mesh.points[nodes])).mean(axis=0)
        across = arm_datum(arm, name).across
        found[name] = {"in_plane": float(moved[:2] @ across), "sideways": float(moved[2])}
    return found


def fitted(points: Floats, moved: Floats) -> Callable[[Floats], Floats]:
    """The rigid motion that fits displacements (p, 3) of points (p, 3) best."""
    middle = points.mean(axis=0)
    modes = rigid(points - middle).reshape(-1, 6)
    amount = np.linalg.lstsq(modes, moved.ravel(), rcond=None)[0]
    return lambda places: (rigid(places - middle).reshape(-1, 6) @ amount).reshape(-1, 3)


def of_case(
    mesh: Mesh, arm: Arm, displacement: Floats, stress: Floats, sampler: Sampler, places: dict[str, Floats]
) -> dict[str, Any]:
    """Everything above for one load case; `places` are the stations s of each arm."""

    def sample(points: Floats) -> Floats:
        return sampler(points, stress)

    return {
        "deflection": deflections(mesh, arm, displacement),
        "stations": {name: stations(arm, arm_datum(arm, name), places[name], sample) for name in ARMS},
        "ligament": {
            name: {"plus": ligament(arm, arm_datum(arm, name), 1.0, sample), "minus": ligament(arm, arm_datum(arm, name), -1.0, sample)}
            for name in ARMS
        },
    }  # fmt: skip
