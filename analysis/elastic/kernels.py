"""Products and sums over rows of 3 x 3 blocks for eight right sides at once.

A node's 24 numbers lie side by side: three components of eight cases, x[node, 8 * component + case]. Reordering of sums is
not allowed to the compiler (it would turn the loop over neighbours into gathers), contraction to fused products is.
"""

from __future__ import annotations

import numpy as np
from numba import njit, prange

WIDTH = 8
SAFE = {"contract", "nsz", "nnan", "ninf"}


@njit(cache=True, fastmath=SAFE, inline="always")
def row(start, columns, blocks, x, i, total):
    """Row i of the product with x (n, 24) into total (24,)."""
    for k in range(24):
        total[k] = 0
    for p in range(start[i], start[i + 1]):
        j = columns[p]
        for a in range(3):
            b0, b1, b2 = blocks[p, a, 0], blocks[p, a, 1], blocks[p, a, 2]
            for c in range(8):
                total[8 * a + c] += b0 * x[j, c] + b1 * x[j, 8 + c] + b2 * x[j, 16 + c]


@njit(cache=True, parallel=True, fastmath=SAFE)
def product(cuts, start, columns, blocks, x, y):
    """y = A x."""
    for part in prange(len(cuts) - 1):
        total = np.empty(24, x.dtype)  # fresh: the compiler knows that nothing else points there
        for i in range(cuts[part], cuts[part + 1]):
            row(start, columns, blocks, x, i, total)
            for k in range(24):
                y[i, k] = total[k]


@njit(cache=True, parallel=True, fastmath=SAFE)
def defect(cuts, start, columns, blocks, x, right, y):
    """y = right - A x."""
    for part in prange(len(cuts) - 1):
        total = np.empty(24, x.dtype)  # fresh: the compiler knows that nothing else points there
        for i in range(cuts[part], cuts[part + 1]):
            row(start, columns, blocks, x, i, total)
            for k in range(24):
                y[i, k] = right[i, k] - total[k]


@njit(cache=True, fastmath=SAFE, inline="always")
def advance(inverse, i, total, momentum, gain, step, x, ahead):
    """step = momentum step + gain D^-1 total; ahead = x + step, at node i."""
    for a in range(3):
        d0, d1, d2 = inverse[i, a, 0] * gain, inverse[i, a, 1] * gain, inverse[i, a, 2] * gain
        for c in range(8):
            new = momentum * step[i, 8 * a + c] + (d0 * total[c] + d1 * total[8 + c] + d2 * total[16 + c])
            step[i, 8 * a + c] = new
            ahead[i, 8 * a + c] = x[i, 8 * a + c] + new


@njit(cache=True, parallel=True, fastmath=SAFE)
def smooth(cuts, start, columns, blocks, inverse, x, right, momentum, gain, step, ahead):
    """One Chebyshev step from x into ahead."""
    for part in prange(len(cuts) - 1):
        total = np.empty(24, x.dtype)  # fresh: the compiler knows that nothing else points there
        for i in range(cuts[part], cuts[part + 1]):
            row(start, columns, blocks, x, i, total)
            for k in range(24):
                total[k] = right[i, k] - total[k]
            advance(inverse, i, total, momentum, gain, step, x, ahead)


@njit(cache=True, parallel=True, fastmath=SAFE)
def first_step(cuts, inverse, right, gain, step, ahead):
    """The first Chebyshev step, from zero: no product is needed."""
    for part in prange(len(cuts) - 1):
        for i in range(cuts[part], cuts[part + 1]):
            for a in range(3):
                d0, d1, d2 = inverse[i, a, 0] * gain, inverse[i, a, 1] * gain, inverse[i, a, 2] * gain
                for c in range(8):
                    new = d0 * right[i, c] + d1 * right[i, 8 + c] + d2 * right[i, 16 + c]
                    step[i, 8 * a + c] = new
                    ahead[i, 8 * a + c] = new


@njit(cache=True, parallel=True, fastmath=SAFE)
def dots(x, y, sums):
    """Dot products case by case into sums (parts, 8): the parts are fixed, so threads do not change a bit."""
    parts, count = len(sums), len(x)
    for part in prange(parts):
        for c in range(8):
            sums[part, c] = 0.0
        for i in range(part * count // parts, (part + 1) * count // parts):
            for c in range(8):
                sums[part, c] += x[i, c] * y[i, c] + x[i, 8 + c] * y[i, 8 + c] + x[i, 16 + c] * y[i, 16 + c]


@njit(cache=True, parallel=True, fastmath=SAFE)
def move(x, r, p, q, length, small, sums):
    """x += length p, r -= length q, small = r in single precision, sums = r . r, case by case."""
    parts, count = len(sums), len(x)
    for part in prange(parts):
        for c in range(8):
            sums[part, c] = 0.0
        for i in range(part * count // parts, (part + 1) * count // parts):
            for a in range(3):
                for c in range(8):
                    k = 8 * a + c
                    x[i, k] += length[c] * p[i, k]
                    new = r[i, k] - length[c] * q[i, k]
                    r[i, k] = new
                    small[i, k] = new
                    sums[part, c] += new * new


@njit(cache=True, parallel=True, fastmath=SAFE)
def turn(p, z, share):
    """p = z + share p, case by case."""
    for i in prange(len(p)):
        for a in range(3):
            for c in range(8):
                p[i, 8 * a + c] = z[i, 8 * a + c] + share[c] * p[i, 8 * a + c]


@njit(cache=True, parallel=True, fastmath=SAFE)
def restrict(corners, begin, mids, fine, coarse):
    """Coarse right side (nc, 24): a corner takes its own and half of each mid-edge node next to it."""
    for i in prange(len(corners)):
        for k in range(24):
            coarse[i, k] = fine[corners[i], k]
        for p in range(begin[i], begin[i + 1]):
            for k in range(24):
                coarse[i, k] += fine.dtype.type(0.5) * fine[mids[p], k]


@njit(cache=True, parallel=True, fastmath=SAFE)
def prolong(parents, coarse, fine):
    """fine += coarse at corners (both parents the same) and the mean of both ends at mid-edge nodes."""
    for i in prange(len(parents)):
        a, b = parents[i, 0], parents[i, 1]
        for k in range(24):
            fine[i, k] += coarse.dtype.type(0.5) * (coarse[a, k] + coarse[b, k])
