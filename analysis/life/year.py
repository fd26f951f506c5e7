"""The cycles that an arm's file gives for a year."""

from __future__ import annotations

from analysis.life.counting import count
from analysis.life.duty import Cycles, history, pairs, together
from params.arm import Arm
from params.bores import Bores

STEPS = 64  # ends of counted cycles are rounded to this many steps, outward


def year(arm: Arm, bores: Bores | None, steps: int = STEPS) -> Cycles:
    """The cycles of a year: duty pairs, and measured histories with their ends at so many steps."""
    cases = list(arm.load_cases)
    duty = [(pair.from_case, pair.to_case, pair.cycles_per_year) for pair in arm.duty.pairs]
    parts = [pairs(cases, duty)]
    for one in bores.histories if bores else ():
        counted = count(one.values, steps=steps, repeats=True)
        parts.append(history(cases, one.from_case, one.to_case, counted, one.times_per_year))
    return together(*parts)
