"""Twenty arms of a seed: a slip is refused with its line; every other is worked by hand, its solid is valid, sound and reads again;
two are meshed."""

import pytest

from tests.random_arms.made import arm
from tests.random_arms.tried import tried

SEED, MESHED = 20261, (8, 9)  # a bar and an I of few elements


@pytest.mark.parametrize("index", range(20))
def test_a_random_arm_is_built_or_its_slip_refused(index, tmp_path):
    told = tried(SEED, index, tmp_path, 4 if index in MESHED else 0, hand=True)
    if told.ended == "refused":
        assert arm(SEED, index)[1]["spoiled"] and ".yaml:" in told.why, told.why  # the line of the file
        return
    assert told.ended == "through", told.why
    if index in MESHED:
        assert told.quality >= 0.05
