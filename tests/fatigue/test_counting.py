"""Rainflow counting: what holds for every history."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from analysis.fatigue.counting import count

HISTORIES = st.lists(st.floats(-100.0, 100.0).map(lambda x: round(x, 3)), min_size=2, max_size=60)


@given(HISTORIES)
def test_the_largest_range_is_counted(values):
    """ASTM E1049: the span of the whole history is a cycle or half cycle, where there is any range at all."""
    counted = count(values)
    if np.ptp(values) > 0.0:
        assert counted.range.max() == pytest.approx(np.ptp(values), abs=1e-9)


@given(HISTORIES, st.floats(-50.0, 50.0), st.floats(0.1, 10.0))
def test_shifting_and_scaling_the_signal(values, shift, scale):
    plain, other = count(values), count(np.array(values) * scale + shift)
    assert other.cycles.sum() == pytest.approx(plain.cycles.sum())
    weighed = [float((c.cycles * c.range).sum()) for c in (plain, other)]
    assert weighed[1] == pytest.approx(scale * weighed[0], rel=1e-6, abs=1e-9)


@given(HISTORIES)
def test_rounding_to_steps_never_makes_a_range_smaller(values):
    plain, stepped = count(values), count(values, steps=16)
    assert (stepped.cycles * stepped.range).sum() >= (plain.cycles * plain.range).sum() - 1e-6
    assert stepped.cycles.sum() == pytest.approx(plain.cycles.sum())


def test_noise_is_left_out():
    counted = count([0.0, 1.0, 0.98, 1.0, 0.0], least=0.05)
    assert list(counted.range) == [1.0] and counted.mean[0] == 0.5


def test_repeating_history_of_the_standard():
    """ASTM E1049-85 Fig. 7, from memory: the history of Fig. 6 repeated has one cycle each of ranges 3, 4, 7
    and 9.
    """
    counted = count([-2, 1, -3, 5, -1, 3, -4, 4, -2], repeats=True)
    assert list(zip(counted.range, counted.cycles, strict=True)) == [
        (3.0, 1.0),
        (4.0, 1.0),
        (7.0, 1.0),
        (9.0, 1.0),
    ]


@given(HISTORIES)
def test_cycles_of_a_repeating_history_close(values):
    counted = count(values, repeats=True)
    assert float(counted.cycles.sum()) % 1.0 == 0.0
