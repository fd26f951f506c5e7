"""The cycles of a year as one table: each runs between two blends of two load cases.

A duty pair runs from one case wholly to the other and over the swing in both: through each case at the position that
loads the arm most and at the one that loads it least. Of these up to four states a cycle counts from the least to the
most, place by place. A measured history is a signal that is 0 in one case and 1 in the other, both at their most; each
of its counted cycles runs between two values of the signal. Stress is linear in the signal. Pairs stand as the file
gives them: the range between the extremes of different pairs is counted only where a pair names it.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import combinations

import numpy as np
from numpy.typing import NDArray

from analysis.fatigue.counting import Counted
from params.steps.arrays import Floats

Ints = NDArray[np.int64]
NONE = -1  # in place of a state's number
SIZE = np.array([1.0, 1.0, 1.0, 2.0, 2.0, 2.0])  # each shear stands in the tensor twice


@dataclass(frozen=True)
class Cycles:
    """Arrays (k,): cycle i runs between case `start` + `low` (case `end` - case `start`) and the same with
    `high`. `also` (k, 2): two more states that it passes, `NONE` where there is none.
    """

    start: Ints
    end: Ints
    low: Floats
    high: Floats
    per_year: Floats
    also: Ints

    def __post_init__(self) -> None:
        lengths = {
            len(array) for array in (self.start, self.end, self.low, self.high, self.per_year, self.also)
        }
        if len(lengths) != 1:
            raise ValueError(f"cycles: arrays of different lengths {sorted(lengths)}")

    def __len__(self) -> int:
        return len(self.start)

    @property
    def yearly(self) -> float:
        """All cycles of a year."""
        return float(self.per_year.sum())

    def ends(self, stress: Floats, tensor: bool = False) -> tuple[Floats, Floats]:
        """Stress at both ends of every cycle, (k, ...), from stress by state, (states, ...).

        At each place a cycle that passes further states runs between the two that differ most there: by value, or
        with `tensor` (last axis xx, yy, zz, xy, yz, zx) by the size of the tensor's change.
        """
        shape = (-1, *(1,) * (stress.ndim - 1))
        base, span = stress[self.start], stress[self.end] - stress[self.start]
        low, high = base + self.low.reshape(shape) * span, base + self.high.reshape(shape) * span
        for k in np.flatnonzero((self.also != NONE).any(axis=1)):
            others = [stress[load_state] for load_state in self.also[k] if load_state != NONE]
            low[k], high[k] = farthest([low[k], high[k], *others], tensor)
        return low, high


def farthest(states: Sequence[Floats], tensor: bool) -> tuple[Floats, Floats]:
    """The two states that differ most, place by place; of equals those that come first."""
    low, high = states[0], states[1]
    for a, b in combinations(states, 2):
        wider = size(b - a, tensor) > size(high - low, tensor)
        if tensor:
            wider = wider[..., None]
        low, high = np.where(wider, a, low), np.where(wider, b, high)
    return low, high


def size(change: Floats, tensor: bool) -> Floats:
    """Of a change of stress, or of one of its tensor: the root of the sum of squares of all nine components."""
    return np.sqrt((change**2 * SIZE).sum(axis=-1)) if tensor else np.abs(change)


def pairs(
    cases: Sequence[str], wanted: Sequence[tuple[str, str, float]], least: Sequence[str] = ()
) -> Cycles:
    """Cycles of duty pairs (from case, to case, cycles a year); `cases` are the names in the order of the
    stresses, `least` those of the cases whose state at their least stands behind them.

    Raises ValueError for a pair that names no case or the same case twice, or does not repeat.
    """
    for first, second, often in wanted:
        for name in (first, second):
            if name not in cases:
                raise ValueError(
                    f"duty pair {first} to {second}: {name} is no load case, one of {', '.join(cases)}"
                )
        if first == second or not often > 0.0:
            raise ValueError(
                f"duty pair {first} to {second}, {often:g} a year: two cases and more than 0 expected"
            )

    def behind(name: str) -> int:
        return len(cases) + list(least).index(name) if name in least else NONE

    count = len(wanted)
    return Cycles(
        np.array([list(cases).index(first) for first, _, _ in wanted], np.int64),
        np.array([list(cases).index(second) for _, second, _ in wanted], np.int64),
        np.zeros(count),
        np.ones(count),
        np.array([often for _, _, often in wanted], float),
        np.array([[behind(name) for name in pair[:2]] for pair in wanted], np.int64).reshape(-1, 2),
    )


def history(cases: Sequence[str], first: str, second: str, counted: Counted, times_per_year: float) -> Cycles:
    """Cycles of a counted signal between two cases that comes `times_per_year`."""
    one = pairs(cases, [(first, second, times_per_year)])
    count = len(counted.cycles)
    start, end = np.full(count, one.start[0]), np.full(count, one.end[0])
    also = np.full((count, 2), NONE)
    return Cycles(start, end, counted.lower, counted.upper, counted.cycles * times_per_year, also)


def together(*parts: Cycles) -> Cycles:
    """One table from several."""
    names = ("start", "end", "low", "high", "per_year", "also")
    return Cycles(*(np.concatenate([getattr(part, name) for part in parts]) for name in names))
