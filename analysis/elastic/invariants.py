"""Equivalent stress, principal stresses and peaks on a surface."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from analysis.elastic.mesh import Mesh

Array = NDArray[np.float64]


@dataclass(frozen=True)
class Peak:
    """Largest values on a surface, MPa, and where (mm)."""

    equivalent: float
    equivalent_at: tuple[float, float, float]
    principal: float
    principal_at: tuple[float, float, float]


def von_mises(stress: Array) -> Array:
    """Equivalent stress (...) from stress (..., 6): xx, yy, zz, xy, yz, zx."""
    x, y, z, xy, yz, zx = np.moveaxis(stress, -1, 0)
    return np.sqrt(0.5 * ((x - y) ** 2 + (y - z) ** 2 + (z - x) ** 2) + 3.0 * (xy**2 + yz**2 + zx**2))


def principals(stress: Array) -> Array:
    """Principal stresses (..., 3), largest first, by the trigonometric solution of the cubic."""
    x, y, z, xy, yz, zx = np.moveaxis(stress, -1, 0)
    mean = (x + y + z) / 3.0
    a, b, c = x - mean, y - mean, z - mean
    radius = np.sqrt((a * a + b * b + c * c + 2.0 * (xy * xy + yz * yz + zx * zx)) / 6.0)
    third = a * (b * c - yz * yz) - xy * (xy * c - yz * zx) + zx * (xy * yz - b * zx)
    safe = np.where(radius > 0.0, radius, 1.0)
    angle = np.arccos(np.clip(third / (2.0 * safe**3), -1.0, 1.0)) / 3.0
    turns = 2.0 * np.pi / 3.0 * np.arange(3)
    values = mean[..., None] + 2.0 * radius[..., None] * np.cos(angle[..., None] - turns[[0, 1, 2]])
    return -np.sort(-values, axis=-1)


def peak(stress: Array, mesh: Mesh, surface: str) -> Peak:
    """Peak of one case's nodal stress (n, 6) on a named surface."""
    return peak_of(stress, mesh, mesh.nodes(surface))


def peak_of(stress: Array, mesh: Mesh, nodes: NDArray[np.int64]) -> Peak:
    """Peak of one case's nodal stress (n, 6) over some nodes; ties go to the first."""
    equivalent, principal = von_mises(stress[nodes]), principals(stress[nodes])[:, 0]
    worst, first = int(np.argmax(equivalent)), int(np.argmax(principal))
    return Peak(
        float(equivalent[worst]),
        tuple(mesh.points[nodes[worst]].tolist()),
        float(principal[first]),
        tuple(mesh.points[nodes[first]].tolist()),
    )
