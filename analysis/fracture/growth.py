"""Crack growth to the end of the section, in steps of size, not of cycles. MPa, mm, N/mm^1.5, years.

Every step makes the dimension that grows fastest larger by the same share, so that a step is short in years where
the crack is fast; Heun's rule gives the others and the time. n cracks, each with its own factors on load, growth
rate and toughness, go in lockstep: one crack is the same code. It ends where the diagram of BS 7910 is reached,
where the crack leaves the range of its solution, or beyond the horizon.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from enum import StrEnum

import numpy as np
from numpy.typing import ArrayLike, NDArray

from analysis.fracture.bodies import Body
from analysis.fracture.fad import Diagram, plasticity
from analysis.fracture.growth_law import Law
from params.schema.units import System, show
from params.steps.problems import OutOfRange

Floats = NDArray[np.float64]
STEP = 0.02  # share by which a step makes the crack larger
LEAST_RATIO, MOST_RATIO = -99.0, 0.99


class End(StrEnum):
    """Why growth ended, and what to do about it."""

    TOUGHNESS = "toughness reached: the crack becomes critical"
    COLLAPSE = "net section reached: plastic collapse"
    RANGE = "crack leaves the range of its solution: count it as the end, or go on as a through crack"
    ARREST = "below the threshold: the crack does not grow"
    HORIZON = "lasts beyond the horizon"


@dataclass(frozen=True)
class Block:
    """Cycles a year that pass these states: `states` (E, B), each as factors on the body's B basis stresses.

    A cycle runs at every end of the front between the states of least and highest K there: K is linear in the stress, so each
    state has its own. The range is the whole one, also where the least closes the crack (BS 7910:2013 8.2: residual stress may
    hold it open); a front that is closed at both ends, residual stress included, does not grow. R is that of K, at the front.
    """

    per_year: float
    states: Floats

    def __post_init__(self) -> None:
        states = np.atleast_2d(np.asarray(self.states, float))
        object.__setattr__(self, "states", states)
        if not self.per_year > 0.0 or len(states) < 2:
            raise ValueError(
                f"{self.per_year:g} cycles a year between {len(states)} states: more than 0, and 2 states or more expected"
            )


@dataclass(frozen=True)
class Service:
    """What the crack is asked to bear: growing cycles, the highest loads, and what the material stands."""

    blocks: Sequence[Block]
    highest: Floats  # (Q, B) states of highest load, as factors on the body's basis stresses
    law: Law
    diagram: Diagram
    toughness: float  # N/mm^1.5
    residual: Floats | None = None  # (B,) likewise; secondary: counts in Kr and R, not in Lr

    def __post_init__(self) -> None:
        object.__setattr__(self, "highest", np.atleast_2d(np.asarray(self.highest, float)))

    @property
    def per_year(self) -> float:
        """All cycles of a year."""
        return sum(block.per_year for block in self.blocks)

    @property
    def carried(self) -> Service:
        """The same with the states of its cycles in place of the highest: what the arm has carried many times."""
        states = [block.states for block in self.blocks]
        return replace(self, highest=np.vstack(states)) if states else self

    def steady(self, influence: Floats) -> Floats | float:
        """K of the residual stress (P, n), 0.0 without."""
        if self.residual is None or not np.any(self.residual):
            return 0.0
        return combined(self.residual[None], influence)[0]


def combined(states: Floats, influence: Floats) -> Floats:
    """K (E, P, n) of states (E, B), from that of each basis stress (B, P, n)."""
    return np.tensordot(states, influence, axes=1)


@dataclass(frozen=True)
class Factors:
    """Factors of each crack on stress, growth rate and toughness, (n,) or one for all."""

    load: ArrayLike = 1.0
    growth: ArrayLike = 1.0
    toughness: ArrayLike = 1.0


@dataclass(frozen=True)
class Growth:
    """Years until the end (infinite where it does not come), sizes there (P, n), causes (n,) of End.

    `path` holds years and sizes of the first crack at every step: (steps,) and (P, steps).
    """

    years: Floats
    sizes: Floats
    cause: NDArray[np.str_]
    path_years: Floats
    path_sizes: Floats
    steps: int

    def cycles(self, service: Service) -> Floats:
        """The years as cycles of all blocks together."""
        return self.years * service.per_year


def use(
    body: Body,
    sizes: Floats,
    service: Service,
    load: ArrayLike = 1.0,
    toughness: ArrayLike = 1.0,
    influence: Floats | None = None,
) -> tuple[Floats, Floats, Floats]:
    """Kr, Lr and the used share of the diagram for cracks of sizes (P, n), of the worst state and end of the front.

    `influence` (B, P, n) is that of the body at these sizes, where it is known already.
    """
    k = body.influence(sizes) if influence is None else influence
    secondary, factor = np.maximum(service.steady(k), 0.0), np.asarray(load, float)
    tough = service.toughness * np.asarray(toughness, float)
    worst: tuple[Floats, Floats, Floats] | None = None
    for state, opened in zip(service.highest, combined(service.highest, k), strict=True):
        primary = np.maximum(opened, 0.0) * factor
        # A state that closes the whole front presses the section as if it had no crack.
        lr = np.where(primary.max(axis=0) > 0.0, body.reference(sizes, state) * factor, 0.0)
        lr = lr / service.diagram.yield_strength
        kr = (primary + secondary) / tough
        if service.residual is not None:
            kr = kr + plasticity(secondary, primary, lr)
        kr = kr.max(axis=0)
        here = (kr, lr, service.diagram.use(kr, lr))
        if worst is None:
            worst = here
        else:
            more = here[2] > worst[2]
            kr, lr, used = (np.where(more, new, old) for new, old in zip(here, worst, strict=True))
            worst = (kr, lr, used)
    if worst is None:
        raise ValueError("a crack without a load: one state or more expected")
    return worst


def swing(service: Service, block: Block, influence: Floats, load: ArrayLike = 1.0) -> tuple[Floats, Floats]:
    """Range of K and stress ratio R (P, n) of a block at the growing ends; range 0 where the front stays closed."""
    intensity = combined(block.states, influence)
    steady = service.steady(influence)
    factor = np.asarray(load, float)
    low, high = intensity.min(axis=0) * factor, intensity.max(axis=0) * factor
    top = high + steady
    opens = top > 0.0
    ratio = np.where(opens, (low + steady) / np.where(opens, top, 1.0), -1.0)
    return np.where(opens, high - low, 0.0), np.clip(ratio, LEAST_RATIO, MOST_RATIO)


def grow(
    body: Body,
    sizes: ArrayLike,
    service: Service,
    factors: Factors | None = None,
    horizon: float = 1000.0,
    step: float = STEP,
) -> Growth:
    """Grow cracks of `sizes` (P,) or (P, n) until each has ended; years to it, and why.

    Raises OutOfRange where a crack starts outside the range of its solution.
    """
    start = np.asarray(sizes, float)
    start = start[:, None] if start.ndim == 1 else start
    if len(start) != len(body.names) or not (start > 0.0).all():
        raise ValueError(f"crack sizes: {' and '.join(body.names)} expected, each more than 0 mm")
    if not body.inside(start).all():
        wrong = start[:, ~body.inside(start)][:, 0]
        raise _too_large(dict(zip(body.names, map(float, wrong), strict=True)))
    march = _March(body, start, service, factors or Factors(), horizon)
    while march.advance(step):
        pass
    return march.result()


def _too_large(sizes: dict[str, float]) -> OutOfRange:
    """The refusal of a crack (mm) that its solution does not hold for."""

    def message(units: System) -> str:
        named = ", ".join(f"{name} {show(size, 'length', units)}" for name, size in sizes.items())
        return f"crack with {named} is larger than its section or than its solution's range"

    return OutOfRange(message("si"), message)


class _March:
    """Cracks on their way; those that have ended leave the arrays that are worked on."""

    def __init__(self, body: Body, start: Floats, service: Service, factors: Factors, horizon: float) -> None:
        n = start.shape[1]
        self.body, self.service, self.horizon = body, service, horizon
        spread = (
            np.broadcast_to(np.asarray(f, float), (n,))
            for f in (factors.load, factors.growth, factors.toughness)
        )
        self.load, self.growth, self.toughness = (np.array(part) for part in spread)
        self.sizes, self.years = start.copy(), np.zeros(n)
        self.end_years, self.end_sizes = np.full(n, np.inf), start.copy()
        self.cause = np.full(n, End.HORIZON.value, dtype=f"U{max(map(len, End))}")
        self.alive = np.arange(n)
        self.path = [(0.0, start[:, 0].copy())]
        self.steps = 0
        self.influence = body.influence(start)
        kr, lr, self.used = use(body, start, service, self.load, self.toughness, self.influence)
        self._end(self.used >= 1.0, self._broken(kr, lr), np.zeros(n), start)
        self._retain(self.used < 1.0)

    def advance(self, step: float) -> bool:
        """One step of all that are left; False when none is."""
        if not self.alive.size:
            return False
        first = self._speed(self.sizes, self.influence)
        slow = ~(first.max(axis=0) > 0.0)
        if slow.any():
            self._end(slow, np.full(slow.size, End.ARREST.value), np.full(slow.size, np.inf), self.sizes)
            self._retain(~slow)
            return bool(self.alive.size)
        tried = self.sizes * np.exp(step * first / first.max(axis=0))
        out = ~self.body.inside(tried)
        if out.any():  # its last step would leave the range
            self._end(out, np.full(out.size, End.RANGE.value), self.years, self.sizes)
            self._retain(~out)
            first, tried = first[:, ~out], tried[:, ~out]
        if self.alive.size:
            self._step(first, tried, step)
        return bool(self.alive.size)

    def _step(self, first: Floats, tried: Floats, step: float) -> None:
        second = self._speed(tried, self.body.influence(tried))
        fast1, fast2 = first.max(axis=0), np.maximum(second.max(axis=0), 1e-300)
        # A crack at its threshold grows on: the range of K rises with size, so the second speed is not 0.
        new = self.sizes * np.exp(0.5 * step * (first / fast1 + second / fast2))
        years = self.years + 0.5 * step * (1.0 / fast1 + 1.0 / fast2)
        out = ~self.body.inside(new)
        if out.any():  # Heun's corrected size may leave where the tried one did not
            self._end(out, np.full(out.size, End.RANGE.value), self.years, self.sizes)
            self._retain(~out)
            new, years = new[:, ~out], years[~out]
            if not self.alive.size:
                return
        self.influence = self.body.influence(new)
        kr, lr, used = use(self.body, new, self.service, self.load, self.toughness, self.influence)
        done = used >= 1.0
        if done.any():
            part = np.where(done, (1.0 - self.used) / np.maximum(used - self.used, 1e-12), 1.0)
            at = self.years + part * (years - self.years)
            self._end(done, self._broken(kr, lr), at, self.sizes * (new / self.sizes) ** part)
        late = ~done & (years > self.horizon)
        self._end(late, np.full(late.size, End.HORIZON.value), np.full(late.size, np.inf), new)
        self.sizes, self.years, self.used = new, years, used
        self.steps += 1
        if self.alive[0] == 0:
            self.path.append((float(years[0]), new[:, 0].copy()))
        self._retain(~(done | late))

    def _speed(self, sizes: Floats, influence: Floats) -> Floats:
        """Growth a year over size, (P, n)."""
        rate = np.zeros_like(sizes)
        for block in self.service.blocks:
            ranges, ratio = swing(self.service, block, influence, self.load)
            rate += block.per_year * self.service.law.rate(ranges, ratio)
        return rate * self.growth / sizes

    def _broken(self, kr: Floats, lr: Floats) -> NDArray[np.str_]:
        """Collapse where the flat side of the diagram is used more than its line."""
        collapse = lr >= self.service.diagram.most * (1.0 - 1e-9)
        return np.where(collapse, End.COLLAPSE.value, End.TOUGHNESS.value)

    def _end(self, which: NDArray[np.bool_], cause: NDArray[np.str_], years: Floats, sizes: Floats) -> None:
        at = self.alive[which]
        self.cause[at], self.end_years[at], self.end_sizes[:, at] = (
            cause[which],
            years[which],
            sizes[:, which],
        )

    def _retain(self, which: NDArray[np.bool_]) -> None:
        if which.all():
            return
        self.alive, self.sizes, self.years = self.alive[which], self.sizes[:, which], self.years[which]
        self.load, self.growth, self.toughness = self.load[which], self.growth[which], self.toughness[which]
        self.used = self.used[which]
        self.influence = self.influence[:, :, which]

    def result(self) -> Growth:
        last = float(self.end_years[0])
        if math.isfinite(last) and last > self.path[-1][0]:
            self.path.append((last, self.end_sizes[:, 0]))
        years = np.array([at for at, _ in self.path])
        path = np.stack([size for _, size in self.path], axis=1)
        return Growth(self.end_years, self.end_sizes, self.cause, years, path, self.steps)
