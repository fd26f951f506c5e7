"""Toughness from Charpy: ranges enforced, data not left, thickness, and the old steel beside the new one."""

import math

import numpy as np
import pytest

from analysis.fracture import toughness
from analysis.fracture.bodies import Surface
from analysis.fracture.critical import critical_size
from analysis.fracture.fad import Diagram
from analysis.fracture.growth import Service
from analysis.fracture.growth_law import LAWS
from analysis.fracture.toughness import FOOT_POUND, MPA_ROOT_M, CharpyData
from params.files.read import read_material

DATA = CharpyData((-40.0, -20.0, 0.0), (20.0, 27.0, 45.0))


def test_energy_between_two_tests_is_linear():
    assert DATA.at(-30.0) == pytest.approx(23.5)  # by hand: halfway between 20 and 27 J
    assert DATA.at(-20.0) == 27.0


@pytest.mark.parametrize("temperature", [-41.0, 0.5, math.nan])
def test_outside_the_data_is_one_clear_line(temperature):
    with pytest.raises(
        ValueError, match=r"^toughness at .* degC: the Charpy data go from -40.0 to 0.0 degC; [^\n]*$"
    ):
        DATA.at(temperature)


def test_a_specified_minimum_is_held_when_warmer_and_never_when_colder():
    held = CharpyData((-51.0,), (68.0,), held_when_warmer=True)
    assert held.at(20.0) == 68.0
    with pytest.raises(ValueError, match="nothing is extrapolated"):
        held.at(-52.0)


def test_master_curve_is_the_standards_median_within_its_rounding():
    """ASTM E1921 prints 30 + 70 exp(..), exactly 20 + (11 + 77 exp(..)) (ln 2)^0.25: 0.4 % apart."""
    at = np.linspace(-50.0, 50.0, 11)
    assert toughness.master_curve(at, 0.0) / MPA_ROOT_M == pytest.approx(
        30.0 + 70.0 * np.exp(0.019 * at), rel=4e-3
    )


def test_reference_temperature_is_where_the_median_is_100():
    """Definition of T0 in ASTM E1921: median of 25 mm specimens is 100 MPa root m there."""
    assert float(toughness.master_curve(-80.0, -80.0)) / MPA_ROOT_M == pytest.approx(100.0, rel=4e-3)


def test_thickness_changes_what_lies_above_the_lowest_toughness():
    """ASTM E1921: (B1/B)^0.25 on K - 20; a front 16 times as long halves it, exactly."""
    thin, thick = (float(toughness.master_curve(0.0, 0.0, b)) / MPA_ROOT_M for b in (25.0, 400.0))
    assert thick - 20.0 == pytest.approx((thin - 20.0) / 2.0)


def test_tolerance_bounds_of_the_master_curve():
    """ASTM E1921 prints the 5 % bound as 25.2 + 36.6 exp[0.019 (T - T0)] (from memory): last digit 0.1."""
    at = np.array([-40.0, 0.0, 40.0])
    made = toughness.master_curve(at, 0.0, 25.0, 0.05) / MPA_ROOT_M
    assert made == pytest.approx(25.2 + 36.6 * np.exp(0.019 * at), abs=0.2)  # 0.05 (1 + e^0.76) of rounding


@pytest.mark.parametrize(
    ("call", "told"),
    [
        (lambda: toughness.upper_shelf(60.0, 400.0), r"yield strength 400 MPa is outside"),
        (lambda: toughness.upper_shelf(200.0, 900.0), r"Charpy energy 200 J is outside"),
        (lambda: toughness.transition(120.0, 205e3), r"Charpy energy 120 J is outside 4 to 82"),
        (lambda: toughness.transition(1.0, 205e3), r"Charpy energy 1 J"),
        (lambda: toughness.lower_bound(27.0, 1000.0), r"thickness 1000 mm is outside"),
        (lambda: toughness.master_curve(80.0, 0.0), r"T - T0 80 degC is outside"),
        (lambda: toughness.master_curve(0.0, 0.0, 25.0, 1.0), r"chance 1 is outside"),
        (lambda: toughness.lower_bound(math.nan, 25.0), r"Charpy energy nan J"),
    ],
)
def test_outside_a_formulas_range_is_one_clear_line(call, told):
    with pytest.raises(ValueError, match=told) as error:
        call()
    assert "\n" not in str(error.value)


OLD, NEW = (
    25.0 * FOOT_POUND,
    90.0 * FOOT_POUND,
)  # middles of 20 to 30 and 80 to 100 ft-lb: common practice, no source
WALL = 90.0


def critical_depth(energy, yield_strength, tensile):
    """Depth of the critical 1:5 surface crack in a wall of 90 mm under 150 MPa."""
    diagram = Diagram(yield_strength, tensile, 205e3)
    value = float(toughness.lower_bound(energy, WALL))
    service = Service([], np.array([[150.0, 0.0]]), LAWS["simplified"], diagram, value)
    return float(critical_size(Surface(WALL, 1000.0), [1.0, 2.5], service).sizes[0])


def test_old_cast_steel_beside_deposited_steel_at_the_same_cold_temperature():
    """More than triple toughness energy (common practice, no source), in Charpy and in fracture energy G; the
    critical crack grows by more than G where it is small against the wall, K^2 being stress^2 x size.
    """
    assert NEW / OLD > 3.0
    k_old, k_new = (toughness.lower_bound(energy, WALL) for energy in (OLD, NEW))
    g_old, g_new = (float(toughness.fracture_energy(k, 205e3, 0.3)) for k in (k_old, k_new))
    # By hand, BS 7910 J.2.1 in MPa root m at 90 mm: 20 + (12 sqrt(33.9) - 20)(25/90)^0.25 and so with 122.0 J.
    by_hand = (
        (20 + (12 * 122.024**0.5 - 20) * (25 / 90) ** 0.25)
        / (20 + (12 * 33.895**0.5 - 20) * (25 / 90) ** 0.25)
    ) ** 2
    assert g_new / g_old == pytest.approx(by_hand, rel=1e-4)
    assert g_new / g_old > 3.0
    cast, wire = read_material("a27-65-35"), read_material("er100s-1")
    old = critical_depth(OLD, cast.yield_strength, cast.tensile_strength)
    new = critical_depth(NEW, wire.yield_strength, wire.tensile_strength)
    assert new > 2.0 * old  # grows less than G: the new crack is deep in the wall, and F rises with depth
    assert old < 0.5 * WALL < new


def test_methods_by_name():
    kept = {"yield_strength": 758.0, "elastic_modulus": 205e3, "thickness": 25.0}
    assert toughness.from_charpy("lower bound", 27.0, **kept) == float(toughness.lower_bound(27.0, 25.0))
    assert toughness.from_charpy("transition", 27.0, **kept) == float(toughness.transition(27.0, 205e3))
    assert toughness.from_charpy("upper shelf", 80.0, **kept) == float(toughness.upper_shelf(80.0, 758.0))
    with pytest.raises(ValueError, match="toughness method 'guess'"):
        toughness.from_charpy("guess", 27.0, **kept)
