"""The arms that are compared, their surfaces, and the hand's fatigue and flaw checks against arithmetic written out here."""

from __future__ import annotations

import math

import numpy as np
import pytest

from analysis.fatigue.curve_at import surface_curve
from analysis.fatigue.stresses import fitted, interference
from analysis.fatigue.variants import CRACKED, OTHER, THIS, finishes, this_arm, variants
from analysis.hand.evaluate import evaluate
from analysis.hand.fatigue_and_flaws import Swings, blend, hub, swings
from analysis.mechanics.response import response
from analysis.mechanics.sizes import Sizes
from params.files.read import read_material
from params.schema.arm import DutyPair
from params.schema.bores import Bush, History, Surface
from tests.arms import changed, demo, raised_and_lowered

ROCKER = demo("linkspan-rocker")  # demo of our own, invented


def test_the_rocker_is_compared_with_its_old_fit_and_its_old_self():
    this, other, old = variants(ROCKER)
    assert [this.name, other.name, old.name] == [THIS, OTHER, CRACKED]
    assert str(this.sizes["pivot"].fit) == "H8/d9" and str(old.sizes["pivot"].fit) == "H7/s6"
    assert (this.material.name, old.material.name) == ("er100s-1", "a27-65-35")
    assert this.finish["outside"] == "as-deposited" and old.finish["outside"] == "as-cast"
    assert this.finish["pivot_bore"] == old.finish["pivot_bore"] == "machined"


def test_a_region_left_out_is_as_rough_as_the_roughest():
    surfaces = (
        Surface(region="pivot_bore", finish="machined"),
        Surface(region="outside", finish="hot-rolled"),
    )
    arm = changed(ROCKER, bores__surfaces=surfaces)
    assert finishes(arm)["input_faces"] == "hot-rolled"
    assert finishes(arm)["pivot_bore"] == "machined"


def test_an_arm_without_the_sections_is_alone():
    (only,) = variants(changed(ROCKER, bores=None, cracks=None))
    assert only.sizes == {} and only.toughness is None and only.residual is None


def test_a_tight_fit_adds_the_hoop_stress_of_a_thick_ring():
    """Lame: at the bore the hoop stress is p (b^2 + a^2)/(b^2 - a^2), the radial one -p; at the outside 2 p a^2/(b^2 - a^2).

    One modulus and a solid shaft: p = E delta (b^2 - a^2)/(4 a b^2), Timoshenko, Strength of Materials Part II.
    """
    old = variants(ROCKER)[2]
    points = np.array([[160.0, 0.0, 0.0], [0.0, 160.0, 50.0], [350.0 - 1e-9, 0.0, 0.0], [500.0, 0.0, 0.0]])
    actual = fitted(ROCKER, old, points)
    a, b = 160.0, 350.0
    # H7/s6 at 320 mm, ISO 286-2: hole 0 to 57, shaft 190 to 226 micrometres; mean 0.1795 mm less 0.8 (Rz + Rz) of smoothing,
    # DIN 7190: peaks of 6.3 and 4 micrometres.
    mean = (0.190 + 0.226) / 2.0 - 0.057 / 2.0 - 0.8 * (0.0063 + 0.004)
    p = 205e3 * mean * (b**2 - a**2) / (4.0 * a * b**2)
    hoop = p * (b**2 + a**2) / (b**2 - a**2)
    assert actual[0, [0, 1]] == pytest.approx([-p, hoop], rel=1e-6)
    assert actual[1, [0, 1]] == pytest.approx([hoop, -p], rel=1e-6)
    assert actual[2, [0, 1]] == pytest.approx([0.0, 2.0 * p * a**2 / (b**2 - a**2)], abs=1e-6)
    assert not actual[3].any()  # beyond the hub
    assert not fitted(ROCKER, variants(ROCKER)[0], points).any()  # a slip fit adds nothing


def test_fretting_weakens_the_bore_of_a_tight_fit_most():
    this = this_arm(ROCKER, read_material("er100s-1"))
    loose, _ = surface_curve(ROCKER.bores, this, "pivot_bore", tight=False)
    tight, name = surface_curve(ROCKER.bores, this, "pivot_bore", tight=True)
    assert tight.knee / loose.knee == pytest.approx(0.24 / 0.5)  # factors of the file, tight and with play
    assert "fretting 0.24" in name


def row(check: str, place: str):
    actual = evaluate(ROCKER, read_material(ROCKER.material))
    return next(one for one in actual.rows() if one.check.clause.check == check and one.check.place == place)


def test_fatigue_at_the_blend_by_arithmetic():
    """The largest cycle's bending written out: M3 at the hub edge in both jams, the shoulder's factor, Goodman, Miner.

    Every number but forces and section moduli is computed here; forces and moduli have tests of their own.
    """
    material = read_material(ROCKER.material)
    now = response(ROCKER, material, Sizes.from_arm(ROCKER), np.linspace(0.0, 1.0, 41))
    least, most = (end[0] for end in blend(now, now.limbs[1], swings(ROCKER)))
    often = np.array([pair.cycles_per_year for pair in ROCKER.duty.pairs]) * 100.0
    # Shigley, 9th ed.: ka = 272 Su^-0.995 as forged, size 0.7, reliability 99 % 0.814, Se' = 0.5 Su, f by Eq. 6-10 to 6-12.
    Su = 690.0
    Se = 272.0 * Su**-0.995 * 0.7 * (1.0 - 0.08 * 2.3263479) * 0.5 * Su
    f = min(0.9, (Su + 345.0) / Su * 2e3 ** (-math.log((Su + 345.0) / (0.5 * Su)) / math.log(2e6)))
    m = 3.0 / math.log10(f * Su / Se)
    amplitude, mean = (most - least) / 2.0, np.maximum((most + least) / 2.0, 0.0)
    reversed_ = 2.0 * amplitude / (1.0 - mean / Su)
    s = (np.sum(often * reversed_**m) / often.sum()) ** (1.0 / m)
    capacity = 2.0 * Se * (1e6 / often.sum()) ** (1.0 / (2.0 * m - 1.0))
    actual = row("fatigue", "output arm at hub")
    assert actual.demand == pytest.approx(s, rel=1e-6)
    assert actual.capacity == pytest.approx(capacity, rel=1e-4)  # 0.814 to five digits


def test_a_cycle_that_turns_round_has_the_whole_range():
    """Between the two jams the bending turns its sign: the range is more than either end's size."""
    pair = DutyPair(from_case="jam-retract", to_case="jam-extend", cycles_per_year=4.0)
    arm = changed(ROCKER, duty__pairs=(pair,))
    now = response(arm, read_material(arm.material), Sizes.from_arm(arm), np.linspace(0.0, 1.0, 41))
    least, most = (end[0] for end in blend(now, now.limbs[1], swings(arm)))
    assert least[0] < 0.0 < most[0]
    low, high = (end[0] for end in hub(now, swings(arm)))
    assert np.all(high >= low)


def test_flaw_at_the_rim_by_arithmetic():
    """BS 7910 Annex J lower bound with a mean of 90 ft-lb, the lowest of three 0.7 of it, in 360 mm, residual 120 MPa, a flaw of
    7 mm: by hand."""
    energy = 0.7 * 90.0 * 1.3558179483
    tough = ((12.0 * math.sqrt(energy) - 20.0) * (25.0 / 360.0) ** 0.25 + 20.0) * math.sqrt(1000.0)
    actual = row("flaw at the rim", "pivot bore")
    assert actual.capacity == pytest.approx(tough / (0.8 * math.sqrt(math.pi * 7.0)), rel=1e-9)
    assert actual.demand - 120.0 == pytest.approx(row("bore peak", "pivot bore").demand, rel=1e-9)


def test_deposited_steel_takes_more_than_three_times_the_energy_of_the_old_casting():
    """Common practice, no source: old cast steel 20 to 30 ft-lb, deposited low-alloy steel 80 to 100, equally cold."""
    new, old = ROCKER.cracks.toughness.charpy[0], ROCKER.cracks.old_arm.toughness.charpy[0]
    foot_pound = 1.3558179483
    assert 20.0 <= old.energy / foot_pound <= 30.0 and 80.0 <= new.energy / foot_pound <= 100.0
    assert new.temperature == old.temperature
    assert new.energy > 3.0 * old.energy


def tightened(**fields):
    """The rocker with the old interference fit in its pivot for good."""
    return changed(ROCKER, bores__fits={"pivot": ROCKER.bores.fits["pivot"].model_copy(update=fields)})


def the(check: str, place: str, arm):
    actual = evaluate(arm, read_material(arm.material)).rows()
    return next(one for one in actual if one.check.clause.check == check and one.check.place == place)


def test_a_tight_fit_counts_in_the_hand_check_of_its_bore_alone():
    """Fretting 0.24 on the curve, 0.5 with play; the thick ring's steady hoop stress of the fit on the flaw: Lame as above,
    H7/s6 at 320."""
    tight = tightened(fit=ROCKER.bores.fits["pivot"].compare)
    free, fretted = (the("fatigue", "pivot bore", arm) for arm in (ROCKER, tight))
    assert fretted.capacity == pytest.approx(0.24 / 0.5 * free.capacity, rel=1e-9)
    a, b = 160.0, 350.0
    mean = (0.190 + 0.226) / 2.0 - 0.057 / 2.0 - 0.8 * (0.0063 + 0.004)
    hoop = 205e3 * mean * (b**2 + a**2) / (4.0 * a * b**2)
    loose, flaw = (the("flaw at the rim", "pivot bore", arm) for arm in (ROCKER, tight))
    assert flaw.demand - loose.demand == pytest.approx(hoop, rel=1e-6)
    # Goodman, Su 690 MPa: (Su - m)/(Su - m - hoop) of a range whose mean m was tension before is more than Su/(Su - hoop).
    assert fretted.demand > free.demand / (1.0 - hoop / 690.0)
    for place in ("input bore", "output bore", "output arm at hub"):
        assert the("fatigue", place, tight).capacity == the("fatigue", place, ROCKER).capacity


def test_a_bush_pressed_into_the_arm_frets_under_a_shaft_that_turns_in_it():
    """ISO 286-2 at 320 mm: H7 0 to 57, p6 62 to 98 micrometres: 98 at most. The shaft's H8/d9 has play."""
    bush = Bush.model_validate(
        {
            "inside": "280 mm",
            "fit": {"fit": "H7/p6"},
            "yield_strength": "200 MPa",
            "elastic_modulus": "110 GPa",
            "poisson_ratio": 0.34,
            "expansion": "18 um/m/K",
        }
    )
    arm = tightened(bush=bush, service=(20.0, 20.0))
    assert interference(arm, this_arm(arm, read_material(arm.material)))["pivot"] == pytest.approx(
        0.098, abs=1e-9
    )


def test_measured_histories_count_in_the_hand_check():
    """A signal 0, 1, 0 that comes as often as the pair is the same cycles once more: twice N, the same range."""
    arm = raised_and_lowered(demo("bench-lever"))
    pair = arm.duty.pairs[0]
    log = History(
        title="invented",
        from_case=pair.from_case,
        to_case=pair.to_case,
        values=(0.0, 1.0, 0.0),
        times_per_year=pair.cycles_per_year,
    )
    logged = changed(arm, bores__histories=(log,))
    once, twice = (the("fatigue", "pivot bore", one) for one in (arm, logged))
    assert twice.symbols["N"] == pytest.approx(2.0 * once.symbols["N"])
    assert twice.demand == pytest.approx(once.demand, rel=1e-9)
    often = changed(
        arm, duty__pairs=(pair.model_copy(update={"cycles_per_year": 2.0 * pair.cycles_per_year}),)
    )
    assert twice.margin == pytest.approx(the("fatigue", "pivot bore", often).margin, rel=1e-9)


def test_blends_of_two_cases_by_their_extremes():
    """Case 0 between 1 and 3, case 1 between -2 and 10: half-way -0.5 to 6.5; at 1.5 of the signal -0.5 x (1 to 3) + 1.5 x (-2 to
    10), so -4.5 to 14.5; a size is at most 0.5 x 3 + 1.5 x 10."""
    values = np.array([[[1.0, 3.0], [-2.0, 10.0]]])
    cycles = Swings(np.ones(2), np.array([[0, 1], [0, 1]]), np.array([0.5, 1.5]), np.array([0.5, 1.5]))
    least, most = cycles.ends(values)
    assert least.tolist() == [[-0.5, -4.5]] and most.tolist() == [[6.5, 14.5]]
    assert cycles.largest(np.abs(values)).tolist() == [[6.5, 16.5]]
