"""Rows of duty.csv against stresses written out here."""

from __future__ import annotations

from types import SimpleNamespace

import numpy as np
import pytest

from analysis.fatigue.cycles import year
from analysis.fatigue.duty_table import ASK, duty_rows
from tests.arms import changed, demo

ARM = changed(demo("bench-lever"), bores__histories=())
X = np.array([1.0, 0.0, 0.0, 0.0, 0.0, 0.0])


def rows(most, least):
    """One node with uniaxial stress, by state: cases at their most, then the paired ones at their least."""
    cycles = year(ARM, ARM.bores)
    stress = np.array([*most, *least])[:, None, None] * X
    made = SimpleNamespace(
        variant=SimpleNamespace(name="this arm"),
        nodes=np.array([0]),
        read={"outside": np.array([0])},
        life=SimpleNamespace(margin=np.array([0.1])),
        worst_plane=SimpleNamespace(normal=np.array([[1.0, 0.0, 0.0]])),
        stress=stress,
    )
    mesh = SimpleNamespace(points=np.zeros((1, 3)))
    return list(duty_rows(ARM, mesh, made, cycles))  # type: ignore[arg-type]


def test_a_working_machine_unloads_each_lift():
    """raise 100 MPa, lower 95, jam 180, unloaded 4 at their most; raise 90, jam 150, unloaded 3 at their least. Unloaded to raise
    3 to 100: range 97, all but 3 % of what stands; unloaded to jam 3 to 180."""
    lift, jam = rows([100.0, 95.0, 180.0, 4.0], [90.0, 150.0, 3.0])
    assert [lift[name] for name in ("from_case", "to_case", "cycles_per_year")] == [
        "unloaded",
        "raise",
        5000.0,
    ]
    assert [lift[name] for name in ("lowest", "highest", "range", "static")] == pytest.approx(
        [3.0, 100.0, 97.0, 100.0]
    )
    assert lift["range_over_static"] == pytest.approx(0.97) and lift["note"] == ""
    assert [jam[name] for name in ("lowest", "highest", "static")] == pytest.approx([3.0, 180.0, 180.0])


def test_a_duty_that_hardly_varies_is_asked_about():
    """Every state between 97 and 100 MPa: a range of 3 % of the static stress."""
    lift, jam = rows([100.0, 98.0, 99.0, 97.0], [99.0, 98.0, 97.5])
    assert lift["range"] == pytest.approx(3.0) and lift["note"] == jam["note"] == ASK
