"""Thirty simulated arms of all kinds: how often a size lies within its stated 95 % band."""

from __future__ import annotations

import numpy as np
import pytest

from tests.survey.study import surveyed


@pytest.mark.slow
def test_stated_bands_hold_as_often_as_they_say():
    """Between 93 and 97 % of some 600 sizes; sizes that are told to be undetermined are not counted."""
    z = np.array([row["z"] for seed in range(30) for row in surveyed(seed) if row["determined"]])
    assert len(z) > 500
    assert 0.93 <= np.mean(np.abs(z) < 1.96) <= 0.97
