"""Bore loads: closed forms of the pressure, exact resultants, linearity and symmetry of what they cause."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from analysis.elastic.invariants import peak, von_mises
from analysis.elastic.loads import BoreLoad, case_vector
from analysis.elastic.material import Elastic
from analysis.elastic.mesh import Mesh
from analysis.elastic.recovery import nodal_volumes, stresses
from analysis.elastic.solve import solve
from tests.elastic.meshes import ring
from tests.published import case

STEEL = Elastic(205e3, 0.3, 7.85e-6)


def eye(inner=50.0, outer=100.0, width=50.0, cells=(24, 3, 2), centre=(0.0, 0.0)):
    mesh = ring(inner, outer, width, cells)
    return Mesh(
        mesh.points + [*centre, 0.0],
        mesh.tets,
        {"pivot_bore": mesh.surfaces["low1"], "rim": mesh.surfaces["high1"]},
    )


EYE = eye(centre=(300.0, -40.0))


def test_half_cosine_pressure_by_its_closed_form():
    """P = 100 kN, D = 100, t = 50 mm: p0 = 4P / (pi D t)."""
    mesh = eye(cells=(48, 2, 2))
    vector, resultants = case_vector(mesh, [BoreLoad("pivot_bore", (0.0, 0.0), (100e3, 0.0, 0.0))])
    pressure = np.linalg.norm(resultants.tractions["pivot_bore"], axis=2)
    assert pressure.max() == pytest.approx(case("A79").expected, rel=1e-3)
    assert vector.reshape(-1, 3).sum(axis=0) == pytest.approx([100e3, 0.0, 0.0], abs=1e-6)
    loaded = np.unique(mesh.surfaces["pivot_bore"][pressure > 1e-3 * pressure.max()])
    assert mesh.points[loaded, 0].min() > -1.0  # nothing pushes on the half that the pin leaves
    assert resultants.correction["pivot_bore"] < 1e-3
    assert resultants.suction["pivot_bore"] < 1e-3 * case("A79").expected


@settings(max_examples=25)
@given(
    st.lists(st.floats(-1e6, 1e6), min_size=3, max_size=3),
    st.lists(st.floats(-5e6, 5e6), min_size=3, max_size=3),
    st.booleans(),
)
def test_force_and_moment_are_those_wanted(force, moment, linear):
    load = BoreLoad("pivot_bore", (300.0, -40.0), tuple(force), tuple(moment), linear)
    vector, resultants = case_vector(EYE, [load])
    nodal = vector.reshape(-1, 3)
    given_moment = np.cross(EYE.points - [300.0, -40.0, 0.0], nodal).sum(axis=0)
    scale = max(np.abs(force).max(), np.abs(moment).max() / 25.0, 1e-6)
    assert np.abs(nodal.sum(axis=0) - force).max() < 1e-9 * scale
    assert np.abs(given_moment - moment).max() < 1e-9 * scale * 25.0
    assert resultants.mismatch["pivot_bore"] < 1e-10


def test_off_middle_force_stays_pressure_to_a_sixth_of_the_width():
    """A linear pressure p0 (1 + 6 e z / w^2 ...) is nowhere negative while e <= w/6 (statics of a rectangle's kern)."""
    for e, suction in ((0.99 * 50.0 / 6, False), (1.5 * 50.0 / 6, True)):
        _, resultants = case_vector(
            EYE, [BoreLoad("pivot_bore", (300.0, -40.0), (1e5, 0.0, 0.0), (0.0, e * 1e5, 0.0))]
        )
        assert (resultants.suction["pivot_bore"] > 0.3) == suction
    _, plain = case_vector(
        EYE, [BoreLoad("pivot_bore", (300.0, -40.0), (1e5, 0.0, 0.0), (0.0, 1e5, 0.0), linear=False)]
    )
    _, even = case_vector(EYE, [BoreLoad("pivot_bore", (300.0, -40.0), (1e5, 0.0, 0.0), (0.0, 1e5, 0.0))])
    assert plain.suction["pivot_bore"] > even.suction["pivot_bore"]


def test_weight_of_the_mesh():
    volumes = nodal_volumes(EYE)
    # 24 curved elements round
    assert volumes.sum() == pytest.approx(np.pi * (100.0**2 - 50.0**2) * 50.0, rel=1e-4)
    vector, resultants = case_vector(EYE, [], (0.0, -9.80665, 0.0), STEEL.density)
    assert resultants.force == pytest.approx([0.0, -9.80665 * STEEL.density * volumes.sum(), 0.0], rel=1e-12)
    assert resultants.moment[2] / resultants.force[1] == pytest.approx(
        300.0, rel=1e-9
    )  # the centre of gravity
    assert vector.reshape(-1, 3)[:, 1].sum() == pytest.approx(resultants.force[1], rel=1e-12)


def stretched(mesh, factor=1.0):
    """An eye pulled both ways by two half-cosines against its rim."""
    loads = [
        BoreLoad("pivot_bore", (0.0, 0.0), (factor * 1e5, 0.0, 0.0)),
        BoreLoad("rim", (0.0, 0.0), (-factor * 1e5, 0.0, 0.0)),
    ]
    vector, resultants = case_vector(mesh, loads)
    solution = solve(mesh, STEEL, vector)
    assert solution.ok
    assert max(solution.figures.reaction) < 1e-10
    return stresses(mesh, STEEL, solution.displacement, [resultants.tractions])[0]


def test_double_load_gives_double_stress():
    mesh = eye()
    one, two = stretched(mesh), stretched(mesh, 2.0)
    assert np.allclose(two, 2.0 * one, rtol=1e-9, atol=1e-9 * np.abs(two).max())


def test_stress_is_symmetric_about_the_line_of_the_force():
    """The mesh itself is not mirrored, so the two sides agree to its error: 3 % of the peak at 6 elements a quarter."""
    mesh = eye()
    equivalent = von_mises(stretched(mesh))
    bore = mesh.nodes("pivot_bore")
    bore = bore[np.abs(mesh.points[bore, 2]) < 1e-9]
    there = np.linalg.norm(mesh.points[bore][:, None] * [1, -1, 1] - mesh.points[bore][None], axis=2).argmin(
        axis=1
    )
    assert np.abs(equivalent[bore] - equivalent[bore[there]]).max() < 0.03 * equivalent[bore].max()
    assert peak(stretched(mesh), mesh, "pivot_bore").equivalent == equivalent[mesh.nodes("pivot_bore")].max()
