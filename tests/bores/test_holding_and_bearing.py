"""Pressure of a pin in its bore: equilibrium, and Hertz and the half cosine at the ends of the range."""

import itertools
import math

import pytest
from scipy.integrate import quad

from analysis.bores import holding
from tests.published import case
from tests.reference import bearing

STEEL = ((207e3, 207e3), (0.3, 0.3))


def test_line_contact_of_cylinder_and_flat():
    line = bearing.hertz_line(100e3, 100.0, 50.0, math.inf, *STEEL)
    # The same closed form as the source: only rounding between.
    assert (line.half_width, line.peak, line.depth) == pytest.approx(
        [case(f"A{n}").expected for n in (74, 75, 77)], rel=1e-9
    )
    # The source's value has 0.3003 for the textbook's 0.300: the row's own 0.5 %.
    assert line.shear == pytest.approx(case("A76").expected, rel=5e-3)
    assert line.in_range


def test_line_contact_of_pin_and_bore_is_told_out_of_range():
    line = bearing.hertz_line(100e3, 100.0, 100.0, -100.4, *STEEL)
    assert line.peak == pytest.approx(case("A78").expected, rel=1e-9)
    assert not line.in_range  # half width 0.24 of the radius, as the table of values says


def test_half_cosine_carries_the_force():
    peak = float(bearing.half_cosine_peak(100e3, 100.0, 50.0))
    assert peak == pytest.approx(case("A79").expected, rel=1e-9)
    force, _ = quad(lambda t: peak * math.cos(t) ** 2 * 50.0 * 50.0, -math.pi / 2.0, math.pi / 2.0)
    assert force == pytest.approx(100e3, rel=1e-9)


@pytest.mark.parametrize("b", [0.02, 0.1, 0.3, 0.6, 0.9])
def test_conforming_pressure_carries_the_force(b):
    """R/Q times the pressure, resolved along the load and integrated over the arc, is 1."""
    arc = 2.0 * math.atan(b)
    force, _ = quad(lambda t: float(bearing.persson_pressure(t, b)) * math.cos(t), -arc, arc)
    assert force == pytest.approx(1.0, rel=1e-8)
    assert float(bearing.persson_pressure(arc * (1 + 1e-9), b)) == pytest.approx(0.0, abs=1e-6)


def test_conforming_contact_tends_to_hertz_at_large_clearance():
    """At an arc of 0.04 rad the arc's second-order terms, about arc squared, stay under 0.5 %."""
    bore, pin, force, length, e = 100.0, 99.2, 2e3, 100.0, 207e3 / (1 - 0.3**2)
    contact = bearing.conforming(force, length, bore, pin, e)
    hertz = bearing.hertz_line(force, length, pin, -bore, *STEEL)
    assert contact.half_angle < 0.06
    assert contact.half_angle * bore / 2.0 == pytest.approx(
        hertz.half_width, rel=5e-3 + 0.01
    )  # radii differ by 0.8 %
    assert contact.peak == pytest.approx(hertz.peak, rel=5e-3 + 0.01)


def test_conforming_contact_at_no_clearance():
    """The arc is then independent of the load; peak within 10 % of the half cosine, which is the usual
    assumption.
    """
    light, heavy = (bearing.conforming(f, 100.0, 100.0, 100.0, 207e3) for f in (1e3, 1e6))
    assert light.half_angle == pytest.approx(heavy.half_angle, rel=1e-9)
    assert 1.3 < light.half_angle < math.pi / 2.0
    assert heavy.peak == pytest.approx(float(bearing.half_cosine_peak(1e6, 100.0, 100.0)), rel=0.10)


def test_more_clearance_means_a_shorter_arc_and_a_higher_peak():
    contacts = [
        bearing.conforming(100e3, 100.0, 100.0, 100.0 - c, 207e3) for c in (0.0, 0.01, 0.05, 0.2, 0.8)
    ]
    assert all(a.half_angle > b.half_angle and a.peak < b.peak for a, b in itertools.pairwise(contacts))


def test_lift_off_is_where_the_cosine_part_reaches_the_fit_pressure():
    """p1 cos(theta) all round has the resultant p1 pi D L / 2 (integral of cos2 over the full circle)."""
    p, diameter, length = 26.0, 160.0, 150.0
    force, _ = quad(lambda t: p * math.cos(t) ** 2 * diameter / 2.0 * length, 0.0, 2.0 * math.pi)
    assert float(holding.lift_off_force(p, diameter, length)) == pytest.approx(force, rel=1e-9)


@pytest.mark.parametrize(
    "wrong",
    [
        lambda: bearing.conforming(1e5, 100.0, 100.0, 100.1, 2e5),
        lambda: bearing.conforming(1e5, 100.0, 100.0, 97.0, 2e5),
        lambda: bearing.hertz_line(1e5, 100.0, 101.0, -100.0, *STEEL),
    ],
)
def test_outside_the_limits_is_refused(wrong):
    with pytest.raises(ValueError, match=r"clearance|smaller"):
        wrong()
