"""Load cases in the order of the arm's file where the duty's cycles count them, whatever the order of loads.json."""

from types import SimpleNamespace
from typing import Any

import numpy as np

from analysis.fatigue.cycles import paired, year
from analysis.proof.refine import stress_states
from tests.arms import demo, raised_and_lowered


def test_stress_of_each_case_stands_where_the_duty_looks_for_it():
    """Each case carries its own number: the ends of every cycle must be the numbers of the cases that the file names."""
    arm = raised_and_lowered(demo("bench-lever"))
    names = list(arm.load_cases)
    alphabetical = sorted(names)
    assert alphabetical != names  # files are written with sorted keys
    own = {name: 10.0 * k + 1.0 for k, name in enumerate(names)}
    proof: Any = SimpleNamespace(
        cases=tuple(alphabetical),
        stress=np.array([[[own[name]] * 6] for name in alphabetical]),
        least={"lower": np.full((1, 6), -5.0)},
    )
    stress = stress_states(proof, arm)
    assert (names, paired(arm)) == (["raise", "lower", "jam-extend"], ["raise", "lower"])
    # behind the cases: raise, whose least is the same position, and lower at its least
    assert [float(one[0, 0]) for one in stress] == [own[name] for name in names] + [own["raise"], -5.0]
    stress[4] = stress[1]
    assert arm.bores
    cycles = year(arm, arm.bores)
    low, high = cycles.ends(stress)
    for k, (start, end) in enumerate(zip(cycles.start, cycles.end, strict=True)):
        assert float(low[k, 0, 0]) == own[names[start]] and float(high[k, 0, 0]) == own[names[end]]
