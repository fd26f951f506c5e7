"""Limit loads by equilibrium worked out here, and the failure assessment diagram."""

import math

import numpy as np
import pytest
from scipy.optimize import brentq

from analysis.fracture import limit_load
from analysis.fracture.bodies import Through
from analysis.fracture.fad import Diagram, plasticity
from analysis.fracture.growth import Service
from analysis.fracture.growth_law import LAWS
from analysis.fracture.remaining import load_factor
from tests.fracture.loading import cycle

STEEL = Diagram(240.0, 450.0, 205e3)


def test_uncracked_plate_in_bending_has_the_plastic_shape_factor():
    """A rectangle's full plastic moment is 1.5 times the first yield moment: reference stress 2/3 Pb."""
    assert float(limit_load.surface(0.0, 150.0, 1e-9, 1.0, 50.0)) == pytest.approx(100.0, rel=1e-6)
    assert float(limit_load.edge(0.0, 150.0, 0.0, 50.0)) == pytest.approx(100.0)
    assert float(limit_load.through(0.0, 150.0, 0.0, 50.0)) == pytest.approx(100.0)


@pytest.mark.parametrize("share", [0.1, 0.3, 0.5, 0.7])
@pytest.mark.parametrize(("pm", "pb"), [(100.0, 0.0), (60.0, 90.0), (100.0, 40.0)])
def test_edge_crack_by_equilibrium_of_the_ligament(share, pm, pb):
    """Fully plastic ligament of width l = 1 - x: a neutral axis somewhere carries the force and the moment about the
    ligament's middle, the force acting x/2 off it. The stress for which both agree is solved for numerically.
    """
    ligament = 1.0 - share
    force, moment = pm, pb / 6.0 + pm * share / 2.0

    def unbalanced(stress):
        core = force / (2.0 * stress)  # half depth of the strip that carries the force
        return stress * (ligament**2 / 4.0 - core**2) - moment

    least = force / ligament
    by_hand = brentq(unbalanced, least, 1e5, xtol=1e-12)
    assert float(limit_load.edge(pm, pb, share * 80.0, 80.0)) == pytest.approx(by_hand, rel=1e-9)


def test_edge_crack_in_tension_is_millers_formula():
    """Miller 1988: n = sqrt((1 - x)^2 + x^2) - x, 0.2071 at x = 0.5, by hand."""
    assert 100.0 / float(limit_load.edge(100.0, 0.0, 20.0, 40.0)) == pytest.approx(math.sqrt(0.5) - 0.5)


def test_net_sections_by_area():
    """Pure tension is force over what is left, where the section is held against turning."""
    assert float(limit_load.through(100.0, 0.0, 20.0, 100.0)) == pytest.approx(100.0 / 0.6)
    # Plate 100 x 20, hole 20, crack area 50 mm2: 2000 - 400 - 50.
    assert float(limit_load.hole(80.0, 50.0, 10.0, 20.0, 100.0)) == pytest.approx(80.0 * 2000.0 / 1550.0)
    # Surface crack as wide as the plate: all of the ligament, 1 - a/B.
    assert float(limit_load.surface(100.0, 0.0, 10.0, 50.0, 40.0, 100.0)) == pytest.approx(100.0 / 0.75)


def test_diagram_without_load_is_toughness_alone():
    assert float(STEEL.allowed(0.0)) == 1.0
    assert float(STEEL.use(0.4, 0.0)) == pytest.approx(0.4)


def test_diagram_at_yield_by_hand():
    """BS 7910:2013 7.3.3: mu = min(0.001 x 205000/240, 0.6) = 0.6; 1.5^-0.5 (0.3 + 0.7 e^-0.6) = 0.55862."""
    assert float(STEEL.allowed(1.0)) == pytest.approx(0.55862, abs=5e-6)
    # N = 0.3 (1 - 240/450) = 0.14; 0.55862 x 1.2^((0.14 - 1)/0.28) = 0.55862 x 1.2^-3.0714
    assert float(STEEL.allowed(1.2)) == pytest.approx(0.55862 * 1.2**-3.0714286, abs=1e-5)
    assert STEEL.most == pytest.approx(690.0 / 480.0)


def test_diagram_beside_the_older_general_one():
    """R6 rev. 3 option 1 and BS 7910:2005 level 2A, (1 - 0.14 L^2)(0.3 + 0.7 exp(-0.65 L^6)): the form that this one
    replaced, from memory; both are drawn through the same steels; the new one lies up to 4 % lower.
    """
    lr = np.linspace(0.0, 1.0, 21)
    old = (1.0 - 0.14 * lr**2) * (0.3 + 0.7 * np.exp(-0.65 * lr**6))
    assert STEEL.allowed(lr) == pytest.approx(old, rel=0.04)
    assert (STEEL.allowed(lr) <= old).all()


def test_plateau_lowers_the_diagram_at_yield():
    """By hand: de = 0.0375 (1 - 0.24) = 0.0285, lam = 1 + 205000 x 0.0285/240 = 25.34, f(1) = (25.34 + 0.0197)^-0.5."""
    plateau = Diagram(240.0, 450.0, 205e3, plateau=True)
    assert float(plateau.allowed(1.0)) == pytest.approx(0.198565, abs=2e-5)
    assert float(plateau.allowed(0.999)) == pytest.approx((1.0 + 0.999**2 / 2.0) ** -0.5)


def test_nothing_is_allowed_beyond_collapse():
    assert float(STEEL.allowed(STEEL.most + 1e-9)) == 0.0
    assert float(STEEL.use(0.0, STEEL.most)) == pytest.approx(1.0)
    assert (np.diff(STEEL.allowed(np.linspace(0.0, 1.5, 200))) <= 0.0).all()


def under(diagram, stress, residual=0.0, toughness=3000.0):
    at = np.array([stress, 0.0])
    return Service(
        [cycle(1.0, at, 0.0)], at, LAWS["simplified"], diagram, toughness, np.array([residual, 0.0])
    )


def test_load_factor_at_both_ends_of_the_diagram():
    """Through crack of 2a = 20 mm in a plate 1 m wide, K = S sqrt(pi 10) within 0.03 %, reference stress S/0.98."""
    sizes = np.array([10.0])
    brittle = load_factor(Through(1000.0), sizes, under(Diagram(1e5, 1e5, 1e9), 100.0))
    assert brittle == pytest.approx(3000.0 / (100.0 * math.sqrt(10.0 * math.pi)), rel=1e-3)
    collapse = load_factor(Through(1000.0), sizes, under(STEEL, 100.0, toughness=1e9))
    assert collapse == pytest.approx(0.98 * (240.0 + 450.0) / 2.0 / 100.0, rel=1e-6)


@pytest.mark.parametrize("stress", [200.0, 800.0])
def test_load_factor_leaves_the_residual_stress_alone(stress):
    """Kr = (f Kp + Ks)/Kmat = 1 far from yield, so f = (Kmat/sqrt(pi a) - Sr)/S, over and under 1."""
    made = load_factor(Through(), np.array([10.0]), under(Diagram(1e6, 1e6, 1e9), stress, 120.0))
    by_hand = (3000.0 / math.sqrt(10.0 * math.pi) - 120.0) / stress
    assert made == pytest.approx(by_hand, rel=2e-3)  # rho is 0.1 chi^0.714 < 0.001
    assert load_factor(Through(), np.array([10.0]), under(STEEL, stress, 600.0)) == 0.0


def test_plasticity_correction_by_hand():
    """BS 7910 Annex R (from memory): chi = 1: 0.1 - 0.007 + 0.00003; half of 4 x (1.05 - 0.925) = 0.5 at 0.925."""
    assert float(plasticity(100.0, 50.0, 0.5)) == pytest.approx(0.09303)
    rho1 = 0.1 * 1.85**0.714 - 0.007 * 1.85**2 + 3e-5 * 1.85**5
    assert float(plasticity(100.0, 50.0, 0.925)) == pytest.approx(0.5 * rho1)
    assert float(plasticity(100.0, 50.0, 1.05)) == 0.0
    assert float(plasticity(0.0, 50.0, 0.5)) == 0.0
    # The branch beyond chi = 5.2 goes on where the curve ends.
    assert float(plasticity(520.1, 50.0, 0.5)) == pytest.approx(float(plasticity(519.9, 50.0, 0.5)), abs=1e-3)


@pytest.mark.parametrize(
    ("call", "told"),
    [
        (lambda: Diagram(500.0, 400.0, 205e3), "yield at most tensile expected"),
        (lambda: limit_load.edge(1.0, 0.0, 50.0, 40.0), "a/W 1.25 is outside"),
        (lambda: limit_load.hole(1.0, 900.0, 20.0, 10.0, 100.0), "lost share of the section 1.3 is outside"),
        (lambda: limit_load.through(1.0, 0.0, 60.0, 100.0), "2a/W 1.2 is outside"),
    ],
)
def test_impossible_input_is_one_clear_line(call, told):
    with pytest.raises(ValueError, match=told) as error:
        call()
    assert "\n" not in str(error.value)
