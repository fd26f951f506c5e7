"""Life at a share of the loads against the closed form."""

from __future__ import annotations

import math
from datetime import date, timedelta

import numpy as np
import pytest

from analysis.fracture.bodies import Through
from analysis.fracture.fad import Diagram
from analysis.fracture.growth import Service
from analysis.fracture.growth_law import LAWS
from analysis.fracture.load_limit import load_limits
from analysis.fracture.survival import DAYS
from analysis.fracture.toughness import MPA_ROOT_M
from tests.fracture.loading import cycle

FOUND = date(2026, 3, 2)


def test_life_at_every_share_of_the_load():
    """Irwin's limit and Paris's integral at each share s: a_end = (Kmat/(s S))^2/pi and C (s S sqrt pi)^3 N = 2 (a0^-1/2 -
    a_end^-1/2). All of it breaks at once where s S sqrt(pi a0) = Kmat, s = 1.85 here."""
    stress, tough = 100.0, 1.85 * 100.0 * math.sqrt(math.pi * 10.0)
    assert tough < 60.0 * MPA_ROOT_M
    at = np.array([stress, 0.0])
    kept = Service([cycle(2000.0, at, 0.5)], at, LAWS["simplified"], Diagram(1e5, 1e5, 1e9), tough)
    made = load_limits(Through(), np.array([10.0]), kept, FOUND, 2.0, 1e6)
    assert [one.share for one in made[:3]] == [2.0, 1.95, 1.9]
    for one in made:
        if one.share >= 1.85:
            assert (one.years, one.until) == (0.0, FOUND)
            continue
        last = (tough / (one.share * stress)) ** 2 / math.pi
        exact = (
            2.0
            * (10.0**-0.5 - last**-0.5)
            / (5.21e-13 * (one.share * stress * math.sqrt(math.pi)) ** 3)
            / 2000.0
        )
        assert one.years == pytest.approx(exact, rel=2e-3)
        if one.years < 10_000.0:
            assert one.until == FOUND + timedelta(days=math.floor(one.years / 2.0 * DAYS))
    lives = [one.years for one in made]
    assert lives == sorted(lives)


def test_residual_stress_stays_and_a_factor_below_one_is_refused():
    at = np.array([100.0, 0.0])
    kept = Service(
        [cycle(2000.0, at, 0.5)],
        at,
        LAWS["simplified"],
        Diagram(1e5, 1e5, 1e9),
        1000.0,
        np.array([200.0, 0.0]),
    )
    assert {one.years for one in load_limits(Through(), np.array([10.0]), kept, FOUND, 1.0)} == {0.0}
    with pytest.raises(ValueError, match=r"factor on life 0\.5"):
        load_limits(Through(), np.array([10.0]), kept, FOUND, 0.5)
