"""Bores are judged on planes through which a pin's pressure does not act; compression counts less, by the lesser of two sources."""

from types import SimpleNamespace

import numpy as np
import pytest

from analysis.fatigue import duty, meanstress, plane, weldclass
from analysis.fatigue.curve_at import welds_of
from analysis.fatigue.fretting import factors
from analysis.fatigue.in_surface import tangent
from analysis.fatigue.reading import reach, read_nodes
from analysis.fatigue.variants import CRACKED, variants
from params.schema.bores import Fretting
from tests.arms import changed, demo

NONE = meanstress.mean_rule("none")
CLASS = weldclass.direct(80)
X = np.array([[1.0, 0.0, 0.0]])


def stress(*radial_hoop_shear):
    """Stress (S, 1, 6) at a bore's node on the x axis: x radial, y hoop, MPa."""
    made = np.zeros((len(radial_hoop_shear), 1, 6))
    for k, (radial, hoop, shear) in enumerate(radial_hoop_shear):
        made[k, 0, [0, 1, 3]] = radial, hoop, shear
    return made


def found(states, rule=NONE):
    cycles = duty.pairs(["a", "b"], [("a", "b", 1e4)])
    return plane.search(states, cycles, [CLASS], [rule], np.zeros(1, np.int64), 50.0)


def test_a_pulsing_contact_pressure_alone_does_no_damage():
    """Pressure from 12 to 153 MPa, steady hoop: by the radial plane a range of 141 MPa, by the planes of the surface none."""
    states = stress((-12.0, 80.0, 0.0), (-153.0, 80.0, 0.0))
    assert found(states).range == pytest.approx(141.0, rel=1e-6)
    assert found(tangent(states, X)).range == pytest.approx(0.0, abs=1e-9)


def test_the_hoop_range_stands_with_pressure_and_shear_beside_it():
    states = stress((-12.0, 20.0, 5.0), (-153.0, 90.0, 30.0))
    actual = found(tangent(states, X))
    assert actual.range == pytest.approx(70.0, rel=1e-9)
    assert abs(actual.normal[0, 1]) == pytest.approx(1.0, abs=1e-4)


def test_a_free_surface_loses_nothing():
    states = stress((0.0, -10.0, 0.0), (0.0, 110.0, 0.0))
    assert found(tangent(states, X)).range == pytest.approx(found(states).range, rel=1e-9)


def rule_for(tensile, cast):
    credit = meanstress.compression_credit(tensile, cast)
    return meanstress.mean_rule("goodman", tensile=tensile, credit=credit)


@pytest.mark.parametrize(
    ("low", "high", "effective"), [(-100.0, 0.0, 60.0), (-100.0, 50.0, 110.0), (-150.0, -50.0, 60.0)]
)
def test_compression_counts_three_fifths_in_strong_steel(low, high, effective):
    """EN 1993-1-9:2005 7.2.1(2), from memory: tension in full, compression by 60 %; the common structural rules for oil tankers
    write it 0.6 S where a range S never reaches tension. Over that of a fully reversed range, 1.6 times its half."""
    actual = float(rule_for(1000.0, False).equivalent((high - low) / 2.0, (high + low) / 2.0))
    assert actual == pytest.approx(effective / 1.6, rel=1e-12)


@pytest.mark.parametrize(("tensile", "cast", "share"), [(450.0, False, 0.0575), (450.0, True, 0.2075)])
def test_mild_steel_hardly_feels_a_compressive_mean(tensile, cast, share):
    """FKM guideline, from memory: sensitivity 0.35e-3 Rm - 0.1, cast + 0.05. R = 0 in compression is a - M a; so is all beyond."""
    rule = rule_for(tensile, cast)
    assert rule.equivalent([50.0, 50.0], [-50.0, -300.0]) == pytest.approx(50.0 * (1.0 - share), rel=1e-12)


def test_a_weak_steel_gets_no_credit_and_none_more_than_that_of_the_range():
    """280 MPa: 0.098 - 0.1 is under 0; 1500 MPa: 0.425, of which 0.4/1.6 counts."""
    assert meanstress.compression_credit(280.0, cast=False) == 0.0
    assert meanstress.compression_credit(1500.0, cast=False) == pytest.approx(0.25)


def test_credit_changes_no_cycle_of_tensile_or_zero_mean():
    """Goodman by hand: 60/(1 - 90/450) = 75 MPa; a fully reversed cycle is worth itself."""
    rule = rule_for(450.0, True)
    assert rule.equivalent([60.0, 60.0], [90.0, 0.0]) == pytest.approx([75.0, 60.0], rel=1e-12)


def test_the_search_takes_the_credit_too():
    """The kernel's own form: hoop from -150 to -50 MPa is worth 2 x 60/1.6 = 75 MPa fully reversed."""
    rule = rule_for(1000.0, False)
    actual = found(tangent(stress((-10.0, -150.0, 0.0), (-10.0, -50.0, 0.0)), X), rule)
    assert actual.equivalent == pytest.approx(75.0, rel=1e-6)


def test_pins_with_play_rub_too():
    said = Fretting(used=0.5)
    assert factors(said, tight=False) == factors(said, tight=True) == (0.24, 0.5, 0.9)
    assert factors(said.model_copy(update={"clearance": 1.0}), tight=False) == (0.24, 1.0, 1.0)
    assert factors(None, tight=True) == factors(None, tight=False) == (0.24, 0.24, 0.24)


def test_the_old_arm_has_none_of_the_new_arms_welds():
    arm = demo("linkspan-rocker")
    this, *_, old = variants(arm)
    assert arm.bores and arm.bores.welds and old.name == CRACKED
    assert welds_of(arm.bores, this) == arm.bores.welds and welds_of(arm.bores, old) == ()


def test_a_tight_bore_is_read_away_from_the_edges_of_its_contact():
    """Bore 320 mm, three elements of 8 per quarter: 3 x pi x 320/4/8 = 94.2 mm, as 0.3 of 320 = 96; a bore with play all over."""
    arm = demo("linkspan-rocker")
    half = arm.geometry.pivot.width / 2.0 - arm.geometry.pivot.chamfer
    assert reach(arm, "pivot") == pytest.approx(half - 96.0)
    z = np.linspace(-half, half, 71)
    around = np.column_stack([np.full(71, 160.0), np.zeros(71), z])
    chamfer = np.array([[162.5, 0.0, half + 2.5]])
    mesh = SimpleNamespace(points=np.vstack([around, chamfer]), nodes=lambda region: np.arange(71))
    regions = {"pivot_bore": np.arange(72)}
    kept = read_nodes(arm, mesh, regions, ["pivot"])["pivot_bore"]
    assert len(kept) and np.abs(mesh.points[kept, 2]).max() <= half - 3.0 * np.pi * 320.0 / 4.0 / 8.0
    assert len(read_nodes(arm, mesh, regions, [])["pivot_bore"]) == 72


def test_a_short_tight_bore_is_read_in_its_middle():
    arm = changed(demo("linkspan-rocker"), geometry__pivot__width=120.0)
    assert reach(arm, "pivot") == pytest.approx(0.25 * (60.0 - arm.geometry.pivot.chamfer))
