"""The cycles of a year as one table: each runs between two blends of two load cases.

A duty pair runs from one case wholly to the other. A measured history is a signal that is 0 in one case and 1
in the other; each of its counted cycles runs between two values of the signal. Stress is linear in the
signal. Pairs stand as the file gives them: the range between the extremes of different pairs is counted only
where a pair names it.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from analysis.life.counting import Counted

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]


@dataclass(frozen=True)
class Cycles:
    """Arrays (k,): cycle i runs between case `start` + `low` (case `end` - case `start`) and the same with
    `high`.
    """

    start: Ints
    end: Ints
    low: Floats
    high: Floats
    per_year: Floats

    def __post_init__(self) -> None:
        lengths = {len(array) for array in (self.start, self.end, self.low, self.high, self.per_year)}
        if len(lengths) != 1:
            raise ValueError(f"cycles: arrays of different lengths {sorted(lengths)}")

    def __len__(self) -> int:
        return len(self.start)

    @property
    def yearly(self) -> float:
        """All cycles of a year."""
        return float(self.per_year.sum())

    def ends(self, stress: Floats) -> tuple[Floats, Floats]:
        """Stress at both ends of every cycle, (k, ...), from stress by case, (cases, ...)."""
        shape = (-1, *(1,) * (stress.ndim - 1))
        base, span = stress[self.start], stress[self.end] - stress[self.start]
        return base + self.low.reshape(shape) * span, base + self.high.reshape(shape) * span


def pairs(cases: Sequence[str], wanted: Sequence[tuple[str, str, float]]) -> Cycles:
    """Cycles of duty pairs (from case, to case, cycles a year); `cases` are the names in the order of the
    stresses.

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
    count = len(wanted)
    return Cycles(
        np.array([list(cases).index(first) for first, _, _ in wanted], np.int64),
        np.array([list(cases).index(second) for _, second, _ in wanted], np.int64),
        np.zeros(count),
        np.ones(count),
        np.array([often for _, _, often in wanted], float),
    )


def history(cases: Sequence[str], first: str, second: str, counted: Counted, times_per_year: float) -> Cycles:
    """Cycles of a counted signal between two cases that comes `times_per_year`."""
    one = pairs(cases, [(first, second, times_per_year)])
    count = len(counted.cycles)
    start, end = np.full(count, one.start[0]), np.full(count, one.end[0])
    return Cycles(start, end, counted.lower, counted.upper, counted.cycles * times_per_year)


def together(*parts: Cycles) -> Cycles:
    """One table from several."""
    names = ("start", "end", "low", "high", "per_year")
    return Cycles(*(np.concatenate([getattr(part, name) for part in parts]) for name in names))
