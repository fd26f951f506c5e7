"""The comparison of hand and mesh, and what a summary makes of it."""

from types import SimpleNamespace

import pytest

from analysis.proof.beside import MASS, compared
from analysis.proof.rows import Allowed, Theory, in_units, row
from analysis.proof.summary import mesh_checks, to_explain, verdict
from analysis.tables.beside import excess
from params.files.read import read_material
from tests.arms import demo

SETTLED = SimpleNamespace(settled=True, mesh=SimpleNamespace(levels=3))


@pytest.mark.parametrize(
    ("hand", "mesh", "difference"),
    [(100.0, 101.0, 1.0), (-100.0, -101.0, 1.0), (-100.0, -99.0, -1.0), (100.0, 99.0, -1.0)],
)
def test_a_positive_difference_means_that_the_mesh_is_larger_in_size(hand, mesh, difference):
    assert row("q", "p", "c", hand, mesh, "u", MASS)["difference_percent"] == pytest.approx(difference)


def test_verdict_turns_at_the_allowance():
    assert row("q", "p", "c", 100.0, 102.0, "u", Allowed(2.0, ""))["verdict"] == "agrees"
    assert row("q", "p", "c", 100.0, 102.01, "u", Allowed(2.0, ""))["verdict"] == "explain"
    assert row("q", "p", "c", 1.0, 6.0, "u", Allowed(2.0, ""), scale=1000.0)["verdict"] == "agrees"


def test_what_cannot_be_read_from_the_mesh_is_to_be_explained():
    comparison = row("q", "p", "c", 100.0, None, "u", Allowed(2.0, ""))
    assert (
        comparison["verdict"] == "explain"
        and comparison["mesh"] is None
        and comparison["note"] == "cannot be read from the mesh here"
    )


def test_us_arms_see_us_units():
    comparison = in_units("q", "p", "c", 100.0, 110.0, "stress", "us", Allowed(50.0, ""))
    # 1 ksi = 6.894757 MPa (NIST SP 811, 2008, appendix B).
    assert comparison["unit"] == "ksi" and comparison["hand"] == pytest.approx(100.0 / 6.894757, rel=1e-6)
    assert comparison["difference_percent"] == pytest.approx(10.0)


def test_less_may_be_allowed_upward_than_downward():
    one_sided = Allowed(2.0, "", 30.0)
    assert row("q", "p", "c", -100.0, -75.0, "u", one_sided)["verdict"] == "agrees"
    assert row("q", "p", "c", -100.0, -103.0, "u", one_sided)["verdict"] == "explain"
    assert row("q", "p", "c", 100.0, 69.0, "u", one_sided)["verdict"] == "explain"


def test_what_is_left_is_the_mesh_less_the_theory_and_its_terms():
    made = row("q", "p", "c", Theory(100.0, {"varying_shear": 4.0}), 105.0, "u", Allowed(2.0, ""))
    assert (made["simple"], made["varying_shear"], made["hand"], made["left"]) == (100.0, 4.0, 104.0, 1.0)
    assert made["difference_percent"] == pytest.approx(100.0 / 104.0) and made["knee"] is None


def explained(quantity, difference, allowed):
    numbers = {
        "difference_percent": str(difference),
        "allowed_percent": str(allowed),
        "allowed_below_percent": str(allowed),
    }
    return {"quantity": quantity, "place": "p", "verdict": "explain", "note": "n"} | numbers


def test_the_largest_share_of_its_allowance_comes_first_and_cases_are_gathered():
    rows = [
        explained("a", 5.0, 3.0),
        explained("b", -40.0, 10.0),
        explained("a", -9.0, 3.0),
        explained("c", 20.0, 30.0),
    ]
    lines = to_explain([*rows, explained("a", 1.0, 3.0) | {"verdict": "agrees"}], [], SETTLED)
    assert [line.split(",")[0] for line in lines] == ["Explain: b", "Explain: a", "Explain: c"]
    assert "mesh -9 % against hand (allowed 3 %), 2 load cases." in lines[1]


def test_a_row_that_could_not_be_read_comes_before_all():
    unread = explained("a", "", 3.0)
    assert excess(unread) == float("inf")
    assert "n, 1 load case." in to_explain([explained("b", 900.0, 1.0), unread], [], SETTLED)[0]


def test_peaks_that_did_not_settle_are_told():
    moving = SimpleNamespace(settled=False, unsettled=("outside",), mesh=SimpleNamespace(levels=4))
    assert "have not settled after 4 meshes, outside;" in to_explain([], [], moving)[0]
    assert to_explain([], [], SETTLED) == []


def test_section_forces_out_of_balance_come_before_all():
    wrong = {"quantity": "M3", "place": "input arm, 9 mm", "by_nodes_percent": "-3.0", "verdict": "explain"}
    lines = to_explain([explained("b", 900.0, 1.0)], [wrong, wrong | {"verdict": "agrees"}], SETTLED)
    assert lines[0].startswith(
        "Explain: section forces: 1 beyond equilibrium, first M3, input arm, 9 mm: mesh -3.0 %"
    )


def test_a_failed_check_outranks_a_difference():
    assert verdict(-0.1, 0.5, []) == "fails" and verdict(0.5, -0.1, ["x"]) == "fails"
    assert verdict(0.1, 0.1, ["x"]) == "explain" and verdict(0.1, 0.1, []) == "holds"


def test_a_place_where_nothing_swings_lacks_nothing():
    """No range, no end of life: the place is no check, where one with a range is."""
    steady = SimpleNamespace(range=0.0, allowable=None, margin=None)
    swings = SimpleNamespace(range=50.0, allowable=100.0, margin=1.0)
    fatigue = {"output arm, weld 80": steady, "pivot_bore": swings}
    elastic = SimpleNamespace(
        cases={}, fatigue=fatigue, flaws={}, bands_percent={"pivot_bore": 2.0}, unsettled=("pivot_bore",)
    )
    arm = demo("bench-lever")
    (one,) = mesh_checks(arm, read_material(arm.material), elastic)
    assert (one.place, one.band_percent, one.settled) == ("pivot bore", 2.0, False)


def test_a_case_of_weight_alone_is_not_compared():
    """54 N at the pivot beside 15 kN: the weight of the blends, which the hand leaves out, would be most of the difference."""
    forces = {
        "raise": {"pivot_bore": 15e3, "input_bore": 9e3},
        "unloaded": {"pivot_bore": 54.0, "input_bore": 7.0},
    }
    cases = {name: SimpleNamespace(pin_force=force) for name, force in forces.items()}
    assert compared(SimpleNamespace(cases=cases)) == ["raise"]  # type: ignore[arg-type]
