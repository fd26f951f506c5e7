"""The cycles that an arm's file gives for a year, and the states of stress that they run between.

States are numbered: every load case of the file at the position of the swing that loads the arm most, then those that a
duty pair names at the position that loads it least.
"""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np

from analysis.fatigue.counting import count
from analysis.fatigue.duty import Cycles, history, pairs, together
from params.schema.arm import Arm
from params.schema.bores import Bores
from params.steps.arrays import Floats

STEPS = 64  # ends of counted cycles are rounded to this many steps, outward


def year(arm: Arm, bores: Bores | None, steps: int = STEPS) -> Cycles:
    """The cycles of a year: duty pairs, and measured histories with their ends at so many steps."""
    cases = list(arm.load_cases)
    duty = [(pair.from_case, pair.to_case, pair.cycles_per_year) for pair in arm.duty.pairs]
    parts = [pairs(cases, duty, paired(arm))]
    for one in bores.histories if bores else ():
        counted = count(one.values, steps=steps, repeats=True)
        parts.append(history(cases, one.from_case, one.to_case, counted, one.times_per_year))
    return together(*parts)


def paired(arm: Arm) -> list[str]:
    """Load cases that a duty pair names, in the order of the file."""
    named = {case for pair in arm.duty.pairs for case in (pair.from_case, pair.to_case)}
    return [case for case in arm.load_cases if case in named]


def by_load_state(arm: Arm, most: Mapping[str, Floats], least: Mapping[str, Floats]) -> Floats:
    """Stress (S, ...) of every state in the order of its number, from that of the cases at their most and at their least;
    `least` leaves out a case for which both are one position.
    """
    rest = [least[case] if case in least else most[case] for case in paired(arm)]
    return np.stack([*(most[case] for case in arm.load_cases), *rest])


def field_at_least(case: str) -> str:
    """Name of the nodal array of stress of a case at its least; that of its most is `stress:CASE`."""
    return f"stress:{case} at its least"
