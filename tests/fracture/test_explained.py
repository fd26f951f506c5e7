"""Why a found crack is there: due by fatigue, growth to its size, causes; against `tests.reference.hindcast`, which knows
nothing of the project, and against what follows from it by hand."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from datetime import date
from types import SimpleNamespace

import numpy as np
import pytest

from analysis.fatigue.duty import Cycles
from analysis.fatigue.variants import CRACKED, variants
from analysis.fracture import hindcast
from analysis.fracture.causes import carries, causes, least
from analysis.fracture.defect import least_defect, limit_with_defect
from analysis.fracture.driven import driven
from analysis.fracture.explained import COLUMNS, EXPLAINED, NOT_EXPLAINED, NOT_KNOWN, explained
from analysis.fracture.flaws import Place
from analysis.fracture.growth_law import law_in
from analysis.fracture.hindcast import FIRST, becomes, damage, due, in_all
from analysis.fracture.past import Past, Worked, past, since
from analysis.fracture.path import Path
from analysis.fracture.site import Assumed, Site, used_states
from params.schema.cracks import OldArm
from params.steps.problems import OutOfRange
from tests.arms import demo
from tests.reference import hindcast as by_hand

ROCKER = demo(
    "linkspan-rocker"
)  # invented; its cracked arm is a casting of 450 MPa, machined and pressed in the bore
OLD = next(one for one in variants(ROCKER) if one.name == CRACKED)
HOOP = np.array([1.0, 0.0, 0.0, 0.0, 0.0, 0.0])
# States: raise, surge, and without load the fit alone; MPa across the hoop plane.
RAISED, SURGED, ALONE = 67.1, 75.7, 38.5
LIFTS = [(ALONE, RAISED, 10950.0), (ALONE, SURGED, 50.0)]
ALWAYS = Past(68.0, (Worked(0.0, math.inf),))
AIR = Assumed(0.0, "air")


@dataclass(frozen=True)
class WidePlate:
    """A through crack far from any edge: K = S sqrt(pi a), of each state and of the residual stress."""

    across: tuple[float, ...]
    names = ("half length",)

    def influence(self, sizes):
        return np.array(self.across)[:, None, None] * np.sqrt(np.pi * sizes)[None]

    def reference(self, sizes, state):
        return np.full(sizes.shape[1], float(np.dot(state, (*self.across[:-1], 0.0))))

    def inside(self, sizes):
        return np.ones(sizes.shape[1], dtype=bool)


def site(length=20.0, law="simplified", **changes):
    """One node with one plane; the crack found is through, `length` mm in all."""
    stress = np.array([RAISED, SURGED, ALONE])
    cycles = Cycles(
        np.array([2, 2]),
        np.array([0, 1]),
        np.zeros(2),
        np.ones(2),
        np.array([10950.0, 50.0]),
        np.full((2, 2), -1),
    )
    path = Path(np.array([0.0, 100.0]), np.tile(stress[:, None], (1, 2)), 100.0, np.zeros(3))
    drive = driven(path, cycles, 0.0)
    crack = SimpleNamespace(
        name="found", region="pivot_bore", shape="through", length=length, depth=None, found=date(2026, 3, 2),
        section=SimpleNamespace(thickness=25.0, width=1e4),
    )  # fmt: skip
    eye = np.eye(3)
    states = (eye[[2, 0]], eye[[2, 1]])
    made = Site(
        ROCKER, ROCKER.bores, ROCKER.cracks.model_copy(update={"growth": law}), crack, OLD,
        stress[None, :, None] * HOOP, np.array([[[1.0, 0.0, 0.0]]]), states, cycles.per_year,
        Place(WidePlate((*stress, 1.0)), (1.0,), drive.blocks, drive.highest, drive.residual), drive, ("pivot",),
    )  # type: ignore[arg-type]  # fmt: skip
    return replace(made, **changes)


@pytest.mark.parametrize(
    ("environment", "residual", "years"),
    # By `python3 tests/reference/hindcast.py`.
    [("air", 0.0, math.inf), ("air", 150.0, 152.72013687342104), ("marine", 150.0, 40.14430308187823)],
)
def test_first_crack_is_due_as_by_hand(environment, residual, years):
    """To 1e-4: the coefficient of the reliability factor is rounded by no one."""
    assert due(site(), Assumed(residual, environment), ALWAYS) == pytest.approx(years, rel=1e-4)
    hand = by_hand.years_to_first_crack(450.0, 0.7, 0.24, LIFTS, residual, 240.0, environment == "marine")
    assert hand == pytest.approx(years, rel=1e-12)


def test_residual_stress_does_not_pass_yield_strength():
    """240 MPa of yield less the 67.1 of a lift leave 172.9: more counts no more in its cycles."""
    at_limit, beyond = (damage(site(), Assumed(s, "marine"), 1.0) for s in (240.0 - RAISED, 239.0))
    assert beyond == pytest.approx(at_limit, rel=1e-12)


def test_growth_is_paris_by_hand():
    """Two-sided 20 mm: half length 3 to 10 mm; simplified laws of BS 7910, the step of 4 % within 0.2 %. A lift's range is 28.6."""
    wanted = by_hand.paris_years(3.0, 10.0, RAISED - ALONE, 10950.0, 5.21e-13, 3.0)
    only = replace(site(), per_year=np.array([10950.0, 1e-9]))
    assert becomes(only, AIR, ALWAYS, FIRST).years == pytest.approx(wanted, rel=2e-3)
    sea = by_hand.paris_years(3.0, 10.0, RAISED - ALONE, 10950.0, 2.3e-12, 3.0)
    assert becomes(only, Assumed(0.0, "marine"), ALWAYS, FIRST).years == pytest.approx(sea, rel=2e-3)


def test_spells_add_up():
    """Half the cycles for the first 20 years: what is due after 40.144 years of the duty is due 10 years later; growth likewise."""
    spells = Past(68.0, (Worked(0.0, 20.0, 0.5), Worked(20.0, math.inf)))
    sea = Assumed(150.0, "marine")
    assert due(site(), sea, spells) == pytest.approx(40.1443 + 10.0, rel=1e-4)
    slow = Assumed(0.0, "marine")
    plain, late = (becomes(site(7.0), slow, one, FIRST).years for one in (ALWAYS, spells))
    assert plain > 20.0 and late == pytest.approx(plain + 10.0, rel=2e-3)


def test_loads_keep_the_fit():
    """Twice the load doubles the range of 28.6 MPa about the fit's 38.5: from 38.5 to 95.7."""
    low, high = ALONE, ALONE + 2.0 * (RAISED - ALONE)
    surge = ALONE + 2.0 * (SURGED - ALONE)
    hand = by_hand.years_to_first_crack(
        450.0, 0.7, 0.24, [(low, high, 10950.0), (low, surge, 50.0)], 150.0, 240.0, True
    )
    assert due(site(), Assumed(150.0, "marine", load=2.0), ALWAYS) == pytest.approx(hand, rel=1e-4)


def test_a_duty_that_does_not_unload_and_one_that_does():
    """From surge to raise alone nothing is due; unloading in full makes each cycle reach 38.5 again."""
    eye = np.eye(3)
    still = replace(site(), passed=(eye[[1, 0]],), per_year=np.array([10950.0]))
    assert math.isinf(due(still, Assumed(150.0, "air"), ALWAYS))
    hand = by_hand.years_to_first_crack(450.0, 0.7, 0.24, [(ALONE, SURGED, 10950.0)], 150.0, 240.0, False)
    assert due(still, Assumed(150.0, "air", unloading=1.0), ALWAYS) == pytest.approx(hand, rel=1e-4)


def test_the_least_value_that_explains_is_a_root():
    value, at = least(lambda n: 100.0 / n, 1.0, 1000.0, 8.0)
    assert value == pytest.approx(12.5, rel=3e-3) and at <= 8.0
    assert least(lambda n: 100.0 / n, 1.0, 10.0, 8.0) == (None, 10.0)


def told(found):
    return {row["what"]: row for row in found if row["part"] == "cause"}


def test_an_explained_crack_and_one_that_is_not():
    """A crack of 5.9 mm, half length 2.95, is no larger than a first crack: due after 40.1 years, it is explained in 68 (1958 to
    March 2026). One of 20 mm is not; cycles alone explain it where 40.14 and its growth, 17 years by Paris with 60 MPa, shrink."""
    old = OldArm.model_validate(
        {"material": "a27-65-35", "toughness": {"charpy": [{"temperature": "-20 degC", "energy": "90 J"}]},
         "residual_stress": "150 MPa", "in_service": 1958, "environment": "marine"}
    )  # fmt: skip
    cracks = ROCKER.cracks.model_copy(update={"growth": "simplified", "old_arm": old})
    tough = replace(OLD, toughness=old.toughness, residual=150.0)
    small = replace(site(5.9), cracks=cracks, variant=tough)
    rows = explained([small])
    assert all(set(row) <= set(COLUMNS) for row in rows)
    assert rows[0]["status"] == EXPLAINED and rows[0]["value"] == pytest.approx(40.1443, rel=1e-4)
    assert rows[0]["least"] == pytest.approx(68.0 + 60.0 / 365.0) and not told(rows)
    large = replace(site(20.0), cracks=cracks, variant=tough)
    rows = explained([large, large])
    assert rows[0]["status"] == NOT_EXPLAINED and rows[0]["settled"] == "yes"
    wanted = rows[0]["value"] / rows[0]["least"]  # years go with one over the cycles
    made = told(rows)["cycles a year times"]
    assert made["status"] == "would explain it" and made["value"] == pytest.approx(wanted, rel=5e-3)
    assert f"cycles a year times {made['value']:.3g}" in rows[0]["note"]
    unsaid = replace(
        large, cracks=cracks.model_copy(update={"old_arm": old.model_copy(update={"in_service": None})})
    )
    assert [row["status"] for row in explained([unsaid])] == [NOT_KNOWN]


def test_two_meshes_that_differ_are_told():
    """Twice the stress on the coarser mesh: no figure, both values, and a verdict only where both agree."""
    cracks = ROCKER.cracks  # in service since 1958, in the sea, 150 MPa
    small = replace(site(5.9), cracks=cracks, variant=OLD)
    coarser = replace(small, stress=small.stress * 0.6)
    row = explained([small, coarser])[0]
    assert row["settled"] == "no" and row["value"] is None
    assert "on the coarser mesh" in row["note"]


def test_a_cause_that_never_explains_says_its_range():
    tough = replace(site(20.0), cracks=ROCKER.cracks.model_copy(update={"growth": "two-stage upper"}))
    found = {one.name: one for one in causes(tough, AIR, ALWAYS)}
    worst = found["fretting at its worst factor"]
    assert worst.value is None and "no fatigue damage" in worst.why  # 0.24 is the worst already
    assert found["share of its load that each cycle puts down"].why.startswith("each cycle unloads already")
    assert found["cycles a year times"].value is None and found["cycles a year times"].high == 1000.0


def test_residual_stress_is_tried_as_far_as_the_arm_carries_the_crack():
    """At the limit the crack uses all of the diagram; a little more breaks it."""
    one = site(20.0)
    most = carries(lambda s: Assumed(s, "air"), one, 0.0, 240.0)
    assert (
        hindcast.share_of_diagram(one, Assumed(most, "air")) == pytest.approx(1.0, abs=2e-3) or most == 240.0
    )
    assert hindcast.needed_toughness(one, AIR) < hindcast.needed_toughness(one, Assumed(100.0, "air"))


def test_a_crack_that_breaks_before_it_is_so_large_never_becomes_it():
    """Residual stress of 200 MPa on a crack of 400 mm: it breaks on the way, and says so."""
    end = becomes(site(400.0), Assumed(200.0, "marine"), ALWAYS, FIRST)
    assert math.isinf(end.years) and "before it is as large as found" in end.why
    never = in_all(site(20.0), AIR, ALWAYS)
    assert math.isinf(never.years) and "no fatigue damage" in never.why


def test_years_in_service_and_spells_of_the_file():
    """2 March is the 61st day of 2026: 60/365 of the year has passed."""
    assert since(1958, date(2026, 3, 2)) == pytest.approx(68.0 + 60.0 / 365.0)
    made = past(ROCKER.cracks.old_arm, date(2026, 3, 2))
    assert [(s.begin, s.end, s.cycles, s.load) for s in made.spells] == [
        (0.0, 22.0, 0.7, 1.0),
        (22.0, math.inf, 1.0, 1.0),
    ]
    late = ROCKER.cracks.old_arm.model_copy(update={"in_service": 1950})
    assert [s.cycles for s in past(late, date(2026, 3, 2)).spells] == [1.0, 0.7, 1.0]


def test_defects_of_a_casting():
    """Murakami, by hand: HV 180, 100 um: 1.43 x 300 / 100^(1/6) = 199.1 MPa at R = -1; at R = 0 times 0.5^0.244 = 0.844. The root
    goes with the sixth power of the amplitude: 10 % more, 0.564 of it."""
    assert limit_with_defect(0.1, 3.2 * 180.0) == pytest.approx(199.124, abs=0.01)
    assert limit_with_defect(0.1, 3.2 * 180.0, 0.0) == pytest.approx(199.124 * 0.8444, rel=1e-3)
    assert least_defect(199.124, 3.2 * 180.0, -1.0) == pytest.approx(0.1, rel=1e-3)
    assert least_defect(1.1 * 199.124, 3.2 * 180.0, -1.0) == pytest.approx(0.1 * 1.1**-6, rel=1e-3)
    assert math.isnan(least_defect(20.0, 3.2 * 180.0, -1.0))
    with pytest.raises(OutOfRange, match="square root of area"):
        limit_with_defect(2.0, 500.0)


@pytest.mark.parametrize(
    ("name", "low", "high"),
    # Transitions that BS 7910:2013 prints beside the constants, N/mm^1.5, from memory.
    [("two-stage mean, marine", 1336.0, 1098.0), ("two-stage upper, marine", 993.0, 748.0),
     ("two-stage mean, marine with protection", 462.0, 323.0), ("two-stage upper, marine with protection", 434.0, 290.0)],
)  # fmt: skip
def test_laws_in_the_sea_cross_where_the_standard_says(name, low, high):
    law = law_in(*reversed(name.split(", ", 1)))
    assert law.transition(0.0) == pytest.approx(low, rel=5e-3)
    assert law.transition(0.6) == pytest.approx(high, rel=5e-3)
    free = name.endswith("marine")
    assert (law.rate(50.0, 0.6) > 0.0) == free  # below the threshold of 63 only free corrosion grows a crack


def test_a_law_for_air_alone_gives_way_in_the_sea():
    assert law_in("marine", "ferrite-pearlite") is law_in("marine", "two-stage upper")
    assert law_in("air", "ferrite-pearlite").title == "ferrite-pearlite steels"


def test_states_are_numbered_anew():
    cycles = Cycles(
        np.array([8, 2]),
        np.array([0, 8]),
        np.zeros(2),
        np.ones(2),
        np.ones(2),
        np.array([[11, -1], [-1, 11]]),
    )
    kept, anew = used_states(cycles)
    assert kept.tolist() == [0, 2, 8, 11]
    assert anew.start.tolist() == [2, 1] and anew.end.tolist() == [0, 2]
    assert anew.also.tolist() == [[3, -1], [-1, 3]]
