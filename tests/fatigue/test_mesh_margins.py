"""Fatigue and flaws by mesh: one node under a pull that a pen can follow, at a bore of the tiny arm."""

from dataclasses import dataclass

import numpy as np
import pytest

from analysis.fatigue.margins import mesh_margins
from analysis.fatigue.variants import REGIONS
from analysis.fracture.margins import flaw_margins
from params.files.read import read_material
from tests.arms import changed, demo, raised_and_lowered

ARM = raised_and_lowered(
    demo("bench-lever")
)  # load cases raise, lower, jam-extend; A572-50 (450 MPa tensile); a slip fit at the pivot
ARM = changed(  # no fretting of its pins: tests by hand of the smooth bore
    ARM,
    bores=ARM.bores.model_copy(update={"fretting": ARM.bores.fretting.model_copy(update={"clearance": 1.0})}),
)
STEEL = read_material("a572-50")
CASES = list(ARM.load_cases)
CENTRES = {
    "pivot_bore": (0.0, 0.0, 20.0),
    "input_bore": (-129.904, 75.0, 10.0),
    "output_bore": (200.0, 0.0, 10.0),
}


@dataclass
class Nodes:
    """Four nodes on each bore, and one on each other region."""

    points: np.ndarray
    named: dict[str, np.ndarray]

    def nodes(self, name):
        return self.named.get(name, np.zeros(0, int))


@pytest.fixture
def nodes():
    points, named = [], {}
    for name, (x, y, radius) in CENTRES.items():
        named[name] = np.arange(len(points), len(points) + 4)
        points += [(x + radius * c, y + radius * s, 0.0) for c, s in ((1, 0), (0, 1), (-1, 0), (0, -1))]
    for name in set(REGIONS) - set(CENTRES):
        named[name] = np.array([len(points)])
        points.append((100.0, 0.0, 18.0))
    return Nodes(np.array(points), named)


def pull(nodes, raised, lowered):
    """Stress of the three cases, then of raise and lower at their least (the same): a pull along x at the second node of the
    pivot bore, 1 MPa along y at all others."""
    stress = np.zeros((5, len(nodes.points), 6))
    stress[:, :, 1] = 1.0
    stress[:, 1] = 0.0
    stress[:, 1, 0] = raised, lowered, 0.0, raised, lowered
    return stress


def test_a_flaw_by_pen(nodes):
    """BS 7910:2013 Annex J lower bound for a mean of 40 J, of which the lowest of three may be 28 J, and 50 mm: Kmat =
    (12 sqrt(28) - 20)(25/50)^0.25 + 20 = 56.58 MPa sqrt(m); the coarsest examination finds 1 mm: S = 56.58 sqrt(1000)/(1.12^2
    (2/pi) sqrt(pi)) = 1264 MPa."""
    made = flaw_margins(ARM, STEEL, nodes, CASES, pull(nodes, 200.0, -300.0))["pivot_bore"]
    assert (made["stress"], made["load_case"]) == (pytest.approx(200.0), "raise")  # a push opens no crack
    assert made["at"] == pytest.approx((0.0, 20.0, 0.0))
    assert made["allowable"] == pytest.approx(
        1264.0, rel=3e-3
    )  # 0.80 for 1.12^2 (2/pi) = 0.7986, as the clause has it
    assert made["margin"] == pytest.approx(made["allowable"] / 200.0 - 1.0)


def test_residual_stress_adds_to_the_pull(nodes):
    loaded = changed(ARM, cracks__residual_stress=50.0)
    made = flaw_margins(loaded, STEEL, nodes, CASES, pull(nodes, 200.0, 0.0))["pivot_bore"]
    assert made["stress"] == pytest.approx(250.0)


def test_an_arm_whose_file_says_nothing_of_cracks_or_bores(nodes):
    stress = pull(nodes, 200.0, -200.0)
    assert flaw_margins(changed(ARM, cracks=None), STEEL, nodes, CASES, stress) == {}
    assert mesh_margins(changed(ARM, bores=None), STEEL, nodes, stress) == {}


def endless(cycles):
    """The arm with so many cycles a year between raise and lower."""
    pair = ARM.duty.pairs[0].model_copy(update={"cycles_per_year": cycles})
    return changed(ARM, duty__pairs=(pair,))


def test_a_reversed_pull_by_pen(nodes):
    """Shigley, 9th ed., Sec. 6-9: ka = 4.51 450^-0.265 = 0.893, ke = 0.814 (99 %), Se' = 225: Se = 163.6 MPa, range 327 without
    end; 100 MPa each way is a range of 200, so the margin is 327/200 - 1 = 0.64."""
    made = mesh_margins(endless(1e6), STEEL, nodes, pull(nodes, 100.0, -100.0))["pivot_bore"]
    assert made.range == pytest.approx(200.0, rel=1e-6)
    assert made.at == pytest.approx((0.0, 20.0, 0.0))
    assert made.margin == pytest.approx(0.636, abs=0.01)  # factors by hand to three digits


def test_a_steady_pull_uses_up_strength_as_goodman_says(nodes):
    """200 to 0 MPa is 100 each way on a mean of 100: 1/n = 100/163.6 + 100/450 = 0.833 (Shigley, 9th ed., Eq. 6-46)."""
    made = mesh_margins(endless(1e6), STEEL, nodes, pull(nodes, 200.0, 0.0))["pivot_bore"]
    assert made.range / made.allowable == pytest.approx(0.833, rel=5e-3)  # to three digits by hand


def test_a_pull_that_only_the_stroke_changes_by_pen(nodes):
    """Alike in both cases at their most, 200 MPa, and half of it at the least of one: a range of 100 MPa on a mean of 150, so
    1/n = 50/163.6 + 150/450 = 0.639."""
    stress = pull(nodes, 200.0, 200.0)
    still = mesh_margins(endless(1e6), STEEL, nodes, stress)["pivot_bore"]
    assert still.range == pytest.approx(0.0, abs=1e-9)
    stress[4, 1, 0] = 100.0
    made = mesh_margins(endless(1e6), STEEL, nodes, stress)["pivot_bore"]
    assert made.range == pytest.approx(100.0, rel=1e-6)
    assert made.at == pytest.approx((0.0, 20.0, 0.0))
    assert made.range / made.allowable == pytest.approx(0.639, rel=5e-3)  # to three digits by hand
