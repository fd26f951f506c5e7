"""Solvers against each other, and the statuses that a failed solve names."""

import numpy as np
import pytest

import analysis.elastic.solve as solve_module
from analysis.elastic import memory
from analysis.elastic.assembly import Stiffness, stiffness
from analysis.elastic.direct import CHOICE, NotPositiveDefinite, available, factor
from analysis.elastic.material import Elastic
from analysis.elastic.mesh import Mesh
from analysis.elastic.solve import solve
from analysis.elastic.status import Status
from tests.elastic.fields import balanced
from tests.elastic.meshes import block, box, ring
from tests.reference.traction import surface_traction

STEEL = Elastic(205e3, 0.3)
GENEROUS = 10**12


def bent():
    """A curved block under nine load cases in balance."""

    def shape(u):
        angle = 0.8 * u[:, 0]
        return np.column_stack(
            [(300 + 80 * u[:, 1]) * np.sin(angle), (300 + 80 * u[:, 1]) * np.cos(angle), 60 * u[:, 2]]
        )

    mesh = block((10, 4, 3), shape)
    loads = []
    for power in range(9):
        force, _ = surface_traction(mesh, "high0", np.ones(mesh.surfaces["high0"].shape))
        loads.append(
            balanced(mesh, force * (1.0 + np.repeat(mesh.points[:, power % 3], 3) / 100.0) ** (power // 3))
        )
    return mesh, np.array(loads)


BENT = bent()


def test_every_direct_library_here_agrees():
    mesh, loads = BENT
    assert "cholmod" in available()  # the portable one must always be there
    solutions = [solve(mesh, STEEL, loads, method="direct", choice=name) for name in available()]
    for one in solutions:
        assert one.ok
        assert max(one.figures.residual) < 1e-10
        assert (
            np.abs(one.displacement - solutions[0].displacement).max()
            < 1e-9 * np.abs(solutions[0].displacement).max()
        )


@pytest.mark.parametrize("choice", available())
def test_conjugate_gradients_agree_with_the_direct_solver(choice):
    """Nine cases: one batch of eight and one alone. The tolerance of the residual is 1e-8."""
    mesh, loads = BENT
    exact = solve(mesh, STEEL, loads, method="direct").displacement
    solution = solve(mesh, STEEL, loads, method="cg", choice=choice)
    assert solution.ok
    assert 5 < solution.figures.iterations < 60
    assert max(solution.figures.residual) < 1.1e-8
    assert max(solution.figures.reaction) < 1e-9
    for one, other in zip(solution.displacement, exact, strict=True):
        assert np.abs(one - other).max() < 1e-6 * np.abs(other).max()


def test_energy_is_half_the_work_of_the_loads():
    mesh, loads = BENT
    solution = solve(mesh, STEEL, loads)
    assert solution.figures.energy == pytest.approx(
        0.5 * np.einsum("cn,cn->c", loads, solution.displacement.reshape(len(loads), -1))
    )


def test_the_environment_chooses_the_library(monkeypatch):
    mesh, loads = BENT
    monkeypatch.setenv(CHOICE, "cholmod")
    assert solve(mesh, STEEL, loads[:1], method="direct").figures.method == "direct, CHOLMOD"
    monkeypatch.setenv(CHOICE, "neither")
    with pytest.raises(ValueError, match="mkl or cholmod is"):
        solve(mesh, STEEL, loads[:1], method="direct")


def test_loads_out_of_balance_show_in_the_reactions():
    mesh, loads = BENT
    pushed = loads[0].copy()
    pushed[0] += 0.01 * np.abs(loads[0]).sum()
    assert solve(mesh, STEEL, pushed).figures.reaction[0] > 1e-3


def test_exhausted_iterations_fall_back_to_the_direct_solver():
    mesh, loads = BENT
    solution = solve(mesh, STEEL, loads, method="cg", most=2)
    assert solution.ok
    assert solution.figures.note == "not converged after 2 iterations, solved by the direct solver"
    assert solution.figures.method.startswith("direct")


def test_exhausted_iterations_without_memory_for_the_direct_solver():
    mesh, loads = BENT
    between = int(memory.need(3 * len(mesh.points), "cg") * 1.01)
    solution = solve(mesh, STEEL, loads, method="cg", most=2, free_bytes=between)
    assert solution.status is Status.ITERATIONS_EXHAUSTED
    assert "refine" in solution.message


def test_memory_is_foreseen():
    mesh, loads = BENT
    solution = solve(mesh, STEEL, loads, free_bytes=10**6)
    assert solution.status is Status.OUT_OF_MEMORY
    assert "GB are free" in solution.message
    assert not solution.displacement.any()
    assert memory.need(2_000_000, "cg") < 0.5 * memory.need(2_000_000, "direct")


def test_a_loose_part_is_named():
    one, two = box((100.0, 20.0, 20.0), (6, 2, 2)), ring(5.0, 10.0, 8.0, (6, 1, 1))
    points = np.vstack([one.points, two.points + [200.0, 0.0, 0.0]])
    mesh = Mesh(
        points,
        np.vstack([one.tets, two.tets + len(one.points)]),
        {"washer_bore": two.surfaces["low1"] + len(one.points)},
    )
    solution = solve(mesh, STEEL, np.zeros(3 * len(points)))
    assert solution.status is Status.LOOSE_PART
    for words in (
        "2 separate pieces",
        f"{len(two.points)} of {len(points)} nodes",
        "(190.0, -10.0, -4.0)",
        "washer_bore",
    ):
        assert words in solution.message


def test_an_inverted_element_is_named_with_its_place():
    mesh = box((300.0, 20.0, 20.0), (6, 1, 1))
    tets = mesh.tets.copy()
    tets[20] = tets[20][[0, 2, 1, 3, 6, 5, 4, 7, 9, 8]]
    solution = solve(Mesh(mesh.points, tets), STEEL, np.zeros(3 * len(mesh.points)))
    assert solution.status is Status.INVERTED
    x, y, z = mesh.points[tets[20, :4]].mean(axis=0)
    assert f"element 20 near ({x:.1f}, {y:.1f}, {z:.1f}) mm" in solution.message


@pytest.mark.parametrize("choice", available())
def test_a_stiffness_that_is_not_positive_definite_is_refused(choice):
    """One node's own block made negative: no Cholesky factor exists."""
    ordered = BENT[0].ordered
    sound = stiffness(ordered.pattern, ordered.points, ordered.curved, STEEL)
    blocks = sound.blocks.copy()
    row = np.repeat(np.arange(ordered.pattern.rows), np.diff(ordered.pattern.start))
    blocks[(row == 40) & (ordered.pattern.columns == 40)] *= -1.0
    with pytest.raises(NotPositiveDefinite):
        factor(Stiffness(ordered.pattern, blocks, sound.least), np.arange(9), choice=choice)


def test_that_refusal_becomes_a_status(monkeypatch):
    mesh, loads = BENT
    unspoiled = solve_module.stiffness

    def spoiled(*given):
        sound = unspoiled(*given)
        return Stiffness(sound.pattern, -sound.blocks, sound.least)

    monkeypatch.setattr(solve_module, "stiffness", spoiled)
    solution = solve(mesh, STEEL, loads[:1], method="direct")
    assert solution.status is Status.NOT_POSITIVE_DEFINITE
    assert not solution.displacement.any()


def test_small_and_thin_models_go_to_the_direct_solver():
    mesh, _ = BENT
    assert memory.choose(mesh, 8, "auto", GENEROUS)[0] == "direct"
    thin = box((2000.0, 2000.0, 10.0), (36, 36, 1))
    assert memory.thin_share(thin) > 0.9
    assert memory.thin_share(mesh) < 0.1
    assert memory.choose(thin, 8, "auto", GENEROUS)[0] == "direct"


def test_wrong_shapes_are_refused():
    mesh, loads = BENT
    with pytest.raises(ValueError, match="unknowns"):
        solve(mesh, STEEL, loads[:, :-3])
    with pytest.raises(ValueError, match=r"tets: shape \(\d+, 4\); it must be \(count, 10\)"):
        Mesh(mesh.points, mesh.tets[:, :4])
    with pytest.raises(ValueError, match="the mesh has nodes 0 to 3"):
        Mesh(mesh.points[:4], mesh.tets)
    with pytest.raises(ValueError, match="need modulus > 0"):
        Elastic(-1.0, 0.3)
