"""The hub: forces carried to the pivot centre, net section and bore peak on hand figures."""

import numpy as np
import pytest

from analysis.hand.checks import across_bisector, at_pivot
from analysis.hand.evaluate import evaluate
from analysis.mechanics.response import response
from analysis.mechanics.sizes import Sizes
from analysis.mechanics.statics import swing
from params.files.read import read_material
from params.schema.arm import LoadCase
from tests.arms import changed, demo


def one_case(**fields):
    return changed(demo("linkspan-rocker"), bores=None, load_cases={"one": LoadCase(kind="hold", **fields)})


def test_moment_at_the_pivot_is_pin_force_times_arm():
    arm = one_case(side_ratio=0.05)
    light = read_material("er100s-1").model_copy(update={"density": 1e-15})
    now = response(arm, light, Sizes.from_arm(arm), swing(3))
    for limb, pin in zip(now.limbs, (now.statics.input, now.statics.output), strict=True):
        carried = at_pivot(now, limb)
        assert carried["M3"][0, 0, :, 0] == pytest.approx(limb.length * limb.pin.eta[0, 0], rel=1e-9)
        assert carried["M2"][0, 0, :, 0] == pytest.approx(-limb.length * pin[2, 0, 0], rel=1e-9)


def test_moments_of_both_arms_meet_at_the_pivot():
    """Without friction and weight the pivot takes no moment: what one arm brings the other takes away."""
    arm = one_case()
    light = read_material("er100s-1").model_copy(update={"density": 1e-15})
    now = response(arm, light, Sizes.from_arm(arm), swing(3))
    moments = [at_pivot(now, limb)["M3"][0, 0, :, 0] for limb in now.limbs]
    assert moments[0] == pytest.approx(-moments[1], rel=1e-9)


def test_net_section_of_the_rocker_by_hand():
    """Hub 700, bore 320, width 360: I = 360 (700^3 - 320^3)/12 = 9.307e9 mm4, A = 136 800 mm2."""
    arm = one_case()
    material = read_material("er100s-1").model_copy(update={"density": 1e-15})
    hand = evaluate(arm, material, fraction=[0.5])
    checked_row = next(
        row
        for row in hand.rows()
        if row.check.clause.check == "net section at pivot" and "output" in row.check.place
    )
    assert checked_row.symbols["I3"] == pytest.approx(9.307e9, rel=1e-3)
    assert checked_row.symbols["A"] == pytest.approx(136800.0, rel=1e-12)
    pull, arm_length = (
        425e3,
        1750.0,
    )  # mid-swing: load of the file; the output arm is 1 degree off the horizontal
    bending = pull * arm_length * np.cos(np.radians(1.0)) * 350.0 / 9.307e9
    axial = pull * np.sin(np.radians(1.0)) / 136800.0
    shear = 1.5 * pull * np.cos(np.radians(1.0)) / 136800.0
    assert checked_row.demand == pytest.approx(
        np.sqrt((bending + axial) ** 2 + 3.0 * shear**2), rel=1e-3
    )  # rounded constants


def test_axial_force_through_a_bent_hub():
    """Cut along the bisector: each half's pin force, resolved square to the cut as vectors; half the pivot's goes either way."""
    arm = changed(demo("sluice-crank"), load_cases={"one": LoadCase(kind="hold")})
    light = read_material(arm.material).model_copy(update={"density": 1e-15})
    now = response(arm, light, Sizes.from_arm(arm), swing(3))
    half = arm.geometry.included_angle / 2.0
    square = np.array([np.sin(half), -np.cos(half), 0.0])  # to the bisector, toward the output arm
    pull = np.einsum("i,ip->p", square, now.statics.output[:, 0, 0] - now.statics.input[:, 0, 0]) / 2.0
    force = across_bisector(now, [at_pivot(now, limb) for limb in now.limbs])
    assert force[0, 0, :, 0] == pytest.approx(pull, rel=1e-9)
