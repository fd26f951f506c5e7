"""Rings pressed together, what they hold and their assembly, against closed forms of textbooks."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from analysis.bores import holding
from analysis.bores.limits_fits import fit
from analysis.bores.ring import Ring, closing_in, interface_pressures, movement, stress
from tests.published import case
from tests.reference.slip import slip_use

STEEL = {"modulus": 205e3, "poisson": 0.3}
SHAFT, HUB = Ring(0.0, 160.0, **STEEL), Ring(160.0, 280.0, **STEEL)
BUSH, HOUSING = Ring(120.0, 150.0, 110e3, 0.34), Ring(150.0, 300.0, **STEEL)
EXACT = 1e-9  # the same closed form, only rounding between


def expected(id, scale=1.0):
    return pytest.approx(case(id).expected * scale, rel=EXACT)


def test_shrink_fit_of_shaft_and_hub():
    wanted = fit("H7/s6", 160.0)
    p = interface_pressures([SHAFT, HUB], [[wanted.least], [wanted.most]])[:, 0]
    hoop = stress(HUB, p, 0.0, 80.0).hoop
    assert p == pytest.approx([case("A12").expected, case("A14").expected], rel=1e-7)  # sizes to 0.1 nm
    assert hoop == pytest.approx([case("A13").expected, case("A15").expected], rel=1e-7)
    assert float(holding.axial_hold(p[0], 160.0, 150.0, 0.15)) == pytest.approx(
        case("A16").expected * 1e3, rel=1e-7
    )
    assert float(holding.slip_moment(p[0], 160.0, 150.0, 0.15)) == pytest.approx(
        case("A17").expected * 1e6, rel=1e-7
    )


def test_bush_of_another_material():
    p = interface_pressures([BUSH, HOUSING], [0.060])
    assert p[0] == expected("A21")
    assert float(closing_in(BUSH, p[0])) == expected("A22")


def test_heating_for_assembly():
    assert holding.heating(0.125, 0.050, 160.0, 11.7e-6) == expected("A23")


def test_thick_cylinder_movement():
    """Radial movement under inner pressure, plane stress: p a/E ((a2 + b2)/(b2 - a2) + nu), Timoshenko Part
    II.
    """
    ring = Ring(200.0, 400.0, 200e3, 0.3)
    assert float(movement(ring, 100.0, 0.0, 100.0)) == pytest.approx(
        100.0 * 100.0 / 200e3 * (50000.0 / 30000.0 + 0.3), rel=EXACT
    )
    wall = stress(ring, 100.0, 0.0, 100.0)  # hoop is tension, radial pressure
    assert float(wall.hoop - wall.radial) == pytest.approx(
        2.0 * 100.0 * 200.0**2 / (200.0**2 - 100.0**2), rel=EXACT
    )


def test_boundary_stresses_and_outside_pressure_alone():
    at = stress(HUB, 30.0, 12.0, np.array([80.0, 140.0]))
    assert at.radial == pytest.approx([-30.0, -12.0], rel=EXACT)
    solid = stress(SHAFT, 0.0, 40.0, np.array([0.0, 40.0, 80.0]))
    assert solid.hoop == pytest.approx([-40.0] * 3) and solid.radial == pytest.approx([-40.0] * 3)


def test_hollow_shaft_gives_way():
    hollow = Ring(120.0, 160.0, **STEEL)
    thick, thin = (float(interface_pressures([inner, HUB], [0.06])[0]) for inner in (SHAFT, hollow))
    # p = delta / (d (1/E) (Ko + Ki)), Ko = (b2+R2)/(b2-R2), Ki = (R2+a2)/(R2-a2): Shigley Eq. 3-57, like
    # materials.
    ko, ki = (140.0**2 + 80.0**2) / (140.0**2 - 80.0**2), (80.0**2 + 60.0**2) / (80.0**2 - 60.0**2)
    assert thin == pytest.approx(0.06 * 205e3 / (160.0 * (ko + ki)), rel=EXACT)
    assert thin < thick


def test_three_rings_in_equilibrium_with_their_interferences():
    """Movements at both interfaces, found anew from the stresses, make up half of each interference."""
    rings, delta = [Ring(0.0, 120.0, **STEEL), BUSH, HOUSING], np.array([0.03, 0.08])
    p = interface_pressures(rings, delta)
    gap_in = movement(BUSH, p[0], p[1], 60.0) - movement(rings[0], 0.0, p[0], 60.0)
    gap_out = movement(HOUSING, p[1], 0.0, 75.0) - movement(BUSH, p[0], p[1], 75.0)
    assert [float(gap_in), float(gap_out)] == pytest.approx(list(delta / 2.0), rel=1e-9)


def test_a_ring_cut_in_two_without_interference_carries_as_one():
    halves = [SHAFT, Ring(160.0, 210.0, **STEEL), Ring(210.0, 280.0, **STEEL)]
    whole = interface_pressures([SHAFT, HUB], [0.06])[0]
    p = interface_pressures(halves, [0.06, 0.0])
    assert p[0] == pytest.approx(whole, rel=1e-9)
    assert p[1] == pytest.approx(-float(stress(HUB, whole, 0.0, 105.0).radial), rel=1e-9)


@given(st.floats(-0.1, 0.2), st.floats(-0.1, 0.2))
def test_interfaces_push_or_stand_open_but_never_both(inner, outer):
    rings = [Ring(0.0, 120.0, **STEEL), BUSH, HOUSING]
    p = interface_pressures(rings, [inner, outer])
    gap = [
        float(movement(BUSH, p[0], p[1], 60.0) - movement(rings[0], 0.0, p[0], 60.0)) - inner / 2.0,
        float(movement(HOUSING, p[1], 0.0, 75.0) - movement(BUSH, p[0], p[1], 75.0)) - outer / 2.0,
    ]
    assert (p >= 0.0).all() and min(gap) >= -1e-12
    assert all(abs(push * open_) < 1e-9 for push, open_ in zip(p, gap, strict=True))


def test_pressing_a_bush_in_closes_a_clearance_inside_it():
    """A pin with 0.02 mm clearance in the bush is gripped once the bush closes in by more than that."""
    rings = [Ring(0.0, 120.0, **STEEL), BUSH, HOUSING]
    p = interface_pressures(rings, [-0.02, 0.060])
    assert case("A22").expected > 0.02 and p[0] > 0.0


def test_friction_shared_by_moment_and_axial_force():
    full = float(holding.axial_hold(20.0, 160.0, 150.0, 0.12))
    assert float(slip_use(0.6 * full * 80.0, 0.8 * full, 20.0, 160.0, 150.0, 0.12)) == pytest.approx(1.0)
    assert float(slip_use(1.0, 0.0, 0.0, 160.0, 150.0, 0.12)) == np.inf
    assert float(slip_use(0.0, 0.0, 0.0, 160.0, 150.0, 0.12)) == 0.0


def test_warming_roughness_and_cooling():
    # Bronze bush (18e-6/K) in a steel hub (11.7e-6/K) tightens: 6.3e-6 * 150 * 40 = 0.0378 mm, by hand.
    assert float(holding.warmed(0.06, 150.0, 11.7e-6, 18.0e-6, 40.0)) == pytest.approx(0.0978, abs=1e-9)
    # DIN 7190-1 (from memory): 0.8 (6.3 + 4) um = 8.24 um lost; a clearance is left alone.
    assert holding.after_smoothing([0.06, 0.005, -0.02], 0.0063, 0.004) == pytest.approx(
        [0.05176, 0.0, -0.02], abs=1e-9
    )
    cold = holding.shrinkage(160.0, 8.5e-6, 20.0, -190.0)
    assert cold == pytest.approx(0.2856, abs=1e-9)
    assert holding.heating(0.125, 0.05, 160.0, 11.7e-6, shaft_shrinkage=cold) == 0.0


@pytest.mark.parametrize(
    "wrong",
    [
        lambda: Ring(160.0, 160.0, **STEEL),
        lambda: Ring(0.0, 160.0, 205e3, 0.5),
        lambda: interface_pressures([SHAFT, HOUSING, HUB], [0.1, 0.1]),
        lambda: interface_pressures([SHAFT, HUB], [0.1, 0.1]),
        lambda: stress(HUB, 1.0, 0.0, 70.0),
        lambda: holding.axial_hold(1.0, -160.0, 150.0, 0.1),
        lambda: holding.heating(0.1, -0.1, 160.0, 1e-5),
        lambda: holding.shrinkage(160.0, 1e-5, 20.0, 30.0),
        lambda: holding.after_smoothing(0.1, -0.001, 0.0),
    ],
)
def test_nonsense_is_refused(wrong):
    with pytest.raises(ValueError, match=r"ring|interfaces|must|swap"):
        wrong()
