"""Tables of flaws: every region in every material once, and what tougher steel is worth there."""

import math

import numpy as np
import pytest

from analysis.fracture.bodies import Surface, Through
from analysis.fracture.fad import Diagram
from analysis.fracture.flaws import Place, Steel, acceptable_rows, interval_rows
from analysis.fracture.growth_law import LAWS
from analysis.fracture.inspection import Method
from analysis.fracture.toughness import MPA_ROOT_M
from tests.fracture.loading import cycle

AT = np.array([100.0, 0.0])
PLACES = {
    "outside": Place(Through(), [1.0], [cycle(5000.0, AT, 0.5)], AT),
    "pivot_bore": Place(Surface(80.0), [1.0, 2.0], [cycle(5000.0, AT, 0.5)], AT),
}
ELASTIC = Diagram(1e5, 1e5, 1e9)
STEELS = {
    "cast": Steel(ELASTIC, 50.0 * MPA_ROOT_M, LAWS["simplified"]),
    "wire": Steel(ELASTIC, 100.0 * MPA_ROOT_M, LAWS["simplified"]),
}


def test_every_region_and_material_stands_once():
    rows = list(acceptable_rows(PLACES, STEELS, 20.0, 2.0))
    keys = {(row["region"], row["material"], row["size"]) for row in rows}
    assert len(keys) == len(rows) == 2 * (1 + 2)
    assert all(0.0 < row["acceptable"] < row["critical"] for row in rows)


def test_twice_the_toughness_is_four_times_the_critical_crack():
    """Irwin: a = (K/S)^2/pi; exact for the through crack in a wide plate."""
    critical = {
        row["material"]: row["critical"]
        for row in acceptable_rows(PLACES, STEELS, 20.0, 2.0)
        if row["region"] == "outside"
    }
    assert critical["wire"] / critical["cast"] == pytest.approx(4.0, rel=1e-3)
    assert critical["cast"] == pytest.approx(1000.0 * 50.0**2 / 100.0**2 / math.pi, rel=1e-3)


def test_a_finer_method_earns_a_longer_interval():
    methods = [Method("magnetic particle", 1.5, 3.0), Method("radiography", 6.0, 12.0)]
    rows = list(interval_rows(PLACES, STEELS, methods, 2.0))
    assert len(rows) == 2 * 2 * 2
    for fine, coarse in zip(rows[::2], rows[1::2], strict=True):
        assert fine["interval"] > coarse["interval"] > 0.0
        assert fine["region"] == coarse["region"]
