"""Residual stress at its bounds, the Charpy energy that counts, partial factors, and net sections cracked on one side."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.optimize import brentq

from analysis.fracture import limit_load
from analysis.fracture.bodies import HoleThrough, Through
from analysis.fracture.charpy import counts, energies
from analysis.fracture.fad import Diagram
from analysis.fracture.growth import Service, use
from analysis.fracture.growth_law import LAWS
from analysis.fracture.partial_factors import PartialFactors, factored, partial_factors
from analysis.fracture.residual import cases
from analysis.tables.governing import governing
from params.files.read import read_material
from params.schema.cracks import Toughness
from params.steps.problems import OutOfRange

STEEL = Diagram(240.0, 450.0, 205e3)


def test_stated_or_not():
    stated = [(one.name, one.stress, one.governs) for one in cases(80.0, 240.0)]
    assert stated == [("none", 0.0, False), ("stated", 80.0, True), ("yield-limited", 240.0, False)]
    left_out = [(one.name, one.stress, one.governs) for one in cases(None, 240.0)]
    assert left_out == [("none", 0.0, False), ("yield-limited", 240.0, True)]
    assert cases(300.0, 240.0)[1].stress == 240.0
    rows = [{"crack": "a", "governs": "no"}, {"crack": "b", "governs": "yes"}, {"crack": "c"}]
    assert [row["crack"] for row in governing(rows)] == ["b", "c"]


def test_which_charpy_counts():
    said = Toughness.model_validate(
        {
            "charpy": [
                {"temperature": "-30 degC", "energy": "40 J", "lowest": "31 J"},
                {"temperature": "-10 degC", "energy": "60 J"},
            ]
        }
    )
    assert energies(said, -20.0) == pytest.approx((50.0, (31.0 + 0.7 * 60.0) / 2.0))
    wire = read_material("er100s-1")  # 68 J at -51 degC
    told = counts(said, wire, -20.0, "si")
    assert (
        told
        == "Charpy of the arm's file counts (50 J at -20 degC), not that of the material's file (68 J at -51 degC)"
    )
    same = Toughness.model_validate({"charpy": [{"temperature": "-20 degC", "energy": "68 J"}]})
    assert counts(same, wire, -20.0, "si") == ""


def test_partial_factors_by_the_table():
    """BS 7910 Table K.2, from memory: 1e-5, variations 0.1, 0.3, 0.2: 1.3, 1.9, 3.2, yield 1.2; 0.15 counts as 0.2."""
    assert partial_factors(1e-5, 0.1, 0.3, 0.2) == PartialFactors(1.3, 1.9, 3.2, 1.2)
    assert partial_factors(2.3e-1, 0.15, 0.5, 0.1) == PartialFactors(1.1, 1.15, 1.0, 1.0)


def test_factored_assessment_by_hand():
    """Far from yield in a wide plate: Kr = 1.2 S sqrt(pi 1.4 a)/(Kmat/1.3), Lr = 1.2 S/(yield/1.05)."""
    kept = Service([], np.array([60.0, 0.0]), LAWS["simplified"], STEEL, 3000.0)
    kr, lr, used = factored(Through(), np.array([10.0]), kept, PartialFactors(1.2, 1.4, 1.3, 1.05))
    assert kr == pytest.approx(1.2 * 60.0 * np.sqrt(np.pi * 14.0) * 1.3 / 3000.0)
    assert lr == pytest.approx(1.2 * 60.0 * 1.05 / 240.0)
    assert used > float(use(Through(), np.array([[10.0]]), kept)[2][0])
    with pytest.raises(OutOfRange, match=r"a crack 1\.4 times as large"):
        factored(HoleThrough(20.0, 30.0, 200.0), np.array([50.0]), kept, PartialFactors(1.2, 1.4, 1.3, 1.05))


@pytest.mark.parametrize("length", [5.0, 20.0, 40.0])
def test_strip_with_a_hole_cracked_on_one_side_by_equilibrium(length):
    """Plate 200 wide, hole 60, the force in the middle and no moment: the plastic field is solved for numerically as a place of the
    neutral axis in the whole side at which the moment about the plate's middle vanishes."""

    def moment(axis):
        """Of +1 from the axis on to the hole, -1 beyond it, +1 in the cracked side; about x = 0."""
        left = (axis**2 - 30.0**2) / 2.0 * -1.0 + (100.0**2 - axis**2) / 2.0
        return left + (100.0**2 - (30.0 + length) ** 2) / 2.0

    axis = brentq(moment, 30.0, 100.0)
    force = (axis - 30.0) - (100.0 - axis) + 70.0 - length
    made = limit_load.hole_one_side(90.0, length * 10.0, length / 2.0, 30.0, 10.0, 200.0)
    assert float(made) == pytest.approx(90.0 * 200.0 / force, rel=1e-9)
    assert float(made) > float(limit_load.hole(90.0, length * 10.0, 30.0, 10.0, 200.0))


def test_ligament_alone():
    """A third of it lost, pulled: Pm/(1 - 1/3); bent alone and whole: 2/3 Pb, the plastic shape factor."""
    assert float(limit_load.ligament(60.0, 0.0, 200.0, 10.0, 60.0)) == pytest.approx(90.0)
    assert float(limit_load.ligament(0.0, 90.0, 0.0, 10.0, 60.0)) == pytest.approx(60.0)
