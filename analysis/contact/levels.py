"""The two-level preconditioner of `multigrid` with the springs of a contact, open or closed in each case.

Fine level: a pair of contact nodes is smoothed by its own 6 x 6 block. Coarse level: a mid-edge node is the mean of its edge's
ends, so a spring between two of them joins four corner nodes; each set of closed springs gets a factor of its own.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from analysis.contact import kernels as contact_kernels
from analysis.contact.pairs import Pairs
from analysis.elastic import kernels
from analysis.elastic.assembly import Stiffness, stiffness
from analysis.elastic.direct import Factor, factor
from analysis.elastic.material import Law, Mixed
from analysis.elastic.mesh import Ordered
from analysis.elastic.multigrid import Preconditioner, Single, held_corners
from analysis.elastic.pattern import Pattern, build

Array = NDArray[np.float64]
STALE = 0.05  # share of the springs that may have changed before a case's coarse matrix is factored again


class ContactPreconditioner(Preconditioner):
    """As its parent, for eight cases whose closed springs differ: all closed at first, then as `close` says."""

    def __init__(
        self,
        matrix: Stiffness,
        ordered: Ordered,
        law: Mixed,
        fixed: NDArray[np.int64],
        pairs: Pairs,
        choice: str | None,
    ) -> None:
        self.pairs, self.law, self.choice = pairs, law, choice
        self.normal = pairs.normal.astype(np.float32)
        self.aside = np.empty((2, 2, len(pairs.outer), 3 * kernels.WIDTH), dtype=np.float32)
        self.stiff = np.repeat(pairs.spring[:, None], kernels.WIDTH, axis=1).astype(np.float32)
        super().__init__(matrix, ordered, law, fixed, choice)
        self.factors: list[Factor] = [self.coarse] * kernels.WIDTH
        self.sets = np.ones(self.stiff.shape, dtype=bool)

    def _coarse(
        self, ordered: Ordered, material: Law, fixed: NDArray[np.int64], choice: str | None
    ) -> tuple[Factor, NDArray[np.int64]]:
        """Pattern and stiffness with room for the springs, and the factor with all of them closed."""
        number, count = self.levels.parents[:, 0], len(self.levels.corners)
        fine = self.matrix.pattern
        corners = number[fine.tets[:, :4]]
        plain = build(corners, count)
        law = Mixed(self.law.laws, self.law.body[fine.elements])
        straight = np.zeros(len(corners), dtype=bool)
        linear = stiffness(plain, ordered.points[self.levels.corners], straight, law)
        four = np.hstack([self.levels.parents[self.pairs.outer], self.levels.parents[self.pairs.inner]])
        self.wide = build(np.vstack([corners, four]), count)
        self.blocks = np.zeros((len(self.wide.columns), 3, 3))
        self.blocks[places_of(self.wide, *coordinates(plain))] = linear.blocks
        rows, columns = np.repeat(four, 4, axis=1), np.tile(four, (1, 4))
        self.at = places_of(self.wide, rows.ravel(), columns.ravel()).reshape(-1, 16)
        self._soften()
        held = held_corners(self.levels, fixed)
        return self._factor(self.pairs.spring, held), held

    def _soften(self) -> None:
        """What a unit pull along the normal does to each node of a pair through its own inverse block."""
        outer, inner = (
            np.einsum("pij,pj->pi", self.inverse[nodes].astype(float), self.pairs.normal)
            for nodes in (self.pairs.outer, self.pairs.inner)
        )
        self.soft = np.stack([outer, inner]).astype(np.float32)
        self.give = np.einsum("pi,pi->p", outer + inner, self.pairs.normal)
        self.share = (self.stiff / (1.0 + self.stiff * self.give[:, None])).astype(np.float32)

    def close(self, closed: NDArray[np.bool_], stiff: Array) -> int:
        """Take the closed springs and their stiffness (p, 8) of all cases; returns how many coarse matrices were factored."""
        self.stiff = stiff.astype(np.float32)
        self.share = (self.stiff / (1.0 + self.stiff * self.give[:, None])).astype(np.float32)
        factored = 0
        for c in range(kernels.WIDTH):
            if (self.sets[:, c] != closed[:, c]).sum() <= STALE * len(closed):
                continue
            same = [b for b in range(kernels.WIDTH) if np.array_equal(self.sets[:, b], closed[:, c])]
            factored += not same
            self.factors[c] = self.factors[same[0]] if same else self._factor(stiff[:, c], self.held)
            self.sets[:, c] = closed[:, c]
        return factored

    def free(self) -> None:
        """Give the factors' memory back."""
        for one in (self.coarse, *self.factors):
            one.free()

    def _factor(self, stiff: Array, held: NDArray[np.int64]) -> Factor:
        """The coarse matrix with springs (p,)."""
        quarter = np.array([0.5, 0.5, -0.5, -0.5])
        weight = np.outer(quarter, quarter).ravel()
        pull = np.einsum("p,pi,pj->pij", stiff, self.pairs.normal, self.pairs.normal)
        blocks = self.blocks.copy()
        for k in range(16):
            np.add.at(blocks, self.at[:, k], weight[k] * pull)
        matrix = Stiffness(self.wide, blocks, np.zeros(0))
        return factor(matrix, held, single=True, choice=self.choice)

    def _coarse_solve(self) -> Single:
        wide = self.small.reshape(-1, kernels.WIDTH)
        wide[self.held] = 0.0
        solution = np.empty_like(wide)
        for one in {id(f): f for f in self.factors}.values():
            mine = [c for c in range(kernels.WIDTH) if self.factors[c] is one]
            solution[:, mine] = one.solve(wide[:, mine])
        return solution.reshape(self.small.shape)

    def _step(self, x: Single | None, right: Single, momentum: float, gain: float, into: Single) -> None:
        p = self.pairs
        contact_kernels.keep_aside(p.outer, p.inner, right, self.step, self.aside)
        if x is not None:
            contact_kernels.couple(p.outer, p.inner, self.normal, self.stiff, x, right, np.float32(-1.0))
        super()._step(x, right, momentum, gain, into)
        contact_kernels.mend(
            p.outer,
            p.inner,
            self.normal,
            self.soft,
            self.share,
            np.float32(momentum if x is not None else 0.0),
            self.aside,
            right,
            self.step,
            into,
        )

    def _defect(self, x: Single, right: Single, into: Single) -> None:
        super()._defect(x, right, into)
        p = self.pairs
        contact_kernels.couple(p.outer, p.inner, self.normal, self.stiff, x, into, np.float32(-1.0))


def coordinates(pattern: Pattern) -> tuple[NDArray[np.int64], NDArray[np.int64]]:
    """Row and column of every block."""
    rows = np.repeat(np.arange(pattern.rows), np.diff(pattern.start))
    return rows, pattern.columns.astype(np.int64)


def places_of(pattern: Pattern, rows: NDArray[np.integer], columns: NDArray[np.integer]) -> NDArray[np.int64]:
    """Where the blocks of these rows and columns lie."""
    own_rows, own_columns = coordinates(pattern)
    keys = own_rows * pattern.rows + own_columns  # ascending, for so are the columns of a row
    return np.searchsorted(keys, rows.astype(np.int64) * pattern.rows + columns)
