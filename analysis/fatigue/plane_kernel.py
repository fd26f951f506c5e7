"""The compiled part of the search over planes: one node at a time, nodes shared among threads.

A changed mean-stress rule asks for a changed file here: compiled code is kept by this file's date.
`duty` is (start, end, table of low, high, cycles a year, further states passed) and `law` is (curve, kind of
mean rule, its number, its credit for compression), the curve being (knee, cycles at knee, slope, slope beyond, limit, cut-off).
"""

from __future__ import annotations

import numba
import numpy as np

from analysis.fatigue.meanstress import equivalent_amplitude

CLOSING = 12  # rounds; each either moves to a better neighbour or halves the step


@numba.njit(cache=True)
def _on_plane(s, n, duty, law, scale):
    """Damage of a year, largest equivalent range and the cycle that does most, on one plane of one node."""
    table = duty[2]
    line, kind, number, credit = law
    total, most, worst, worst_weight = 0.0, 0.0, 0, -1.0
    for k in range(len(table)):
        low, high = _ends(s, n, k, duty)
        wide = 2.0 * equivalent_amplitude(
            0.5 * scale * (high - low), 0.5 * scale * (low + high), kind, number, credit
        )
        most = max(most, wide)
        share = 0.0
        if wide > 0.0 and wide >= line[5]:
            slope = line[2] if wide >= line[0] else line[3]
            share = table[k, 2] / line[1] * (wide / line[0]) ** slope
        total += share
        weight = share if share > 0.0 else wide * 1e-300  # without damage the widest cycle leads
        if weight > worst_weight:
            worst, worst_weight = k, weight
    if most < line[4]:
        total = 0.0  # the whole history under the limit
    return total, most, worst


@numba.njit(cache=True)
def _ends(s, n, k, duty):
    """Least and most normal stress of cycle k on a plane."""
    start, end, table, also = duty
    a = _normal(s[start[k]], n)
    d = _normal(s[end[k]], n) - a
    one, other = a + table[k, 0] * d, a + table[k, 1] * d
    low, high = min(one, other), max(one, other)
    for load_state in also[k]:
        if load_state >= 0:
            passed = _normal(s[load_state], n)
            low, high = min(low, passed), max(high, passed)
    return low, high


@numba.njit(cache=True)
def _normal(s, n):
    direct = s[0] * n[0] * n[0] + s[1] * n[1] * n[1] + s[2] * n[2] * n[2]
    return direct + 2.0 * (s[3] * n[0] * n[1] + s[4] * n[1] * n[2] + s[5] * n[2] * n[0])


@numba.njit(cache=True)
def _closer(s, n, damage, wide, duty, law):
    """Pattern search about the best plane: four neighbours, the step halved where none is better."""
    step = 0.1
    for _ in range(CLOSING):
        u = np.array([-n[1], n[0], 0.0]) if abs(n[2]) < 0.9 else np.array([0.0, -n[2], n[1]])
        u /= np.sqrt((u * u).sum())
        v = np.cross(n, u)
        better = False
        for side in range(4):
            lean = step if side % 2 == 0 else -step
            t = n + lean * u if side < 2 else n + lean * v
            t /= np.sqrt((t * t).sum())
            d, w, _ = _on_plane(s, t, duty, law, 1.0)
            if d > damage or (d == damage and w > wide):
                n, damage, wide, better = t, d, w, True
        if not better:
            step *= 0.5
    return n, damage, wide


@numba.njit(cache=True)
def _reserve(s, n, duty, law, years):
    """Factor on the stresses at which the years use up the plane, by bisection of its logarithm."""
    low, high = 1e-3, 1e3
    if _on_plane(s, n, duty, law, high)[0] * years < 1.0:
        return np.inf  # hardly any stress here
    for _ in range(34):  # a millionfold span to one part in 1e9
        middle = np.sqrt(low * high)
        if _on_plane(s, n, duty, law, middle)[0] * years > 1.0:
            high = middle
        else:
            low = middle
    return low


@numba.njit(cache=True)
def _worst(s, own, planes, duty, law):
    """Normal of the worst plane of one node, its damage and its largest equivalent range."""
    best, most, n = -1.0, -1.0, planes[0].copy()
    for j in range(len(planes) + len(own)):
        trial = planes[j] if j < len(planes) else own[j - len(planes)]
        d, w, _ = _on_plane(s, trial, duty, law, 1.0)
        if d > best or (d == best and w > most):
            best, most, n = d, w, trial.copy()
    return _closer(s, n, best, most, duty, law)


@numba.njit(cache=True, parallel=True)
def worst_planes(stress, own, planes, duty, lines, kinds, numbers, credits, which, years):
    """Columns: damage, range, mean, equivalent range, reserve; beside them the normals and the worst
    cycles.
    """
    figures = np.zeros((len(stress), 5))
    normal, worst = np.zeros((len(stress), 3)), np.zeros(len(stress), np.int64)
    for i in numba.prange(len(stress)):
        s, c = stress[i], which[i]
        law = (lines[c], kinds[c], numbers[c], credits[c])
        n, damage, most = _worst(s, own[i], planes, duty, law)
        k = _on_plane(s, n, duty, law, 1.0)[2]
        low, high = _ends(s, n, k, duty)
        normal[i], worst[i] = n, k
        figures[i, 0], figures[i, 3] = damage, most
        figures[i, 1], figures[i, 2] = high - low, 0.5 * (low + high)
        figures[i, 4] = _reserve(s, n, duty, law, years)
    return figures, normal, worst
