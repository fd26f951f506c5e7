"""From the parameter file to the curves of regions and welds."""

import numpy as np
import pytest

from analysis.life import damage, duty, plane, strength
from params.read import read_material
from tests.bores.files import VALID, edited, read

STEEL = read_material("er100s-1")


def test_a_machined_bore_by_hand(tmp_path):
    """ER100S-1: Sut 690 MPa; ka = 4.51 690^-0.265 = 0.798, ke 0.814 (99 %), Se' = 345: Se = 224 MPa, range
    448.
    """
    made = strength.at_region(read(tmp_path, VALID), STEEL, "pivot_bore")
    assert made.curve.limit == pytest.approx(448.0, rel=5e-3)  # factors by hand to three digits
    assert made.rule.title == "Goodman"


def test_a_pressed_bore_loses_by_fretting(tmp_path):
    bores = read(tmp_path, VALID)
    free, pressed, worst = (
        strength.at_region(bores, STEEL, "pivot_bore", *more).curve.limit
        for more in ((), (True,), (True, "least"))
    )
    assert pressed / free == pytest.approx(0.6, rel=1e-12)
    assert worst / free == pytest.approx(0.24, rel=1e-12)


def test_a_weld_with_partial_factor_and_size_effect(tmp_path):
    """EN 1993-1-9: category 90, 40 mm plate: 0.910 (row E034); safe life, high consequence: 1.35; CAFL
    0.737.
    """
    (weld,) = read(tmp_path, edited("category: 90", "category: 90, thickness: 40 mm")).welds
    made = strength.at_weld(weld, STEEL)
    assert made.curve.limit == pytest.approx(90.0 * 0.9102821 / 1.35 * 0.7368063, rel=1e-6)
    assert made.limit == 1.0


def test_a_fat_class_ends_at_half_the_miner_sum(tmp_path):
    (weld,) = read(tmp_path, edited("category: 90", "fat: 90")).welds
    made = strength.at_weld(weld, STEEL)
    assert made.limit == 0.5
    assert float(made.curve.allowable(2e6)) == pytest.approx(90.0 / 1.35, rel=1e-9)


def test_what_is_missing_is_told(tmp_path):
    bores = read(tmp_path, VALID)
    with pytest.raises(ValueError, match=r"input_bore: bores\.surfaces gives it no finish"):
        strength.at_region(bores, STEEL, "input_bore")
    with pytest.raises(ValueError, match="fretting is missing"):
        strength.at_region(read(tmp_path, edited("fretting: {used: 0.6}\n", "")), STEEL, "pivot_bore", True)


def test_a_node_between_regions_takes_the_weaker(tmp_path):
    bores = read(tmp_path, VALID)
    regions = {"pivot_bore": np.array([0, 1]), "outside": np.array([1, 2])}
    listed, which = strength.of_nodes(regions, {n: strength.at_region(bores, STEEL, n) for n in regions}, 4)
    assert listed[1].curve.limit < listed[0].curve.limit  # as deposited against machined
    assert list(which) == [0, 1, 1, -1]


def test_ranges_beyond_the_curve_are_told(tmp_path):
    (weld,) = read(tmp_path, VALID).welds
    made = strength.at_weld(weld, STEEL)  # 1.5 fy = 915 MPa
    stress = np.zeros((2, 2, 6))
    stress[1, :, 0] = [900.0, 930.0]
    which = np.zeros(2, np.int64)
    found = plane.search(
        stress, duty.pairs(["a", "b"], [("a", "b", 1.0)]), [made.curve], [made.rule], which, 50.0
    )
    assert list(strength.beyond(found, [made.curve], which)) == [False, True]
    assert (damage.life(found).years > 0.0).all()


def test_fretting_alone_explains_a_cracked_interference_fit(tmp_path):
    """Published range 0.24 to 0.90: the same stress lasts at least (1/0.9)^slope times longer in a slip
    fit.
    """
    bores = read(tmp_path, VALID)
    stress = np.zeros((2, 1, 6))
    stress[1, :, 0] = 500.0
    lives = []
    for pressed in (False, True):
        made = strength.at_region(bores, STEEL, "pivot_bore", pressed, "most")
        cycles = duty.pairs(["a", "b"], [("a", "b", 15_000.0)])
        found = plane.search(stress, cycles, [made.curve], [made.rule], np.zeros(1, np.int64), 50.0)
        lives.append(damage.life(found).years[0])
        slope = made.curve.slope
    assert lives[0] / lives[1] == pytest.approx((1.0 / 0.9) ** slope, rel=1e-6)
