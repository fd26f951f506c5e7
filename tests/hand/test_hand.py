"""The hand calculation as a whole: rows, margins, the sweep's short cut, and the files."""

import csv
import json
import math

import numpy as np
import pytest

from analysis.hand.evaluate import evaluate
from analysis.hand.files import write
from analysis.hand.screen import Screener
from analysis.mechanics.sizes import Sizes, unbuildable
from analysis.mechanics.statics import swing
from analysis.sweep.grid import designs
from params.files.read import read_material
from params.schema.units import inside
from params.steps.caution import CAUTION
from tests.arms import changed, demo

# Between the few positions of a sweep a check may use half a per cent more: a margin, shown in whole per cent of the allowable,
# is then at most the next one.
SEEN = 0.005
DEMOS = ("linkspan-rocker", "sluice-crank", "bench-lever")


def of(name):
    arm = demo(name)
    return arm, read_material(arm.material)


def some_designs(arm, count, seed=0):
    sizes = designs(arm)
    total = len(next(iter(sizes.values())))
    chosen = np.random.default_rng(seed).choice(total, min(count, total), replace=False)
    return Sizes.from_arm(arm, **{name: values[chosen] for name, values in sizes.items()})


@pytest.mark.parametrize("name", DEMOS)
def test_every_check_has_a_row_for_every_load_case(name):
    arm, material = of(name)
    hand = evaluate(arm, material)
    rows = hand.rows()
    for checked in hand.checked:
        mine = [row for row in rows if row.check is checked]
        names = {row.load_case for row in mine}
        if checked.clause.drive:
            assert names == {case for case, what in arm.load_cases.items() if what.kind != "blocked"}
        else:
            assert names in ({"any"}, set(arm.load_cases))
    kinds = {row.check.clause.check for row in rows}
    wanted = {
        "combined stress",
        "section shear",
        "web slenderness",
        "flange slenderness",
        "lateral-torsional buckling",
        "net section at pivot",
        "pin plate tension",
        "pin bearing",
        "pin bending",
        "pin shear",
        "tip deflection",
        "cylinder pressure",
        "bore peak",
        "hub as ring",
    }
    assert wanted <= kinds


def test_rows_hold_margin_status_and_worst_position():
    arm, material = of("linkspan-rocker")
    weak = evaluate(arm, material.model_copy(update={"yield_strength": 150.0}))
    rows = weak.rows()
    for row in rows:
        if row.demand > 0.0:
            assert row.margin == pytest.approx(row.capacity / row.demand - 1.0, rel=1e-12)
        if row.status != "out of range":
            assert row.status == ("ok" if row.margin >= 0.0 else "fails")
    assert any(row.status == "fails" for row in rows)
    worst = min(row.margin for row in rows if not row.check.clause.drive)
    drive = min((row.margin for row in rows if row.check.clause.drive), default=0.0)
    assert weak.margin[0] == pytest.approx(min(worst, drive) if drive < 0.0 else worst, rel=1e-9)


@pytest.mark.parametrize("name", DEMOS)
def test_sweep_gives_the_margin_of_the_full_calculation(name):
    """The sweep looks at few positions, chosen for the arm as written; other sizes shift the worst position by little."""
    arm, material = of(name)
    sizes = some_designs(arm, 60)
    quick, full = Screener(arm, material)(sizes), evaluate(arm, material, sizes)
    assert quick.mass == pytest.approx(full.mass, rel=1e-12)
    assert list(quick.reason) == list(full.reason)
    used_quick, used_full = 1.0 / (1.0 + quick.margin), 1.0 / (1.0 + full.margin)
    assert np.all(used_quick <= used_full * (1.0 + 1e-9))
    assert used_quick == pytest.approx(used_full, rel=SEEN)


def test_many_designs_at_once_are_each_design_alone():
    arm, material = of("sluice-crank")
    sizes = some_designs(arm, 5)
    many = evaluate(arm, material, sizes, swing(5))
    for k in range(5):
        alone = evaluate(arm, material, sizes[k : k + 1], swing(5))
        assert many.margin[k] == pytest.approx(alone.margin[0], rel=1e-12)
        assert many.governing[k] == alone.governing[0]
        for a, b in zip(many.rows(k), alone.rows(), strict=True):
            assert a.demand == pytest.approx(b.demand, rel=1e-12) and a.status == b.status


@pytest.mark.parametrize("code", ["bth1", "en1993", "aisc360"])
def test_pin_code_is_selectable(code):
    arm, material = of("linkspan-rocker")
    rows = evaluate(changed(arm, criteria__pin_code=code), material).rows()
    named = {"bth1": "BTH-1", "en1993": "EN 1993-1-8", "aisc360": "AISC 360"}[code]
    pins = [row for row in rows if row.check.clause.check in ("pin bearing", "pin shear", "pin bending")]
    assert len(pins) == 3 * 3 * len(arm.load_cases) and all(
        named in row.check.clause.reference for row in pins
    )


def test_designs_that_cannot_be_built_say_why():
    arm, _ = of("linkspan-rocker")
    reasons = {
        "depth_at_hub": (690.0, "hub circle"),
        "depth_at_pins": (610.0, "deeper"),
        "flange_thickness": (145.0, "flanges"),
        "web_thickness": (235.0, "width"),
        "hub": (400.0, "hub circle"),
        "width": (300.0, "proud"),
    }
    for name, (size, word) in reasons.items():
        assert word in unbuildable(arm, Sizes.from_arm(arm, **{name: [size]}))[0], name
    assert unbuildable(arm, Sizes.from_arm(arm))[0] == ""
    with pytest.raises(TypeError, match="no such size: girth"):
        Sizes.from_arm(arm, girth=3.0)


@pytest.mark.parametrize("name", DEMOS)
def test_files(name, tmp_path):
    arm, material = of(name)
    hand = evaluate(arm, material)
    for folder in ("a", "b"):
        write(hand if folder == "a" else evaluate(arm, material), tmp_path / folder)
    names = sorted(path.name for path in (tmp_path / "a").iterdir() if path.is_file())
    assert names == [
        "checks.csv",
        "hand.json",
        "linkage.json",
        "loads.json",
        "stations.csv",
        "stroke.csv",
        "substitutions.json",
        "workings.json",
    ]
    for file in names:
        assert (tmp_path / "a" / file).read_bytes() == (tmp_path / "b" / file).read_bytes()

    with (tmp_path / "a" / "checks.csv").open() as file:
        table = list(csv.DictReader(file))
    assert list(table[0]) == [
        "check",
        "place",
        "load_case",
        "demand",
        "capacity",
        "unit",
        "margin",
        "clause",
        "status",
        "note",
        "caution",
    ]
    assert {row["caution"] for row in table} == {CAUTION}
    assert {row["status"] for row in table} <= {"ok", "fails", "out of range"}
    if arm.units == "us":
        assert {row["unit"] for row in table} <= {"ksi", "kip", "kip ft", "in", "-"}

    substitutions = json.loads((tmp_path / "a" / "substitutions.json").read_text())
    assert len(substitutions["rows"]) == len(table) and all(
        row["equation"] and row["symbols"] for row in substitutions["rows"]
    )

    loads = json.loads((tmp_path / "a" / "loads.json").read_text())
    assert set(loads["least"]) <= {name for pair in arm.duty.pairs for name in (pair.from_case, pair.to_case)}
    for case in (*loads["cases"].values(), *loads["least"].values()):
        force, moment = np.array(case["weight"]), np.cross(loads["cg_mm"], case["weight"])
        angle, g = arm.geometry.included_angle, arm.geometry
        centres = {
            "input_bore": g.input_arm * np.array([math.cos(angle), math.sin(angle), 0.0]),
            "output_bore": np.array([g.output_arm, 0.0, 0.0]),
            "pivot_bore": np.zeros(3),
        }
        for bore, centre in centres.items():
            force = force + case["bores"][bore]["force"]
            moment = moment + case["bores"][bore]["moment"] + np.cross(centre, case["bores"][bore]["force"])
        size = np.abs(case["bores"]["pivot_bore"]["force"]).max()
        assert np.abs(force).max() < 1e-7 * size  # nine digits are written
        assert np.abs(moment).max() < 1e-7 * size * arm.geometry.output_arm


def test_stress_without_an_equivalent_is_a_row_that_fails_and_has_no_working(tmp_path):
    """Morrow: no amplitude is allowed once the mean stress reaches the true fracture strength, so the equivalent is endless."""
    arm = changed(
        demo("bench-lever"),
        bores__mean_stress__rule="morrow",
        bores__mean_stress__true_fracture_strength=50.0,
    )
    hand = evaluate(arm, read_material(arm.material))
    endless = [row for row in hand.rows() if not math.isfinite(row.demand)]
    assert endless and all(row.margin == -1.0 for row in endless)
    write(hand, tmp_path)
    with (tmp_path / "checks.csv").open() as file:
        table = [row for row in csv.DictReader(file) if row["demand"] == ""]
    assert len(table) == len(endless)
    assert {(row["margin"], row["status"]) for row in table} == {("-1", "fails")}
    worked = {
        (row["check"], row["place"]) for row in json.loads((tmp_path / "workings.json").read_text())["checks"]
    }
    assert worked and not worked & {(row.check.clause.check, row.check.place) for row in endless}


def test_arm_of_twelve_feet_for_a_200_kip_cylinder_weighs_about_6000_lb():
    """Common practice, no source: about 6,000 lb when its section is sized; held to a factor of two."""
    arm, material = of("sluice-crank")
    g = arm.geometry
    overall = (
        g.input_arm * abs(math.cos(g.included_angle))
        + g.output_arm
        + (g.input.outside + g.output.outside) / 2.0
    )
    along_both = g.input_arm + g.output_arm + (g.input.outside + g.output.outside) / 2.0
    assert min(overall, along_both) < inside(12.0, "ft", "length") * 1.15 and along_both > inside(
        10.0, "ft", "length"
    )
    screened = Screener(arm, material)(some_designs(arm, 4000))
    margin = np.where(screened.reason == "", screened.margin, -1.0)
    sized = screened.mass[margin >= 0.0]
    assert len(sized) > 0
    assert 0.5 < sized.min() / inside(6000.0, "lb", "mass") < 2.0


def test_loads_times_two_is_margin_plus_one_halved():
    arm, material = of("bench-lever")
    light = material.model_copy(update={"density": 1e-15})
    cases = {name: case for name, case in arm.load_cases.items() if case.kind != "blocked"}
    twice = {
        name: case.model_copy(update={"load_factor": 2.0 * case.load_factor}) for name, case in cases.items()
    }
    once, again = (evaluate(changed(arm, bores=None, load_cases=some), light) for some in (cases, twice))
    for a, b in zip(once.rows(), again.rows(), strict=True):
        if a.check.clause.kind != "-" and a.demand > 1e-6:
            assert b.margin + 1.0 == pytest.approx((a.margin + 1.0) / 2.0, rel=1e-9)
