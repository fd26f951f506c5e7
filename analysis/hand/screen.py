"""Many designs at once at few positions of the swing: the part of the hand calculation that a sweep needs."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from analysis.hand.evaluate import Hand, evaluate
from analysis.hand.fatigue_and_flaws import turning
from analysis.mechanics.sizes import Sizes
from params.schema.arm import Arm
from params.schema.material import Material
from params.steps.arrays import Floats

FLAT = 2e-3  # share of a check's demand that a sweep may miss between the positions it looks at
CHUNK = 2048  # designs at once in a sweep: more take more memory, fewer take more time in calls


@dataclass(frozen=True)
class Least:
    """What a sweep keeps of D designs: as in `Hand`, without the arrays behind it."""

    mass: Floats
    margin: Floats
    governing: NDArray[np.str_]
    reason: NDArray[np.str_]


class Screener:
    """Least margin, what governs, mass and feasibility of many designs, at the positions that govern the arm as written."""

    def __init__(self, arm: Arm, material: Material) -> None:
        self.arm, self.material = arm, material
        self.fraction = governing_positions(evaluate(arm, material))

    def __call__(self, sizes: Sizes) -> Least:
        """Mass, least margin, what governs and feasibility of D designs."""
        parts = [self._part(sizes[start : start + CHUNK]) for start in range(0, len(sizes), CHUNK)]
        return Least(
            *(np.concatenate([getattr(part, name) for part in parts]) for name in Least.__annotations__)
        )

    def _part(self, sizes: Sizes) -> Least:
        hand = evaluate(self.arm, self.material, sizes, self.fraction)
        return Least(hand.mass, hand.margin, hand.governing, hand.reason)


def governing_positions(written: Hand) -> Floats:
    """Fractions (C, P) of the swing, few for each case, at which every check comes within `FLAT` of its worst for this arm, and
    every force that fatigue counts within as much of its range to its least and its most."""
    fraction = written.response.statics.fraction
    tables = [checked.used[0].max(axis=2) for checked in written.checked if checked.demand.shape[2] > 1]
    for force in turning(written.response):
        least, most = (end(force, axis=1, keepdims=True) for end in (np.min, np.max))
        tables += [force - least, most - force]
    by_case = [
        np.stack([table[case] for table in tables if np.any(table[case] > 0.0)])
        for case in range(len(fraction))
    ]
    chosen = [cover(used >= (1.0 - FLAT) * used.max(axis=1, keepdims=True)) for used in by_case]
    most = max(len(positions) for positions in chosen)
    padded = [positions + positions[-1:] * (most - len(positions)) for positions in chosen]
    return np.take_along_axis(fraction, np.array(padded), axis=1)


def cover(good: NDArray[np.bool_]) -> list[int]:
    """Positions, greedily few, such that each row of `good` (checks by positions) is true at one of them."""
    left, chosen = good.copy(), []
    while len(left):
        best = int(np.argmax(left.sum(axis=0)))
        chosen.append(best)
        left = left[~left[:, best]]
    return sorted(chosen)
