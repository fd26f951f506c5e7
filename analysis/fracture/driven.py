"""From the stress along a crack's path to what drives the crack: the profile of every state, and blocks of cycles between them.

The basis of the crack's body are the states' own profiles, and behind them the residual stress's: an even one of 1 MPa. K is
linear in the stress, so range, ratio and peak follow from the K of the states, at the crack's front and at its size.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from analysis.fatigue.duty import NONE, Cycles
from analysis.fracture.growth import MOST_RATIO, Block
from analysis.fracture.path import Path
from analysis.fracture.weight_function import Profile

Floats = NDArray[np.float64]
LEAST_RANGE = 1e-3  # MPa, anywhere along the path: a cycle that changes less does not count


@dataclass(frozen=True)
class Driven:
    """What a crack is asked to bear at one place; states as factors on the basis (B profiles, the last the residual stress)."""

    profile: Profile
    blocks: tuple[Block, ...]
    highest: Floats  # (Q, B)
    residual: Floats  # (B,)
    range: float  # at the mouth, MPa, of the cycle with the largest there
    most: float  # highest stress at the mouth, MPa
    ratio: float  # R of that cycle at the mouth

    def under(self, residual: float) -> Driven:
        """The same with another residual stress, MPa."""
        even = np.zeros_like(self.residual)
        even[-1] = residual
        return replace(self, residual=even)


def driven(path: Path, cycles: Cycles, residual: float) -> Driven:
    """Profiles, blocks and highest states of a path; no block where no cycle changes the stress."""
    stress, count = path.stress, len(path.stress) + 1
    basis = np.vstack([stress, np.ones(stress.shape[1])])
    blocks = [
        Block(float(often), states)
        for often, states in zip(cycles.per_year, passed(cycles, count), strict=True)
        if np.ptp(states @ basis, axis=0).max() > LEAST_RANGE
    ]
    low, high = cycles.ends(stress[:, 0]) if len(cycles) else (np.zeros(1), np.zeros(1))
    serving = int(np.argmax(np.abs(high - low)))
    driven = Driven(
        Profile(path.depth, basis),
        tuple(blocks),
        np.eye(count)[outermost(stress)],
        np.zeros(count),
        float(abs(high[serving] - low[serving])) if blocks else 0.0,
        float(stress[:, 0].max()),
        ratio(low[serving], high[serving], residual) if blocks else MOST_RATIO,
    )
    return driven.under(residual)


def passed(cycles: Cycles, count: int) -> list[Floats]:
    """The states (E, count) that each cycle passes, as factors on the states."""
    one = np.eye(count)
    states = []
    for start, end, low, high, also in zip(
        cycles.start, cycles.end, cycles.low, cycles.high, cycles.also, strict=True
    ):
        span = one[end] - one[start]
        others = [one[state] for state in also if state != NONE]
        states.append(np.array([one[start] + low * span, one[start] + high * span, *others]))
    return states


def outermost(stress: Floats) -> list[int]:
    """Of the states (C, S) those that no other one exceeds all along the path: weight functions are positive."""
    kept: list[int] = []
    for state in np.argsort(-stress.max(axis=1), kind="stable"):
        if not any((stress[other] >= stress[state]).all() for other in kept):
            kept.append(int(state))
    return kept


def ratio(a: float, b: float, residual: float) -> float:
    """Stress ratio R at the mouth with the residual stress; -1 where the crack is closed at both ends."""
    least, most = min(a, b) + residual, max(a, b) + residual
    return -1.0 if most <= 0.0 else min(least / most, MOST_RATIO)
