"""Stiffness of all elements, straight into the rows of the pattern.

With S = integral of grad N_i (x) grad N_j over the element, the 3 x 3 block of nodes i, j is
lambda S + mu S^T + mu tr(S) I: no strain or material matrices are formed.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numba import njit, prange
from numpy.typing import NDArray

from analysis.elastic.element import gradients
from analysis.elastic.material import Law
from analysis.elastic.pattern import Pattern
from analysis.elastic.quadrature import tetrahedron4, tetrahedron14


@dataclass(frozen=True)
class Stiffness:
    """blocks (b, 3, 3) N/mm in the order of pattern.columns; least (m,) Jacobian in mm3 x 6 of each of the pattern's elements."""

    pattern: Pattern
    blocks: NDArray[np.float64]
    least: NDArray[np.float64]


def stiffness(
    pattern: Pattern, points: NDArray[np.float64], curved: NDArray[np.bool_], material: Law
) -> Stiffness:
    """Assemble elements of 4 or 10 nodes; points (n, 3) in the pattern's numbering; curved (m,) in the pattern's order.

    Straight elements take 4 points (exact), curved ones 14; linear elements take the same rules, each exact.
    """
    linear = pattern.tets.shape[1] == 4
    lame, mu = material.constants(pattern.elements)
    few, few_weights = tetrahedron4()
    many, many_weights = tetrahedron14()
    blocks = np.zeros((len(pattern.columns), 3, 3))
    least = np.zeros(len(pattern.tets))
    if linear:
        few, few_weights = few[:1], few_weights[:1] * 4.0  # its gradients are constant: one point will do
    _assemble(
        points,
        pattern.tets,
        curved,
        pattern.start,
        pattern.columns,
        pattern.cuts,
        gradients(few, linear),
        few_weights,
        gradients(many, linear),
        many_weights,
        lame,
        mu,
        blocks,
        least,
    )
    return Stiffness(pattern, blocks, least)


@njit(cache=True, inline="always")
def jacobian(points, nodes, slope, inverse):
    """Write the inverse of the Jacobian matrix d x / d local into `inverse` (3, 3) and return its determinant."""
    a = b = c = d = e = f = g = h = i = 0.0
    for k in range(len(nodes)):
        x, y, z = points[nodes[k], 0], points[nodes[k], 1], points[nodes[k], 2]
        s, t, u = slope[k, 0], slope[k, 1], slope[k, 2]
        a += x * s
        b += x * t
        c += x * u
        d += y * s
        e += y * t
        f += y * u
        g += z * s
        h += z * t
        i += z * u
    det = a * (e * i - f * h) - b * (d * i - f * g) + c * (d * h - e * g)
    q = 1.0 / det if det != 0.0 else 0.0
    inverse[0, 0], inverse[0, 1], inverse[0, 2] = (
        (e * i - f * h) * q,
        (c * h - b * i) * q,
        (b * f - c * e) * q,
    )
    inverse[1, 0], inverse[1, 1], inverse[1, 2] = (
        (f * g - d * i) * q,
        (a * i - c * g) * q,
        (c * d - a * f) * q,
    )
    inverse[2, 0], inverse[2, 1], inverse[2, 2] = (
        (d * h - e * g) * q,
        (b * g - a * h) * q,
        (a * e - b * d) * q,
    )
    return det


@njit(cache=True, inline="always")
def physical(slope, inverse, out):
    """Gradients in x, y, z (nodes, 3) from local gradients."""
    for k in range(slope.shape[0]):
        for x in range(3):
            out[k, x] = (
                slope[k, 0] * inverse[0, x] + slope[k, 1] * inverse[1, x] + slope[k, 2] * inverse[2, x]
            )


@njit(cache=True)
def _products(points, nodes, slopes, weights, inverse, grad, S):
    """Sum of w |J| grad_i (x) grad_j for i <= j into S (nodes, nodes, 3, 3); returns the least Jacobian."""
    count = len(nodes)
    least = np.inf
    S[:] = 0.0
    for q in range(len(weights)):
        det = jacobian(points, nodes, slopes[q], inverse)
        least = min(least, det)
        physical(slopes[q], inverse, grad)
        w = weights[q] * det
        for i in range(count):
            x, y, z = w * grad[i, 0], w * grad[i, 1], w * grad[i, 2]
            for j in range(i, count):
                for b in range(3):
                    S[i, j, 0, b] += x * grad[j, b]
                    S[i, j, 1, b] += y * grad[j, b]
                    S[i, j, 2, b] += z * grad[j, b]
    return least


@njit(cache=True, inline="always")
def place(columns, low, high, node):
    """Position of `node` in the ascending columns[low:high]."""
    while high - low > 1:
        middle = (low + high) // 2
        if columns[middle] <= node:
            low = middle
        else:
            high = middle
    return low


@njit(parallel=True, cache=True)
def _assemble(  # noqa: C901, PLR0912 - one loop nest: a call inside would keep the compiler from packing it
    points, tets, curved, start, columns, cuts, few, few_w, many, many_w, lame, mu, blocks, least
):
    count = tets.shape[1]
    for part in prange(len(cuts) - 1):
        first, last = cuts[part], cuts[part + 1]
        S = np.empty((count, count, 3, 3))
        inverse = np.empty((3, 3))
        grad = np.empty((count, 3))
        for e in range(tets.shape[0]):
            nodes = tets[e]
            if nodes.min() >= last:
                break  # elements are sorted by their least node
            if nodes.max() < first:
                continue
            if curved[e]:
                least[e] = _products(points, nodes, many, many_w, inverse, grad, S)
            else:
                least[e] = _products(points, nodes, few, few_w, inverse, grad, S)
            for i in range(count):
                for j in range(i, count):
                    s = S[i, j]
                    trace = mu[e] * (s[0, 0] + s[1, 1] + s[2, 2])
                    for at, to, turned in ((i, j, False), (j, i, True)):
                        row = nodes[at]
                        if row < first or row >= last or (turned and i == j):
                            continue
                        block = blocks[place(columns, start[row], start[row + 1], nodes[to])]
                        for a in range(3):
                            block[a, a] += trace
                            for b in range(3):
                                if turned:
                                    block[a, b] += lame[e] * s[b, a] + mu[e] * s[a, b]
                                else:
                                    block[a, b] += lame[e] * s[a, b] + mu[e] * s[b, a]
