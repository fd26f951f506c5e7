"""Discretisation error from the difference between the recovered stress and the elements' own (Zienkiewicz and Zhu 1987)."""

from __future__ import annotations

import numpy as np
from numba import njit, prange
from numpy.typing import NDArray

from analysis.elastic.assembly import jacobian, physical
from analysis.elastic.element import gradients, shapes
from analysis.elastic.material import Elastic
from analysis.elastic.mesh import Mesh
from analysis.elastic.quadrature import tetrahedron14
from analysis.elastic.recovery import strain_at, to_stress

Array = NDArray[np.float64]


def energy_error(mesh: Mesh, material: Elastic, displacement: Array, stress: Array) -> tuple[Array, Array]:
    """Estimated error in the energy norm: of each element (C, m) in sqrt(N mm), and relative of the whole (C,).

    Element: square root of the integral of d : C^-1 : d, d = recovered - own stress, by 14 points. Whole: error over
    the square root of (own energy + error squared), both as the integral of stress times strain.
    """
    ordered = mesh.ordered
    moved = np.ascontiguousarray(displacement[:, ordered.order].transpose(1, 2, 0))
    smooth = np.ascontiguousarray(stress[:, ordered.order].transpose(1, 2, 0))
    points, weights = tetrahedron14()
    tets = ordered.pattern.tets
    wrong, own = np.zeros((len(tets), moved.shape[2])), np.zeros((len(tets), moved.shape[2]))
    _integrate(
        ordered.points,
        tets,
        gradients(points),
        shapes(points),
        weights,
        moved,
        smooth,
        material.lame,
        material.mu,
        material.modulus,
        material.poisson,
        wrong,
        own,
    )
    by_element = np.empty((moved.shape[2], len(tets)))
    by_element[:, ordered.pattern.elements] = np.sqrt(wrong).T
    error, energy = wrong.sum(axis=0), own.sum(axis=0)
    return by_element, np.sqrt(error / np.maximum(energy + error, 1e-300))


@njit(cache=True, inline="always")
def _energy(s, modulus, poisson, c):
    """Twice the complementary energy density of case c of stress (6, C)."""
    trace = s[0, c] + s[1, c] + s[2, c]
    square = s[0, c] ** 2 + s[1, c] ** 2 + s[2, c] ** 2 + 2.0 * (s[3, c] ** 2 + s[4, c] ** 2 + s[5, c] ** 2)
    return ((1.0 + poisson) * square - poisson * trace * trace) / modulus


@njit(parallel=True, cache=True, fastmath=True)
def _integrate(points, tets, slopes, shape, weights, moved, smooth, lame, mu, modulus, poisson, wrong, own):
    cases = moved.shape[2]
    parts = 64
    for part in prange(parts):
        inverse, grad = np.empty((3, 3)), np.empty((10, 3))
        at = np.empty((6, cases))
        for e in range(part * len(tets) // parts, (part + 1) * len(tets) // parts):
            nodes = tets[e]
            for q in range(len(weights)):
                volume = weights[q] * jacobian(points, nodes, slopes[q], inverse)
                physical(slopes[q], inverse, grad)
                strain_at(grad, nodes, moved, at)
                to_stress(at, lame, mu)
                for c in range(cases):
                    own[e, c] += volume * _energy(at, modulus, poisson, c)
                for k in range(10):
                    for s in range(6):
                        for c in range(cases):
                            at[s, c] -= shape[q, k] * smooth[nodes[k], s, c]
                for c in range(cases):
                    wrong[e, c] += volume * _energy(at, modulus, poisson, c)
