"""Unilateral frictionless contact of bodies with matching surfaces: an active-set search for the closed springs.

Gap g = g0 + n.(u_outer - u_inner), small sliding. The energy  u.K u / 2 - f.u + sum k min(0, g)^2 / 2  is convex with a
continuous slope. Each pass solves for the springs closed now (a Newton step) and goes the whole way where that lowers the
energy, else to the least energy on the way. The energy falls in every pass, so no set can come back, and where the set stays the
same after a whole step that step was exact (Newton's method for piecewise quadratic convex functions ends after finitely many
steps: Sun 1997, J. Optim. Theory Appl. 93, from memory). A case is settled there and nowhere else: its set unchanged, and the
residual of the contact problem itself within tolerance.
"""

from __future__ import annotations

import time
from collections.abc import Callable
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from analysis.contact import kernels as contact_kernels
from analysis.contact.levels import ContactPreconditioner
from analysis.contact.pairs import Pairs
from analysis.elastic import kernels
from analysis.elastic.multigrid import Product, columns, conjugate, places

Array = NDArray[np.float64]
Bools = NDArray[np.bool_]
TOLERANCE = 1e-8  # of the residual against loads and contact forces together
PASSES = 40  # sound models need 5 to 12
ITERATIONS = 300  # of one pass; about 10 are needed
EARLY = 1e-2  # share of its residual at which a pass may stop while the set still changes
FIRST = (
    1e-4  # the same in the first pass, whose residual is that of springs stretched by the whole interference
)
SOFT = (
    1e-9  # stiffness of an open spring in the step, never in the forces: a pin that touches nowhere stays put
)
SOFTER = 1e-6  # the same in the preconditioner, which is in single precision


@dataclass(frozen=True)
class System:
    """What all passes share; nodes in the sorted numbering."""

    product: Product
    preconditioner: ContactPreconditioner
    pairs: Pairs
    fixed: NDArray[np.int64]

    @property
    def surface(self) -> tuple[NDArray[np.int64], NDArray[np.int64], Array]:
        return self.pairs.outer, self.pairs.inner, self.pairs.normal

    def opening(self, x: Array) -> Array:
        """n.(x_outer - x_inner) (p, 8)."""
        opening = np.empty((len(self.pairs.outer), kernels.WIDTH))
        contact_kernels.spread(*self.surface, x, opening)
        return opening

    def pushed(self, force: Array) -> Array:
        """Nodal forces (n, 24) of forces (p, 8) that drive the surfaces apart."""
        nodal = np.zeros((len(self.preconditioner.step), 3 * kernels.WIDTH))
        contact_kernels.push(*self.surface, force, nodal)
        return nodal


@dataclass
class Search:
    """Up to eight cases on their way: displacement and K times it (n, 24), gap and closed set (p, 8)."""

    system: System
    loads: Array
    moved: Array
    start_gap: Array
    closed: Bools
    stiff: Array = field(init=False)  # K times the displacement
    gap: Array = field(init=False)
    changed: NDArray[np.int64] = field(init=False)  # springs that opened or closed in the last pass
    settled: Bools = field(init=False)
    passes: NDArray[np.int64] = field(init=False)  # of each case
    iterations: int = 0
    factors: int = 0
    seconds: dict[str, float] = field(default_factory=lambda: {"coarse factors": 0.0, "gradients": 0.0})

    def __post_init__(self) -> None:
        flat = places(self.system.fixed)
        self.loads[flat] = self.moved[flat] = 0.0
        self.stiff = np.empty_like(self.moved)
        self.system.product(self.moved, self.stiff)
        self.gap = self.start_gap + self.system.opening(self.moved)
        self.changed = np.full(kernels.WIDTH, len(self.gap))
        self.settled = np.zeros(kernels.WIDTH, dtype=bool)
        self.passes = np.zeros(kernels.WIDTH, dtype=np.int64)

    def run(self, most: int) -> Bools:
        """Passes until every case has settled, `most` at most; which have settled."""
        for turn in range(most + 1):
            left, share = self.residual()
            if self.settled.all() or turn == most:
                break
            self.step(left, share, whole=turn == 0)
        return self.settled

    def force(self) -> Array:
        """Contact forces (p, 8) N; those of the first set may pull."""
        return np.where(self.closed, -self.system.pairs.spring[:, None] * self.gap, 0.0)

    def residual(self) -> tuple[Array, Array]:
        """Unbalanced forces (n, 24), zero in settled cases, and the share of them (8,) to which a step must reduce them."""
        contact = self.system.pushed(self.force())
        scale = np.sqrt(columns(self.loads, self.loads)) + np.sqrt(columns(contact, contact))
        left = self.loads + contact - self.stiff
        left[places(self.system.fixed)] = 0.0
        size = np.sqrt(columns(left, left))
        self.settled = (self.changed == 0) & (size <= TOLERANCE * scale) | (scale == 0.0)
        left[:, np.tile(self.settled, 3)] = 0.0
        return left, 0.5 * TOLERANCE * scale / np.maximum(size, 1e-300)

    def step(self, left: Array, share: Array, whole: bool) -> None:
        """One pass: solve with the springs now closed, move, see which are closed then."""
        spring, start = self.system.pairs.spring[:, None], time.perf_counter()
        self.factors += self.system.preconditioner.close(
            self.closed, spring * np.where(self.closed, 1.0, SOFTER)
        )
        begun = time.perf_counter()
        goal = np.maximum(np.where(self.changed == 0, 0.0, FIRST if whole else EARLY), share)
        held = spring * np.where(self.closed, 1.0, SOFT)
        ahead, used, _ = conjugate(
            self.tangent(held), self.system.preconditioner, left, self.system.fixed, goal, ITERATIONS
        )
        pull = np.empty_like(ahead)
        self.system.product(ahead, pull)
        length = np.ones(kernels.WIDTH) if whole else self.length(ahead, pull)
        self.moved += ahead * np.tile(length, 3)
        self.stiff += pull * np.tile(length, 3)
        self.gap = self.start_gap + self.system.opening(self.moved)
        now = self.gap < 0.0
        self.changed = (now != self.closed).sum(axis=0)
        self.closed = now
        self.passes += ~self.settled
        self.iterations += used
        self.seconds["coarse factors"] += begun - start
        self.seconds["gradients"] += time.perf_counter() - begun

    def tangent(self, held: Array) -> Product:
        """K and the springs (p, 8) together."""

        def product(x: Array, y: Array) -> None:
            self.system.product(x, y)
            contact_kernels.couple(*self.system.surface, held, x, y, 1.0)

        return product

    def length(self, ahead: Array, pull: Array) -> Array:
        """Share of the step to go (8,): all of it where that lowers the energy enough (Armijo), else to the least energy."""
        spring, opening = self.system.pairs.spring[:, None], self.system.opening(ahead)
        even, bend = columns(ahead, self.stiff) - columns(ahead, self.loads), columns(ahead, pull)

        def stored(t: Array) -> Array:
            return 0.5 * (spring * np.minimum(0.0, self.gap + t * opening) ** 2).sum(axis=0)

        def slope(t: Array) -> Array:
            touching = spring * np.minimum(0.0, self.gap + t * opening)
            return even + t * bend + (touching * opening).sum(axis=0)

        none, one = np.zeros(kernels.WIDTH), np.ones(kernels.WIDTH)
        change = even + 0.5 * bend + stored(one) - stored(none)
        noise = 1e-10 * stored(none)  # of the sums, which matters in the last passes only
        short = (change > 1e-4 * slope(none) + noise) & (slope(one) > 0.0)
        return np.where(short, root(slope), 1.0) if short.any() else one


def root(slope: Callable[[Array], Array]) -> Array:
    """Where ascending slopes (8,) cross zero between 0 and 1, by halving."""
    low, high = np.zeros(kernels.WIDTH), np.ones(kernels.WIDTH)
    for _ in range(40):
        middle = 0.5 * (low + high)
        up = slope(middle) > 0.0
        low, high = np.where(up, low, middle), np.where(up, middle, high)
    return high
