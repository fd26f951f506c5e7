"""Twenty arms of a seed: each is refused with a reason, or its solid is valid, sound and reads again; the smallest are meshed."""

import pytest

from tests.random_arms.tried import tried

SEED, MESHED = 20261, (8, 9)  # a bar and an I of few elements


@pytest.mark.parametrize("index", range(20))
def test_a_random_arm_is_built_or_refused_at_the_check(index, tmp_path):
    told = tried(SEED, index, tmp_path, 4 if index in MESHED else 0, hand=False)
    assert told.ended in ("through", "refused"), told.why
    if told.ended == "refused":
        assert ".yaml:" in told.why  # the line of the file
    elif index in MESHED:
        assert told.quality >= 0.05
