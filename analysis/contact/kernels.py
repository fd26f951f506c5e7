"""Springs between paired nodes of two surfaces, for eight load cases at once.

Pair i joins node outer[i] to node inner[i] along normal[i], which points from the inner body into the outer one. Every node is
in one pair at most, so pairs can be worked on in any order. Displacements (n, 24) as in `kernels`.
"""

from __future__ import annotations

from numba import njit, prange

from analysis.elastic.kernels import SAFE


@njit(cache=True, parallel=True, fastmath=SAFE)
def spread(outer, inner, normal, x, opening):
    """opening (p, 8): how far the outer node moves away from the inner one along the normal."""
    for i in prange(len(outer)):
        for c in range(8):
            opening[i, c] = 0
            for a in range(3):
                opening[i, c] += normal[i, a] * (x[outer[i], 8 * a + c] - x[inner[i], 8 * a + c])


@njit(cache=True, parallel=True, fastmath=SAFE)
def push(outer, inner, normal, force, y):
    """Add to y (n, 24) the forces (p, 8) that drive outer and inner node apart."""
    for i in prange(len(outer)):
        for a in range(3):
            for c in range(8):
                y[outer[i], 8 * a + c] += normal[i, a] * force[i, c]
                y[inner[i], 8 * a + c] -= normal[i, a] * force[i, c]


@njit(cache=True, parallel=True, fastmath=SAFE)
def couple(outer, inner, normal, stiff, x, y, sign):
    """y += sign C x, C the springs of stiffness (p, 8)."""
    for i in prange(len(outer)):
        for c in range(8):
            opening = x[0, 0] * 0
            for a in range(3):
                opening += normal[i, a] * (x[outer[i], 8 * a + c] - x[inner[i], 8 * a + c])
            force = sign * stiff[i, c] * opening
            for a in range(3):
                y[outer[i], 8 * a + c] += normal[i, a] * force
                y[inner[i], 8 * a + c] -= normal[i, a] * force


@njit(cache=True, parallel=True)
def keep_aside(outer, inner, right, step, held):
    """held (2, 2, p, 24): right side and step at outer and inner nodes before a smoothing step."""
    for i in prange(len(outer)):
        for k in range(24):
            held[0, 0, i, k] = right[outer[i], k]
            held[0, 1, i, k] = right[inner[i], k]
            held[1, 0, i, k] = step[outer[i], k]
            held[1, 1, i, k] = step[inner[i], k]


@njit(cache=True, parallel=True, fastmath=SAFE)
def mend(outer, inner, normal, soft, share, momentum, held, right, step, ahead):
    """Turn a smoothing step by each node's own inverse block into one by the inverse of the pair's 6 x 6 block.

    soft (2, p, 3): inverse block times normal, of outer and inner node. share (p, 8): k / (1 + k n.(soft_o + soft_i)), the
    rank-one change of Sherman and Morrison. Puts the right side back as it was.
    """
    for i in prange(len(outer)):
        o, n = outer[i], inner[i]
        for c in range(8):
            opening = step[o, c] * 0
            for a in range(3):
                k = 8 * a + c
                opening += normal[i, a] * (
                    (step[o, k] - momentum * held[1, 0, i, k]) - (step[n, k] - momentum * held[1, 1, i, k])
                )
            take = share[i, c] * opening  # the gain is in the step already
            for a in range(3):
                k = 8 * a + c
                step[o, k] -= take * soft[0, i, a]
                ahead[o, k] -= take * soft[0, i, a]
                step[n, k] += take * soft[1, i, a]
                ahead[n, k] += take * soft[1, i, a]
        for k in range(24):
            right[o, k] = held[0, 0, i, k]
            right[n, k] = held[0, 1, i, k]
