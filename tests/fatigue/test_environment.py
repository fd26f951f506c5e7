"""Sea water against S-N curves that standards print for it."""

import numpy as np
import pytest

from analysis.fatigue.curve import Curve
from analysis.fatigue.curve_at import surface_curve
from analysis.fatigue.environment import curve_in
from analysis.fatigue.variants import CRACKED, variants
from tests.arms import demo

JOINT = Curve("joint", 52.63, 1e7, 3.0, 5.0, limit=52.63)


def test_protected_joints_bend_at_a_million_cycles():
    """DNV-RP-C203, curve D, from memory: in air log a 12.164 to 1e7 and then slope 5; with protection 11.764 to 1e6 cycles, 83.4
    MPa, and then the line of air; corroding freely 11.687 (a third) on one slope."""
    sea = curve_in("marine with protection", JOINT)
    assert (sea.cycles_at_knee, sea.knee) == (pytest.approx(1.01e6, rel=0.01), pytest.approx(83.4, rel=0.01))
    assert np.log10(float(sea.cycles(200.0)) * 200.0**3) == pytest.approx(11.764, abs=5e-3)
    assert float(sea.cycles(40.0)) == pytest.approx(float(JOINT.cycles(40.0)))
    free = curve_in("marine", JOINT)
    for stress in (200.0, 30.0):
        assert np.log10(float(free.cycles(stress)) * stress**3) == pytest.approx(11.687, abs=5e-3)
    assert free.limit == 0.0 and curve_in("air", JOINT) is JOINT


def test_only_where_the_found_crack_is():
    arm = demo("linkspan-rocker")
    old = next(one for one in variants(arm) if one.name == CRACKED)
    assert old.environment == "marine" and old.wet == {"pivot_bore"}
    wet, name = surface_curve(arm.bores, old, "pivot_bore", True)
    dry, _ = surface_curve(arm.bores, old, "input_bore", True)
    assert wet.limit == 0.0 and dry.limit > 0.0 and "marine" in name
