"""From the parameter file to the curves of regions and welds."""

import numpy as np
import pytest

from analysis.contracts.hand import HandFile, Nominal, Station
from analysis.fatigue import damage, duty, plane
from analysis.fatigue.curve_at import curves_at_nodes, rule_of, surface_curve, weld_curve
from analysis.fatigue.table import judged
from analysis.fatigue.variants import this_arm
from analysis.fatigue.welds import weld_margins
from params.files.read import read_material
from params.schema.bores import Weld
from params.steps.out_of_range import STATUS
from tests.arms import changed, demo, raised_and_lowered
from tests.bores.files import edited, read

STEEL = read_material("er100s-1")
SMOOTH = "fretting: {used: 0.6, clearance: 1.0}"  # pins with play do not rub


def variant(bores):
    return this_arm(changed(demo("linkspan-rocker"), bores=bores), STEEL)


def test_a_machined_bore_by_hand(tmp_path):
    """ER100S-1: Sut 690 MPa; ka = 4.51 690^-0.265 = 0.798, ke 0.814 (99 %), Se' = 345: Se = 224 MPa, range 448."""
    bores = read(tmp_path, edited("fretting: {used: 0.6}", SMOOTH))
    made, name = surface_curve(bores, variant(bores), "pivot_bore", tight=False)
    assert made.limit == pytest.approx(448.0, rel=5e-3)  # factors by hand to three digits
    assert name == "machined" and rule_of(bores, variant(bores), "pivot_bore").title == "Goodman"


@pytest.mark.parametrize(
    ("said", "pressed", "loose"),
    [
        ("fretting: {used: 0.6}\n", 0.6, 0.6),
        ("fretting: {used: 0.6, clearance: 0.8}\n", 0.6, 0.8),
        ("", 0.24, 0.24),
    ],
)
def test_a_bore_loses_by_fretting(tmp_path, said, pressed, loose):
    """By the file's factors, or the worst of the published 0.24 to 0.90 (Shigley, 9th ed., Sec. 6-9, from memory)."""
    whole = read(tmp_path, edited("fretting: {used: 0.6}", SMOOTH))
    free, _ = surface_curve(whole, variant(whole), "pivot_bore", tight=False)
    bores = read(tmp_path, edited("fretting: {used: 0.6}\n", said))
    for tight, factor in ((True, pressed), (False, loose)):
        curve, _ = surface_curve(bores, variant(bores), "pivot_bore", tight)
        assert curve.limit / free.limit == pytest.approx(factor, rel=1e-12)


def weld(folder, new):
    bores = read(folder, edited("category: 90", new))
    return bores.welds[0], variant(bores)


def test_a_weld_with_partial_factor_and_size_effect(tmp_path):
    """EN 1993-1-9: category 90, 40 mm plate: 0.910 (row E034); safe life, high consequence: 1.35; CAFL 0.737."""
    made = weld_curve(*weld(tmp_path, "category: 90, thickness: 40 mm"), varying=True)
    assert made.limit == pytest.approx(90.0 * 0.9102821 / 1.35 * 0.7368063, rel=1e-6)
    assert made.cycles_at_knee == 5e6


def test_a_fat_class_with_thickness_and_half_the_miner_sum(tmp_path):
    """IIW-2259-15, from memory: (25/40)^0.3 = 0.8685 at a toe as welded, gamma 1.35, Miner sum 0.5 where ranges vary: at a
    constant range the year's damage uses up a sum of 0.5 in half of N = 2e6 (S/range)^3."""
    plain, varied = (
        weld_curve(*weld(tmp_path, "fat: 90, thickness: 40 mm"), varying=varying) for varying in (False, True)
    )
    strength = 90.0 * 0.8685 / 1.35
    assert float(plain.cycles(100.0)) == pytest.approx(2e6 * (strength / 100.0) ** 3, rel=5e-4)
    assert float(varied.cycles(100.0)) == pytest.approx(1e6 * (strength / 100.0) ** 3, rel=5e-4)


def test_a_node_between_regions_takes_the_weaker(tmp_path):
    bores = read(tmp_path, edited("fretting: {used: 0.6}", SMOOTH))
    regions = {"pivot_bore": np.array([0, 1]), "outside": np.array([1, 2])}
    made = curves_at_nodes(bores, variant(bores), regions, (), 3, varying=False)
    assert [made.names[k] for k in made.which] == ["machined", "as-deposited", "as-deposited"]


@pytest.mark.parametrize(("fat", "weaker"), [(160, "weld FAT 160"), (300, "as-deposited")])
def test_weaker_is_by_ranges_at_equal_cycles(tmp_path, fat, weaker):
    """At 2e6 cycles by hand: FAT over 1.35, so 118.5 and 222 MPa; skin 2 x 345 x 272 690^-0.995 x 0.814 = 228 MPa at 1e6 cycles,
    slope 2 m - 1 = 7.4 beyond (Shigley, 9th ed.; Haibach): 208 MPa. The knees, at 1e7 and 1e6 cycles, would say 130 MPa for
    FAT 300 and name the weld."""
    text = edited("category: 90", f"fat: {fat}").replace(", arm: output, station: 500 mm", "")
    bores = read(tmp_path, text)
    made = curves_at_nodes(bores, variant(bores), {"outside": np.array([0])}, (), 1, varying=False)
    assert [made.names[k] for k in made.which] == [weaker]


def test_ranges_beyond_the_curve_are_told(tmp_path):
    """EN 1993-1-9:2005 section 8(1): ranges up to 1.5 fy; ER100S-1 yields at 610 MPa, so 915 MPa."""
    arm = demo("linkspan-rocker")
    curve = weld_curve(*weld(tmp_path, "category: 90"), varying=False)
    assert judged(900.0, 10.0, 0.1, curve, arm) == ("ok", "")
    assert judged(930.0, 10.0, 0.1, curve, arm) == (STATUS, "range over 915.0 MPa, the most of the curve")
    assert judged(1.0, np.inf, 5.0, curve, arm) == ("ok", "every range below the limit: no damage")
    assert judged(900.0, 10.0, -0.1, curve, arm)[0] == "fails"


def test_fretting_alone_explains_a_cracked_interference_fit(tmp_path):
    """The same stress lasts (1/factor)^slope times longer in a slip fit."""
    bores = read(tmp_path, edited("used: 0.6", "used: 0.9, clearance: 1.0"))
    stress = np.zeros((2, 1, 6))
    stress[1, :, 0] = 500.0
    lives = []
    for pressed in (False, True):
        curve, _ = surface_curve(bores, variant(bores), "pivot_bore", pressed)
        cycles = duty.pairs(["a", "b"], [("a", "b", 15_000.0)])
        found = plane.search(
            stress,
            cycles,
            [curve],
            [rule_of(bores, variant(bores), "pivot_bore")],
            np.zeros(1, np.int64),
            50.0,
        )
        lives.append(damage.life(found).years[0])
    assert lives[0] / lives[1] == pytest.approx((1.0 / 0.9) ** curve.slope, rel=1e-6)


def welded():
    """The tiny arm with one weld of category 71 on its output arm, 100 mm from the pivot."""
    weld = Weld(
        region="outside",
        arm="output",
        station="100 mm",
        category=71,
        assessment="damage tolerant",
        consequence="high",
    )
    arm = raised_and_lowered(demo("bench-lever"))
    assert arm.bores is not None
    return changed(arm, bores=arm.bores.model_copy(update={"welds": (weld,)}))


def at(table):
    """One load case of hand.json, from rows of station, stress of the upper and of the lower flange of the output arm."""
    stations = [Station.model_construct(s=s, sigma_plus=plus, sigma_minus=minus) for s, plus, minus in table]
    return Nominal.model_construct(stations={"output": stations})


def test_margin_of_a_weld_at_a_station_by_hand():
    """EN 1993-1-9:2005, category 71, 1.15 (damage tolerant, high): 5000 cycles a year for 20 years allow 71/1.15 x 20^(1/3) =
    167.6 MPa. Half-way between stations of 40 and 80 MPa in one case and -20 in the other the range is 80 MPa at the upper flange;
    45 at the lower. A range of 800 MPa is over 1.5 fy = 517.5 MPa."""
    arm = welded()

    def hand(up):
        tables = {name: [(50.0, 0.0, 0.0), (150.0, 0.0, 0.0)] for name in arm.load_cases}
        tables["raise"] = [(50.0, 40.0 * up, 30.0), (150.0, 80.0 * up, 60.0)]
        tables["lower"] = [(s, -20.0 * up, 0.0) for s in (50.0, 150.0)]
        return HandFile.model_construct(cases={name: at(table) for name, table in tables.items()}, least={})

    ((told, made),) = weld_margins(arm, read_material("a572-50"), hand(1.0)).items()
    assert told == "output arm, weld 71 at 100.0 mm"
    allowed = 71.0 / 1.15 * 20.0 ** (1.0 / 3.0)
    assert made.range == pytest.approx(80.0, rel=1e-9)
    assert made.allowable == pytest.approx(allowed, rel=1e-6)
    assert made.margin == pytest.approx(allowed / 80.0 - 1.0, rel=1e-6)
    seldom = changed(arm, duty__pairs=(arm.duty.pairs[0].model_copy(update={"cycles_per_year": 1.0}),))
    (beyond,) = weld_margins(seldom, read_material("a572-50"), hand(10.0)).values()
    assert beyond.allowable > 2000.0  # 20 cycles: 71/1.15 x 1e5^(1/3)
    assert beyond.margin == pytest.approx(517.5 / 800.0 - 1.0, rel=1e-6)


def test_a_weld_whose_load_only_goes_down_over_the_stroke_by_hand():
    """The same stress of 60 MPa in both cases at their most, half of it, 30, in one at its least: a range of 30 MPa; the class
    allows 167.6 MPa as above."""
    arm = welded()

    def even(stress):
        return at([(s, stress, 0.0) for s in (50.0, 150.0)])

    hand = HandFile.model_construct(
        cases={name: even(60.0) for name in arm.load_cases}, least={"lower": even(30.0)}
    )
    (made,) = weld_margins(arm, read_material("a572-50"), hand).values()
    assert made.range == pytest.approx(30.0, rel=1e-9)
    assert made.margin == pytest.approx(71.0 / 1.15 * 20.0 ** (1.0 / 3.0) / 30.0 - 1.0, rel=1e-6)
