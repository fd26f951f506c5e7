"""A clause applied at one place to D designs, C load cases, P positions and S stations at once."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

import numpy as np

from analysis.clauses.clause import Clause, Outcome, of
from analysis.mechanics.axes import four
from params.steps.arrays import Floats


@dataclass(frozen=True)
class Checked:
    """One clause at one place; demand and capacity with the axes (D, C, P, S), any of them 1 where nothing varies."""

    clause: Clause
    place: str
    outcome: Outcome
    symbols: dict[str, Any]
    demand: Floats
    capacity: Floats
    where: Floats | None = None  # s of the station, (D, C, P, 1)

    @property
    def used(self) -> Floats:
        """Demand over capacity; infinite where the capacity is zero or less, zero where it is not known."""
        used = share(self.demand, self.capacity)
        return np.zeros_like(used) if self.unknown else used

    @property
    def unknown(self) -> bool:
        """Whether the formula is out of range everywhere and there is no bound for the capacity; the note says why."""
        return not np.any(self.outcome.in_range) and bool(np.isnan(self.capacity).all())

    @property
    def most_used(self) -> Floats:
        """The greatest share by design and case, over positions and stations, (D, C)."""
        if self.capacity.shape[2:] == (1, 1) and not self.unknown:
            return share(greatest(self.demand), self.capacity[:, :, 0, 0])
        return greatest(self.used)


def greatest(values: Floats) -> Floats:
    """Maximum over positions and stations, (D, C); of few positions by pairs, which numpy does faster."""
    if values.shape[3] > 1 or values.shape[2] > 8:
        return values.max(axis=(2, 3))
    best = values[:, :, 0, 0]
    for position in range(1, values.shape[2]):
        best = np.maximum(best, values[:, :, position, 0])
    return best


def share(demand: Floats, capacity: Floats) -> Floats:
    with np.errstate(divide="ignore", invalid="ignore"):
        return np.where(capacity > 0.0, demand / capacity, np.inf)


def apply(
    function: Callable[..., Outcome], place: str, where: Floats | None = None, /, **inputs: Any
) -> Checked:
    """A clause with its inputs."""
    outcome = function(**inputs)
    symbols = inputs | dict(outcome.symbols)
    return Checked(of(function), place, outcome, symbols, four(outcome.demand), four(outcome.capacity), where)
