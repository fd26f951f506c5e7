"""Paired nodes of two surfaces with matching meshes: a bore and the pin in it.

A uniform pressure on a six-node triangle gives no force to its corners and a third to each mid-edge node: contact is imposed at
mid-edge nodes only, each with a third of the faces next to it. The spring of a pair is a stiff layer, PENALTY E / h times its
area, with h the mean element edge: the overlap it leaves is some thousandth of what the pressure does to the bodies.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from analysis.elastic.loads import face_areas
from analysis.elastic.mesh import Mesh
from analysis.elastic.quadrature import triangle

Array = NDArray[np.float64]
Ints = NDArray[np.int64]
PENALTY = 75.0


@dataclass(frozen=True)
class Pairs:
    """outer, inner (p,) nodes; normal (p, 3) from the inner body into the outer; area (p,) mm2; spring (p,) N/mm."""

    outer: Ints
    inner: Ints
    normal: Array
    area: Array
    spring: Array

    def renumbered(self, number: Ints) -> Pairs:
        """With the nodes' numbers changed."""
        return replace(self, outer=number[self.outer], inner=number[self.inner])


def joined(parts: list[Pairs]) -> Pairs:
    """All pairs of several bores, one after the other."""
    names = ("outer", "inner", "normal", "area", "spring")
    return Pairs(*(np.concatenate([getattr(part, name) for part in parts]) for name in names))


def bore_pairs(mesh: Mesh, bore: str, pin: str, centre: tuple[float, float], modulus: float) -> Pairs:
    """Pairs of the surfaces `bore` and `pin` about an axis along z through `centre`.

    Raises
    ------
    ValueError
        where the two surfaces' mid-edge nodes do not coincide.
    """
    area = mid_areas(mesh, bore)
    outer, other = np.flatnonzero(area), np.unique(mesh.surfaces[pin][:, 3:])
    inner = other[matching(mesh.points[outer], mesh.points[other], f"{bore} and {pin}")]
    away = mesh.points[outer, :2] - np.asarray(centre)
    flat = away / np.linalg.norm(away, axis=1, keepdims=True)
    normal = np.column_stack([flat, np.zeros(len(flat))])
    return Pairs(outer, inner, normal, area[outer], PENALTY * modulus / edge(mesh, bore) * area[outer])


def mid_areas(mesh: Mesh, surface: str) -> Array:
    """A third of the area of the faces next to each mid-edge node (n,), zero elsewhere."""
    faces = mesh.surfaces[surface]
    local, weights = triangle(3)
    sizes, _ = face_areas(mesh.points[faces], local, weights)
    areas = np.zeros(len(mesh.points))
    np.add.at(areas, faces[:, 3:], np.repeat(sizes.sum(axis=1)[:, None] / 3.0, 3, axis=1))
    return areas


def edge(mesh: Mesh, surface: str) -> float:
    """Mean length of the faces' edges, mm."""
    corners = mesh.points[mesh.surfaces[surface][:, :3]]
    return float(np.linalg.norm(corners - np.roll(corners, 1, axis=1), axis=2).mean())


def matching(places: Array, others: Array, what: str) -> Ints:
    """For each place the index of the coincident one of `others`."""
    keys = [np.round(points, 5) + 0.0 for points in (places, others)]
    first, second = (np.lexsort(key.T) for key in keys)
    if len(first) != len(second) or not np.allclose(places[first], others[second], rtol=0.0, atol=2e-5):
        raise ValueError(
            f"{what}: their {len(first)} and {len(second)} mid-edge nodes do not coincide; mesh arm and pins together"
        )
    numbers = np.empty(len(first), dtype=np.int64)
    numbers[first] = second
    return numbers


def face_pressures(mesh: Mesh, surface: str, pairs: Pairs, pressure: Array) -> Array:
    """Pressure (C, k, 6) at the nodes of the surface's faces from that of the pairs (C, p): at a corner the mean of what the
    plane through the three mid-edge values of each face gives there, no less than zero."""
    faces = mesh.surfaces[surface]
    nodal = np.zeros((len(pressure), len(mesh.points)))
    nodal[:, pairs.outer] = pressure
    first, second, third = (nodal[:, faces[:, 3 + k]] for k in range(3))  # edges 01, 12, 20
    corners = np.stack([first + third - second, first + second - third, second + third - first], axis=2)
    total, count = np.zeros_like(nodal), np.zeros(len(mesh.points))
    np.add.at(count, faces[:, :3], 1.0)
    for c in range(len(pressure)):
        np.add.at(total[c], faces[:, :3], corners[c])
    own = np.unique(faces[:, :3])
    nodal[:, own] = np.maximum(total[:, own] / count[own], 0.0)
    return nodal[:, faces]
