"""A life that moves from mesh to mesh is no figure: both values are told, and what rests on it is left out."""

import math

import pytest

from analysis.contact.settled import meshes, side_by_side
from analysis.fatigue.settled import told, typical
from analysis.page.bores import lives

ROW = {
    "arm": "this arm",
    "material": "er100s-1",
    "fits": "pivot H8/d9",
    "region": "outside",
    "surface": "machined",
    "years": 343.0,
    "utilisation": 0.3,
    "margin": 0.34,
    "allowable_range": 391.0,
    "years_fretting_least": 20.0,
    "margin_fretting_least": -0.1,
    "status": "ok",
    "note": "contact solved on the mesh",
}
SIZES = [20.0, 15.0]


def test_a_life_within_ten_percent_keeps_its_figure_and_gets_a_band():
    """Two meshes: 3 |change| / (r^2 - 1), r = 20/15, by hand (Roache 1998, from memory)."""
    row = told(ROW, SIZES, [366.0, 343.0], [0.37, 0.34])
    r2 = (20.0 / 15.0) ** 2 - 1.0
    assert row["years"] == 343.0 and row["settled"] == "yes" and row["status"] == "ok"
    assert row["years_band_percent"] == pytest.approx(300.0 * (23.0 / 343.0) / r2, rel=1e-9)
    assert row["stress_band_percent"] == pytest.approx(300.0 * (0.03 / 1.34) / r2, rel=1e-9)


def test_two_values_that_meet_by_chance_have_the_band_of_the_usual_change():
    """Changes of stress by 1, 3 and 8 %, of years by 2 and 30 % and one without end: medians 3 and 16 %."""
    pairs = [
        [[340.0, 1000.0 / 3.0], [0.01, 0.0]],
        [[130.0, 100.0], [0.03, 0.0]],
        [[math.inf, 5.0], [0.08, 0.0]],
    ]
    assert typical(pairs) == pytest.approx((0.16, 0.03))
    row = told(ROW, SIZES, [343.0, 343.0], [0.34, 0.34], (0.16, 0.03))
    r2 = (20.0 / 15.0) ** 2 - 1.0
    assert row["stress_band_percent"] == pytest.approx(300.0 * 0.03 / r2)
    assert row["years_band_percent"] == pytest.approx(300.0 * 0.16 / r2)


def test_a_life_that_moves_is_told_by_both_values_alone():
    row = told(ROW, SIZES, [422.0, 343.0], [0.37, 0.34])
    assert row["years"] == row["utilisation"] == row["years_fretting_least"] == ""
    assert row["margin"] == 0.34 and row["status"] == "ok" and row["settled"] == "no"
    assert row["note"].endswith("years not settled: 422 on the coarser mesh, 343 on the finer")
    assert "years_band_percent" not in row


def test_a_margin_whose_stress_moves_is_no_figure_either():
    row = told(ROW, SIZES, [900.0, 343.0], [0.50, 0.34])
    assert row["margin"] == row["allowable_range"] == row["margin_fretting_least"] == ""
    assert row["status"] == "not settled"
    assert "margin not settled: +50 % on the coarser mesh, +34 % on the finer" in row["note"]


@pytest.mark.parametrize(("years", "settled"), [([math.inf, math.inf], "yes"), ([math.inf, 5000.0], "no")])
def test_damage_on_one_mesh_alone_is_not_settled(years, settled):
    assert told(ROW, SIZES, years, [0.35, 0.34])["settled"] == settled


def test_the_page_says_not_settled_and_never_no_damage():
    texts = {name: str(value) for name, value in told(ROW, SIZES, [422.0, 343.0], [0.37, 0.34]).items()}
    (line,) = lives([texts])
    assert "years to a crack not settled (422 on the coarser mesh, 343 on the finer)" in line
    moved = told(ROW, SIZES, [900.0, 343.0], [0.50, 0.34])
    (line,) = lives([{name: str(value) for name, value in moved.items()}])
    assert "margin not settled (+50 % on the coarser mesh, +34 % on the finer)" in line
    assert "no fatigue damage" not in line


def contact_row(arc, peak, middle):
    figures = {
        "contact_arc_deg": arc,
        "peak_pressure_MPa": peak,
        "peak_middle_MPa": middle,
        "edge_mean_MPa": 40.0,
    }
    return {"fits": "fit", "bore": "pivot_bore", "load_case": "hold", "status": "ok"} | figures


def test_contact_figures_stand_beside_those_of_the_coarser_mesh():
    (row,) = side_by_side([contact_row(50.0, 54.0, 21.0)], [contact_row(50.4, 47.0, 21.2)])
    assert row["status"] == "not settled: peak_pressure_MPa"
    assert row["coarser_peak_pressure_MPa"] == 47.0 and row["coarser_contact_arc_deg"] == 50.4
    (row,) = side_by_side([contact_row(0.0, 0.0, 0.0)], [contact_row(0.0, 0.0, 0.0)])
    assert row["status"] == "ok"


def test_two_meshes_one_step_of_refinement_apart():
    assert meshes(8) == (6, 8) and meshes(12) == (9, 12) and meshes(4) == (3, 4) and meshes(3) == (3, 4)
