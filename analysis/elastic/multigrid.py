"""Conjugate gradients for up to eight load cases in lockstep, preconditioned by two-level p-multigrid in single precision.

Fine level: the quadratic elements, smoothed by Chebyshev polynomials of degree 3 on 3 x 3 node-block Jacobi. Coarse level:
the linear elements on the corner nodes of the same mesh, mid-edge nodes the mean of their two ends, factored once. Each case
has its own step lengths; one pass over the matrix serves all. Supports are held by zeros, the matrix stays untouched.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import partial

import numpy as np
from numpy.typing import NDArray

from analysis.elastic import kernels
from analysis.elastic.assembly import Stiffness, stiffness
from analysis.elastic.direct import Factor, factor
from analysis.elastic.element import TET_EDGES
from analysis.elastic.material import Law
from analysis.elastic.mesh import Ordered
from analysis.elastic.pattern import build

Array = NDArray[np.float64]
Single = NDArray[np.float32]
Product = Callable[[Array, Array], None]  # writes A x of the first into the second
DEGREE = 3
RATIO = 10.0  # of the largest to the smallest eigenvalue the smoother works on
SAFETY = 1.25  # on the power iteration's estimate of the largest, which comes from below
POWERS = 6
PARTS = 64  # of the sums: fixed, so that the number of threads changes no bit


@dataclass(frozen=True)
class Levels:
    """Corner nodes (nc,), their mid-edge neighbours (compressed), and the two coarse parents of every node (n, 2)."""

    corners: NDArray[np.int64]
    begin: NDArray[np.int64]
    mids: NDArray[np.int64]
    parents: NDArray[np.int32]


def levels(tets: NDArray[np.int32], count: int) -> Levels:
    """Which nodes are corners, and between which two each mid-edge node lies."""
    corners = np.unique(tets[:, :4]).astype(np.int64)
    coarse = np.full(count, -1, dtype=np.int32)
    coarse[corners] = np.arange(len(corners), dtype=np.int32)
    parents = np.column_stack([coarse, coarse])
    for k, (a, b) in enumerate(TET_EDGES):
        parents[tets[:, 4 + k]] = coarse[tets[:, [a, b]]]
    middle = np.ones(count, dtype=bool)
    middle[corners] = False
    mids = np.flatnonzero(middle)
    ends = parents[mids].T.ravel()
    order = np.argsort(ends, kind="stable")
    begin = np.searchsorted(ends[order], np.arange(len(corners) + 1))
    return Levels(corners, begin, np.tile(mids, 2)[order], parents)


def held_corners(levels: Levels, fixed: NDArray[np.int64]) -> NDArray[np.int64]:
    """Scalar unknowns of the coarse level at the corner nodes among those held."""
    parents = levels.parents[fixed // 3].astype(np.int64)
    return (3 * parents[:, 0] + fixed % 3)[parents[:, 0] == parents[:, 1]]


class Preconditioner:
    """One V-cycle; `apply` turns residuals (n, 24) into corrections (n, 24), both single precision."""

    def __init__(
        self,
        matrix: Stiffness,
        ordered: Ordered,
        material: Law,
        fixed: NDArray[np.int64],
        choice: str | None,
    ) -> None:
        self.matrix = matrix
        pattern = matrix.pattern
        self.rows = (pattern.cuts, pattern.start, pattern.columns, matrix.blocks.astype(np.float32))
        self.inverse = block_inverse(matrix, fixed).astype(np.float32)
        self.levels = levels(pattern.tets, pattern.rows)
        self.coarse, self.held = self._coarse(ordered, material, fixed, choice)
        shape = (pattern.rows, 3 * kernels.WIDTH)
        self.step, self.one, self.two = (np.zeros(shape, dtype=np.float32) for _ in range(3))
        self.small = np.zeros((len(self.levels.corners), 3 * kernels.WIDTH), dtype=np.float32)
        self.largest = SAFETY * self._largest()

    def _coarse(
        self, ordered: Ordered, material: Law, fixed: NDArray[np.int64], choice: str | None
    ) -> tuple[Factor, NDArray[np.int64]]:
        number = self.levels.parents[:, 0]
        pattern = build(number[self.matrix.pattern.tets[:, :4]], len(self.levels.corners))
        straight = np.zeros(len(pattern.tets), dtype=bool)
        linear = stiffness(pattern, ordered.points[self.levels.corners], straight, material)
        held = held_corners(self.levels, fixed)
        return factor(linear, held, single=True, choice=choice), held

    def _largest(self) -> float:
        """Largest eigenvalue of D^-1 A by power iteration on eight fixed random vectors."""
        vector = np.random.default_rng(1).standard_normal(self.step.shape).astype(np.float32)
        zero, estimate = np.zeros_like(vector), 0.0
        for _ in range(POWERS):
            self.step[:] = 0.0
            self._step(vector, zero, 0.0, -1.0, self.one)
            size = np.sqrt(columns(self.step, self.step))
            estimate = float(np.max(size / np.sqrt(columns(vector, vector))))
            vector = self.step / np.tile(size, 3).astype(np.float32)
        return estimate

    def apply(self, right: NDArray[np.float32]) -> NDArray[np.float32]:
        """Pre-smooth from zero, correct on the coarse level, post-smooth: a symmetric operation."""
        x, other = self._smooth(right, None, self.one, self.two)
        self._defect(x, right, other)
        kernels.restrict(self.levels.corners, self.levels.begin, self.levels.mids, other, self.small)
        kernels.prolong(self.levels.parents, self._coarse_solve(), x)
        result, _ = self._smooth(right, x, other, x)
        return result

    def _coarse_solve(self) -> NDArray[np.float32]:
        wide = self.small.reshape(-1, kernels.WIDTH)  # (3 nc, 8): scalar rows of eight right sides
        wide[self.held] = 0.0
        solution = self.coarse.solve(wide)
        return np.ascontiguousarray(solution, dtype=np.float32).reshape(self.small.shape)

    def _smooth(self, right: Single, x: Single | None, into: Single, spare: Single) -> tuple[Single, Single]:
        """Chebyshev (Saad 2003, algorithm 12.1) over [largest / RATIO, largest]; returns the result and the free array."""
        middle, half = 0.5 * self.largest * (1.0 + 1.0 / RATIO), 0.5 * self.largest * (1.0 - 1.0 / RATIO)
        rate = middle / half
        before = 1.0 / rate
        for turn in range(DEGREE):
            momentum, gain = 0.0, 1.0 / middle
            if turn:
                after = 1.0 / (2.0 * rate - before)
                momentum, gain, before = after * before, 2.0 * after / half, after
            self._step(x, right, momentum, gain, into)
            x, into, spare = into, spare, into
        return x, into  # type: ignore[return-value]

    def _step(self, x: Single | None, right: Single, momentum: float, gain: float, into: Single) -> None:
        """step = momentum step + gain D^-1 (right - A x), into = x + step; x is zero where it is None."""
        if x is None:
            kernels.first_step(self.rows[0], self.inverse, right, np.float32(gain), self.step, into)
        else:
            kernels.smooth(
                *self.rows, self.inverse, x, right, np.float32(momentum), np.float32(gain), self.step, into
            )

    def _defect(self, x: Single, right: Single, into: Single) -> None:
        """into = right - A x."""
        kernels.defect(*self.rows, x, right, into)


def block_inverse(matrix: Stiffness, fixed: NDArray[np.int64]) -> Array:
    """Inverse of each node's own 3 x 3 block (n, 3, 3), rows and columns of held unknowns zero."""
    pattern = matrix.pattern
    rows = np.repeat(np.arange(pattern.rows), np.diff(pattern.start))
    own = matrix.blocks[rows == pattern.columns].copy()
    node, axis = fixed // 3, fixed % 3
    for i, a in zip(node, axis, strict=True):
        own[i, a, :] = own[i, :, a] = 0.0
        own[i, a, a] = 1.0
    inverse = np.linalg.inv(own).astype(np.float64)
    inverse[node, axis, axis] = 0.0
    return inverse


def products(matrix: Stiffness) -> Product:
    """y = K x of displacements (n, 24)."""
    pattern = matrix.pattern
    return partial(kernels.product, pattern.cuts, pattern.start, pattern.columns, matrix.blocks)


def columns(x: np.ndarray, y: np.ndarray) -> Array:
    """Dot product of each of the eight cases."""
    sums = np.empty((PARTS, kernels.WIDTH))
    kernels.dots(x, y, sums)
    return sums.sum(axis=0)


def _ratio(top: Array, bottom: Array) -> Array:
    """top / bottom, zero where a case has nothing left to do."""
    return np.divide(top, bottom, out=np.zeros(len(top)), where=bottom > 0.0)


def conjugate(
    product: Product,
    preconditioner: Preconditioner,
    loads: Array,
    fixed: NDArray[np.int64],
    tolerance: float | Array,
    most: int,
) -> tuple[Array, int, bool]:
    """Solve for loads (n, 24); returns displacements (n, 24), iterations, and whether every case reached the tolerance.

    tolerance: of the residual as a share of the load, one for all or (8,). The change of direction is Polak and Ribiere's,
    which forgives a preconditioner in single precision.
    """
    flat = places(fixed)
    r = loads.copy()
    r[flat] = 0.0
    x, q = np.zeros_like(r), np.empty_like(r)
    small = r.astype(np.float32)
    sums = np.empty((PARTS, kernels.WIDTH))
    goal = tolerance**2 * columns(r, r)
    p = preconditioner.apply(small).astype(np.float64)
    before = columns(r, p)
    for iteration in range(1, most + 1):
        product(p, q)
        q[flat] = 0.0
        length = _ratio(before, columns(p, q))
        kernels.move(x, r, p, q, length, small, sums)
        if np.all(sums.sum(axis=0) <= goal):
            return x, iteration, True
        z = preconditioner.apply(small)
        after = columns(r, z)
        share = _ratio(-length * columns(q, z), before)
        kernels.turn(p, z, share)
        before = after
    return x, most, False


def places(fixed: NDArray[np.int64]) -> tuple[NDArray[np.int64], NDArray[np.int64]]:
    """Places of the held unknowns of all eight cases in an (n, 24) array."""
    node = np.repeat(fixed // 3, kernels.WIDTH)
    return node, (kernels.WIDTH * (fixed % 3)[:, None] + np.arange(kernels.WIDTH)).ravel()
