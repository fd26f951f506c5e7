"""The band of stresses without contact on lives outside the bores. By hand: a life that goes with the fifth power of the stress."""

import math

import pytest

from analysis.fatigue.outside import Series, series, with_band
from analysis.fatigue.settled import STRESS, YEARS
from params.steps.sealed import write_text

# Peaks of `linkspan-rocker` outside its bores at 8, 11 and 15 elements per quarter bore (run of 2026-11-29), MPa, and mm there.
PEAKS, SIZES = (208.42, 204.923, 206.744), (9.35462, 7.70062, 6.19836)
ROW = {
    "region": "outside",
    "years": 400.0,
    "margin": 0.4,
    "utilisation": 0.1,
    "allowable_range": 300.0,
    "status": "ok",
}
ROW |= {"note": "contact solved on the mesh", "years_fretting_least": "", "margin_fretting_least": ""}


def fifth(years, margin):
    """Life at a factor on the stress, for a curve of slope 5: years over factor^5, reserve over factor."""
    return lambda factor: (years / factor**5, (1.0 + margin) / factor - 1.0)


def band_by_hand():
    """Roache with two meshes and theory's order against three times the range (Eca and Hoekstra), the larger."""
    change = abs(PEAKS[2] - PEAKS[1]) / PEAKS[2]
    return max(3.0 * change / ((SIZES[1] / SIZES[2]) ** 2 - 1.0), 3.0 * (PEAKS[0] - PEAKS[1]) / PEAKS[2])


def test_a_life_outside_states_the_band_of_the_stress_and_of_its_years():
    band = band_by_hand()
    assert band == pytest.approx(0.0507, abs=1e-4)
    row = with_band(ROW, Series(PEAKS, band), fifth(400.0, 0.4))
    assert row["settled"] == "yes" and row["years"] == 400.0 and row["status"] == "ok"
    assert row["peak_band_percent"] == row["stress_band_percent"] == pytest.approx(5.07, abs=0.01)
    longest, shortest = 1.0 / (1.0 - band) ** 5 - 1.0, 1.0 - 1.0 / (1.0 + band) ** 5  # of the years
    assert row["years_band_percent"] == pytest.approx(100.0 * max(longest, shortest))
    assert row["years_least"] == pytest.approx(
        400.0 / (208.42 / 206.744) ** 5
    )  # of the mesh with the highest peak


def test_the_first_other_mesh_is_the_one_farthest_from_the_finest():
    assert Series(PEAKS, 0.05).others == pytest.approx([204.923 / 206.744, 208.42 / 206.744])


def test_peaks_that_still_rise_leave_no_figure():
    """Before rounded corners were refined: 191.8, 198.0, 206.8 MPa. 7.3 % of stress is 46 % of years at slope 5."""
    row = with_band(ROW, Series((191.817, 197.957, 206.825), 0.579), fifth(400.0, 0.4))
    assert row["years"] == row["margin"] == row["utilisation"] == row["allowable_range"] == ""
    assert row["settled"] == "no" and row["status"] == "not settled"
    factor = 191.817 / 206.825
    assert (
        f"years not settled: {400.0 / factor**5:.3g} at another mesh's stress (-7.3 %), 400 as solved"
        in row["note"]
    )
    assert row["years_least"] == 400.0 and row["margin_least"] == pytest.approx(0.4)


def test_no_damage_has_to_hold_at_the_band():
    def limited(factor):
        return (math.inf if factor < 1.03 else 9000.0), 1.04 / factor - 1.0

    row = with_band(ROW | {"years": math.inf, "margin": 0.04}, Series(PEAKS, band_by_hand()), limited)
    assert row["years"] == "" and row["settled"] == "no" and row["years_least"] == 9000.0
    assert "9e+03 at the stress and its band (+5.1 %), no damage as solved" in row["note"]
    row = with_band(ROW | {"years": math.inf, "margin": 0.04}, Series(PEAKS, 0.02), limited)
    assert row["settled"] == "yes" and row["years"] == math.inf


def test_one_mesh_has_no_series(tmp_path):
    head = "level,place,peak_MPa,band_percent\n"
    write_text(tmp_path / "convergence.csv", head + "1,outside,200.0,\n")
    assert series(tmp_path, "outside") is None
    write_text(tmp_path / "convergence.csv", head + "1,outside,200.0,\n2,outside,204.0,7.5\n")
    assert series(tmp_path, "outside") == Series((200.0, 204.0), 0.075)


def test_allowances_are_those_of_the_bores():
    assert (YEARS, STRESS) == (0.10, 0.05)
