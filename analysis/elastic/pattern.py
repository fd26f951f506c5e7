"""Where the stiffness lies: nodes sorted along the body, one row of 3 x 3 blocks for each node.

Nodes are numbered along the longest direction, so that a range of rows is a slice of the body: each thread owns one range,
elements on the border between two ranges are computed twice, and nothing is locked. The sum in a row is always taken in the
order of the elements, so the number of threads does not change a bit.
"""

from __future__ import annotations

from dataclasses import dataclass

import numba
import numpy as np
from numba import njit, prange
from numpy.typing import NDArray

Ints = NDArray[np.int32]


@dataclass(frozen=True)
class Pattern:
    """Rows in compressed form over `tets`, which carry the sorted numbers and are sorted by their least node."""

    tets: Ints  # (m, nodes of an element)
    elements: NDArray[np.int64]  # (m,) number of each element in the mesh
    start: NDArray[np.int64]  # (n + 1,)
    columns: Ints  # (blocks,)
    cuts: NDArray[np.int64]  # (threads + 1,) rows owned by each thread

    @property
    def rows(self) -> int:
        return len(self.start) - 1


def along(points: NDArray[np.float64]) -> NDArray[np.int64]:
    """Sorting of the nodes along the direction in which the body is longest: order[new] = old."""
    away = points - points.mean(axis=0)
    _, axes = np.linalg.eigh(away.T @ away)
    return np.argsort(away @ axes[:, -1], kind="stable")


def build(tets: NDArray[np.integer], count: int) -> Pattern:
    """Pattern of elements (m, k) whose nodes carry sorted numbers below `count`."""
    least = tets.min(axis=1)
    elements = np.argsort(least, kind="stable")
    sorted_tets = np.ascontiguousarray(tets[elements], dtype=np.int32)
    begin, holders = _holders(sorted_tets, count)
    cuts = np.linspace(0, count, numba.get_num_threads() + 1).astype(np.int64)
    size = np.zeros(count + 1, dtype=np.int64)
    none = np.zeros(0, dtype=np.int32)
    _rows(sorted_tets, begin, holders, cuts, size[1:], none, size)
    start = np.cumsum(size)
    columns = np.empty(start[-1], dtype=np.int32)
    _rows(sorted_tets, begin, holders, cuts, size[1:], columns, start)
    return Pattern(sorted_tets, elements, start, columns, cuts)


@njit(cache=True)
def _holders(tets, count):
    """Elements of each node, compressed."""
    begin = np.zeros(count + 1, dtype=np.int64)
    for e in range(tets.shape[0]):
        for k in range(tets.shape[1]):
            begin[tets[e, k] + 1] += 1
    for i in range(count):
        begin[i + 1] += begin[i]
    put = begin[:-1].copy()
    holders = np.empty(begin[-1], dtype=np.int32)
    for e in range(tets.shape[0]):
        for k in range(tets.shape[1]):
            i = tets[e, k]
            holders[put[i]] = e
            put[i] += 1
    return begin, holders


@njit(parallel=True, cache=True)
def _rows(tets, begin, holders, cuts, size, columns, start):
    """Count the neighbours of each node into `size`; where `columns` has room, write them, ascending."""
    count = len(begin) - 1
    for part in prange(len(cuts) - 1):
        seen = np.full(count, -1, dtype=np.int32)
        for i in range(cuts[part], cuts[part + 1]):
            filled = 0
            for h in range(begin[i], begin[i + 1]):
                for k in range(tets.shape[1]):
                    j = tets[holders[h], k]
                    if seen[j] != i:
                        seen[j] = i
                        if len(columns) > 0:
                            columns[start[i] + filled] = j
                        filled += 1
            size[i] = filled
            if len(columns) > 0:
                columns[start[i] : start[i] + filled].sort()
