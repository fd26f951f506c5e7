"""From the stress along a crack's path to what drives the crack: a profile, blocks of cycles as factors on it, the peak.

One profile serves all cycles: that of the cycle with the largest range at the mouth. The others, the highest load and the
residual stress are factors on it, each the largest ratio found over the first part of the path: the safe side where their
profiles fall faster with depth than the one that serves. The range of a cycle at each depth is that of the two of its states that
differ most there: no less than that of any two.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from analysis.fatigue.duty import Cycles
from analysis.fracture.growth import Block, Stress
from analysis.fracture.path import Path
from analysis.fracture.weight_function import Profile

Floats = NDArray[np.float64]
NEAR = 0.3  # share of the path over which ratios are read
WEAK = 0.2  # of the profile's largest value: where it is less, a ratio says nothing
LEAST_RANGE = 1e-3  # MPa
MOST_RATIO = 0.99


@dataclass(frozen=True)
class Driven:
    """What a crack is asked to bear at one place; factors on `profile`."""

    profile: Profile
    blocks: tuple[Block, ...]
    peak: Stress
    residual: Stress
    range: float  # at the mouth, MPa
    most: float  # highest stress at the mouth, MPa
    ratio: float  # R of the cycle that serves


def driven(path: Path, cycles: Cycles, residual: float) -> Driven:
    """Profile, blocks and peak of a path; where no cycle changes the stress, the profile is that of the highest and no block."""
    low, high = cycles.ends(path.stress)  # (k, S)
    change, highest = np.abs(high - low), path.stress[np.argmax(path.stress[:, 0])]
    serving = int(np.argmax(change[:, 0]))
    swings = bool(change[serving, 0] > LEAST_RANGE)
    profile = change[serving] if swings else np.maximum(np.abs(highest), LEAST_RANGE)
    blocks = [
        Block(float(often), Stress(factor(span, profile, path.depth)), ratio(a[0], b[0], residual))
        for often, span, a, b in zip(cycles.per_year, change, low, high, strict=True)
        if swings and factor(span, profile, path.depth) > 0.0
    ]
    most = max(factor(case, profile, path.depth) for case in path.stress)
    steady = factor(np.full_like(profile, residual), profile, path.depth) if residual else 0.0
    return Driven(
        Profile(path.depth, profile), tuple(blocks), Stress(max(most, 0.0)), Stress(steady),
        float(profile[0]) if swings else 0.0, float(highest[0]),
        ratio(low[serving, 0], high[serving, 0], residual) if swings else MOST_RATIO,
    )  # fmt: skip


def factor(stress: Floats, profile: Floats, depth: Floats) -> float:
    """Largest ratio of a stress to the profile over the first part of the path."""
    near = (depth <= NEAR * depth[-1]) & (profile >= WEAK * profile.max())
    near[0] = True
    return float((stress[near] / profile[near]).max())


def ratio(a: float, b: float, residual: float) -> float:
    """Stress ratio R at the mouth with the residual stress; -1 where the crack is closed at both ends."""
    least, most = min(a, b) + residual, max(a, b) + residual
    return -1.0 if most <= 0.0 else min(least / most, MOST_RATIO)
