"""A value out of a formula's range: a row with its reason in the arm's units, by a conservative bound where there is one."""

from typing import get_args

import numpy as np
import pytest

from analysis.clauses.bounds import checked
from analysis.fatigue.curve_at import rule_of, surface_curve, weld_curve
from analysis.fatigue.variants import this_arm
from analysis.fracture.found import toughness_of
from analysis.fracture.growth_law import LAWS
from analysis.fracture.loads import steel_of
from analysis.fracture.toughness import MPA_ROOT_M
from analysis.fracture.toughness_bound import toughness_or_bound
from analysis.hand.evaluate import evaluate, status
from params.files.read import material_names, read_material
from params.schema.bores import Finish, Weld
from params.schema.cracks import Cracks, Toughness
from params.schema.material import Material
from params.steps.out_of_range import or_reason
from params.steps.problems import OutOfRange
from tests.arms import changed, demo

STEEL = read_material("a572-50")  # yield strength 345 MPa
MOMENTS = np.array([0.0, 0.5, 1.0])


def tough(energy: str = "80 J", coldest: str = "-20 degC", **said: object) -> Cracks:
    point = {"temperature": "-20 degC", "energy": energy, "lowest": energy}  # three equal values
    data = {"charpy": [point], "held_when_warmer": True} | said
    return Cracks.model_validate({"coldest": coldest, "toughness": data})


# By hand, MPa root m. BS 7910 J.2.1: (12 sqrt(Cv) - 20)(25/B)^0.25 + 20, at most 0.54 Cv + 55; ASTM E1921 at 5 %, 25 mm:
# 20 + (11 + 77 exp(0.019 (T - T0))) 0.05129^0.25, with 0.05129^0.25 = 0.47590.
BOUNDS = [
    (
        tough("47.4536 J"),
        906.78,
        45.53,
        "thickness 906.78 mm is outside 5 to 500 mm",
        "carried on to 906.8 mm, which lowers it",
    ),
    (tough("27 J"), 4.0, 69.58, "thickness 4 mm is outside 5 to 500 mm", "thickness counted as 5.0 mm"),
    (
        tough("80 J", method="upper shelf"),
        25.0,
        98.2,
        "yield strength 345 MPa is outside 689 to 1725 MPa",
        "of BS 7910 Annex J",
    ),
    (
        tough("100 J", method="transition"),
        100.0,
        90.71,
        "Charpy energy 100 J is outside 4 to 82 J",
        "of BS 7910 Annex J",
    ),
    (tough("480 J"), 100.0, 175.56, "Charpy energy 480 J is outside 3 to 400 J", "energy counted as 400 J"),
    (tough("2 J"), 100.0, 20.0, "Charpy energy 2 J is outside 3 to 400 J", "lower shelf"),
    (
        tough(reference_temperature="-80 degC"),
        25.0,
        119.99,
        "T - T0 60 degC is outside -50 to 50 degC",
        "counted as 50 K above T0",
    ),
    (
        tough(reference_temperature="40 degC"),
        25.0,
        20.0,
        "T - T0 -60 degC is outside -50 to 50 degC",
        "lower shelf",
    ),
]


@pytest.mark.parametrize(("cracks", "wall", "value", "reason", "bound"), BOUNDS)
def test_the_next_best_bound_is_named_and_no_higher_than_the_method(cracks, wall, value, reason, bound):
    with pytest.raises(OutOfRange):
        toughness_of(cracks, STEEL, wall)
    toughness = toughness_or_bound(cracks, STEEL, wall, "si")
    assert toughness.value / MPA_ROOT_M == pytest.approx(value, abs=0.01)
    assert toughness.note.startswith(reason)
    assert "; conservative bound: " in toughness.note and bound in toughness.note


def test_a_thicker_wall_is_never_tougher():
    """The crack's front is a chain of more links: toughness falls with it on both sides of the range's end."""
    values = [toughness_or_bound(tough(), STEEL, wall, "si").value for wall in (300.0, 500.0, 501.0, 900.0)]
    assert values == sorted(values, reverse=True) and values[1] == pytest.approx(values[2], rel=1e-3)


def test_in_range_there_is_no_bound():
    toughness = toughness_or_bound(tough("27 J"), STEEL, 25.0, "us")
    assert toughness.note == "" and toughness.value / MPA_ROOT_M == pytest.approx(
        62.35, abs=0.01
    )  # 12 sqrt(27)


def test_colder_than_the_coldest_test_there_is_no_bound():
    cold = tough(coldest="-40 degC")
    with pytest.raises(OutOfRange) as refusal:
        toughness_or_bound(cold, STEEL, 25.0, "us")
    assert refusal.value.message("us").startswith(
        "toughness at -40 degF: the Charpy data go from -4 to -4 degF"
    )


def test_the_reason_is_in_the_arms_units():
    """1 in = 25.4 mm, 1 ksi = 6.894757 MPa, 1 ft lbf = 1.355818 J, a degree C is 1.8 degrees F."""
    for unit, wrong, most, text in (
        ("mm", 906.78, 500.0, "x 35.7 in is outside 0 to 19.685 in"),
        ("MPa", 68.94757, 6.894757, "x 10 ksi is outside 0 to 1 ksi"),
        ("J", 135.5818, 1.355818, "x 100 ft lbf is outside 0 to 1 ft lbf"),
        ("degC", 60.0, 50.0, "x 108 degF is outside 0 to 90 degF"),
        ("", 0.7, 0.6, "x 0.7 is outside 0 to 0.6"),
    ):
        with pytest.raises(OutOfRange) as refusal:
            checked("x", wrong, 0.0, most, unit)
        assert refusal.value.message("us") == text


def test_one_row_that_is_out_of_range_and_a_fault_that_is_raised():
    def beyond():
        raise OutOfRange("a/W 0.7 is outside 0 to 0.6")

    assert or_reason("si", beyond) == (None, "a/W 0.7 is outside 0 to 0.6")
    assert or_reason("si", lambda: 1.0) == (1.0, "")
    for fault in (KeyError("x"), ValueError("stress: every value must be finite"), ZeroDivisionError()):
        with pytest.raises(type(fault)):
            or_reason("si", lambda fault=fault: (_ for _ in ()).throw(fault).__next__())


def with_toughness(name: str, **said: object):
    """A demo arm whose Charpy data are replaced."""
    arm = demo(name)
    data = {"charpy": [{"temperature": "-60 degC", "energy": "80 J"}], "held_when_warmer": True} | said
    return changed(arm, cracks__toughness=Toughness.model_validate(data))


def test_a_flaw_out_of_range_is_a_row_and_all_else_is_checked():
    """Pivot of 13 in, 17 in wide: upper shelf asks for a yield strength of 689 MPa and more, HPS 70W has 485 MPa (70.343 ksi)."""
    usual, other = demo("sluice-crank"), with_toughness("sluice-crank", method="upper shelf")
    material = read_material(usual.material)
    rows = evaluate(other, material, fraction=MOMENTS).rows()
    flaws = [row for row in rows if row.check.clause.check == "flaw at the rim"]
    assert {row.status for row in flaws} == {"out of range"} and all(np.isfinite(row.margin) for row in flaws)
    assert all("yield strength 70.343 ksi is outside 99.931 to 250.19 ksi" in row.note for row in flaws)
    assert all("conservative bound: lower bound of BS 7910 Annex J" in row.note for row in flaws)
    before = evaluate(usual, material, fraction=MOMENTS).rows()
    rest = [(row.check.clause.check, row.check.place, row.margin) for row in rows if row not in flaws]
    assert rest == [
        (row.check.clause.check, row.check.place, row.margin)
        for row in before
        if row.check.clause.check != "flaw at the rim"
    ]


def test_a_bound_that_does_not_hold_fails():
    """The lower shelf, 20 MPa root m, under a residual stress of 1500 MPa."""
    arm = changed(
        with_toughness("sluice-crank", reference_temperature="40 degC"), cracks__residual_stress=1500.0
    )
    rows = evaluate(arm, read_material(arm.material), fraction=MOMENTS).rows()
    flaws = [row for row in rows if row.check.clause.check == "flaw at the rim"]
    assert {row.status for row in flaws} == {"fails"} and all("lower shelf" in row.note for row in flaws)


def test_a_check_without_a_bound_has_no_figure_and_its_design_a_reason():
    """A steel of 2500 MPa is beyond the fatigue constants (to 2000 MPa): no life, and the design is not called good."""
    arm = demo("sluice-crank")
    material = read_material(arm.material).model_copy(update={"tensile_strength": 2500.0})
    hand = evaluate(arm, material, fraction=MOMENTS)
    lives = [row for row in hand.rows() if row.check.clause.check == "fatigue"]
    assert lives and {row.status for row in lives} == {"out of range"}
    assert all(np.isnan(row.margin) and np.isnan(row.capacity) for row in lives)
    assert all("tensile strength 362.59 ksi is outside 29.008 to 290.08 ksi" in row.note for row in lives)
    assert hand.reason[0].startswith("fatigue: tensile strength") and hand.margin[0] > -1.0


TOUGH = [{"method": method} for method in ("lower bound", "transition", "upper shelf")] + [
    {"reference_temperature": "-30 degC"}
]


@pytest.mark.parametrize("name", material_names())
def test_every_material_goes_with_every_option_of_the_file(name):
    """Each material under each pin code, way of toughness, mean-stress rule, finish, growth law and weld: a row each,
    with a margin or a reason."""
    material, arm = read_material(name), demo("linkspan-rocker")
    assert arm.bores is not None and arm.cracks is not None
    for code in ("bth1", "en1993", "aisc360"):
        for turns in (True, False):
            runs(changed(arm, criteria__pin_code=code, criteria__pins_rotate=turns), material)
    for said in TOUGH:
        one = with_toughness("linkspan-rocker", **said)
        runs(one, material)
        assert one.cracks is not None
        for law in LAWS:
            cracks = one.cracks.model_copy(update={"growth": law})
            assert steel_of(cracks, this_arm(one, material), 906.78, "us").toughness >= 20.0 * MPA_ROOT_M
    rules = get_args(type(arm.bores.mean_stress).model_fields["rule"].annotation)
    assert len(rules) >= 4
    for rule in rules:
        said = arm.bores.mean_stress.model_copy(update={"rule": rule})
        assert rule_of(
            arm.bores.model_copy(update={"mean_stress": said}), this_arm(arm, material), "pivot_bore"
        )
        runs(changed(arm, bores__mean_stress=said), material)
    for finish in get_args(Finish):
        surfaces = tuple(one.model_copy(update={"finish": finish}) for one in arm.bores.surfaces)
        one = changed(arm, bores__surfaces=surfaces)
        runs(one, material)
        assert one.bores is not None
        for tight in (True, False):
            assert surface_curve(one.bores, this_arm(one, material), "pivot_bore", tight)[0].knee > 0.0
    for weld in ({"category": 36}, {"category": 160}, {"fat": 36}, {"fat": 160}):
        weld_of_file = Weld.model_validate(
            {
                "region": "outside",
                "assessment": "safe life",
                "consequence": "high",
                "thickness": "800 mm",
                **weld,
            }
        )
        for varying in (True, False):
            assert weld_curve(weld_of_file, this_arm(arm, material), varying).knee > 0.0


def runs(arm, material: Material) -> None:
    """Every row has a margin, or says why it has none."""
    for row in evaluate(arm, material, fraction=MOMENTS).rows():
        assert row.status in ("ok", "fails", "out of range")
        assert not np.isnan(row.margin) or row.note
        assert row.note or row.status != "out of range"


def test_a_margin_that_is_no_number_is_no_pass():
    assert status(np.nan, True, "") == "fails" and status(np.nan, True, "a bound") == "fails"
    assert status(np.nan, False, "") == "out of range"
    assert [status(0.0, True, ""), status(-0.1, True, ""), status(0.1, True, "a bound")] == [
        "ok",
        "fails",
        "out of range",
    ]
