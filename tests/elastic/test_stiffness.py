"""The stiffness: zero-energy modes, patch test, order of convergence, threads, another library on the same mesh."""

import numba
import numpy as np
import pytest
import skfem
from scipy.sparse import bsr_matrix
from skfem.models.elasticity import linear_elasticity

from analysis.elastic.assembly import stiffness
from analysis.elastic.material import Elastic
from analysis.elastic.mesh import Mesh
from analysis.elastic.pattern import build
from analysis.elastic.recovery import stresses
from analysis.elastic.solve import multiply, solve
from analysis.elastic.supports import rigid
from tests.elastic.fields import integral, loads_of_stress, without_rigid
from tests.elastic.meshes import block, box, ring
from tests.published import case

STEEL = Elastic(205e3, 0.3)


def assembled(mesh, material=STEEL):
    ordered = mesh.ordered
    return stiffness(ordered.pattern, ordered.points, ordered.curved, material)


def dense(matrix):
    pattern = matrix.pattern
    return bsr_matrix((matrix.blocks, pattern.columns, pattern.start)).toarray()


def distorted(mesh, amount, seed=4):
    """Inner corner nodes moved, mid-edge nodes kept on straight edges."""
    shape = np.random.default_rng(seed).uniform(-amount, amount, mesh.points.shape)
    inner = np.ones(len(mesh.points), dtype=bool)
    for name in mesh.surfaces:
        inner[mesh.nodes(name)] = False
    points = mesh.points + shape * inner[:, None]
    for k, (a, b) in enumerate(((0, 1), (1, 2), (0, 2), (0, 3), (1, 3), (2, 3))):
        points[mesh.tets[:, 4 + k]] = points[mesh.tets[:, [a, b]]].mean(axis=1)
    return Mesh(points, mesh.tets, mesh.surfaces)


def test_symmetric_with_six_zero_energy_modes():
    matrix = dense(assembled(ring(100.0, 150.0, 40.0, (6, 1, 1))))
    assert np.abs(matrix - matrix.T).max() < 1e-14 * np.abs(matrix).max()
    values = np.linalg.eigvalsh(matrix)
    assert (np.abs(values) < 1e-9 * values[-1]).sum() == case("A81").expected  # limit: the case's tolerance
    assert values[6] > 1e-6 * values[-1]


def test_rigid_motions_need_no_force():
    mesh = ring(100.0, 150.0, 40.0, (8, 1, 1))
    matrix = assembled(mesh)
    force = multiply(matrix, rigid(mesh.ordered.points))
    assert np.abs(force).max() < 1e-12 * np.abs(matrix.blocks).max() * np.abs(rigid(mesh.points)).max()


def test_patch():
    """MacNeal and Harder 1985: u = 1e-3 (2x + y + z)/2 and cyclic, E = 1e6 psi, nu = 0.25, distorted inner cells."""
    material = Elastic(1e6, 0.25)
    mesh = distorted(box((1.0, 1.0, 1.0), (3, 3, 3)), 0.1)
    field = 1e-3 * mesh.points @ (np.ones((3, 3)) + np.eye(3)) / 2
    ordered = mesh.ordered
    force = multiply(assembled(mesh, material), field[ordered.order][:, :, None])
    inner = np.ones(len(mesh.points), dtype=bool)
    for name in mesh.surfaces:
        inner[mesh.nodes(name)] = False
    assert inner.sum() > 20
    assert np.abs(force[inner[ordered.order]]).max() < 1e-11 * np.abs(force).max()
    wanted = np.array([case("A65").expected] * 3 + [case("A66").expected] * 3)
    loads = loads_of_stress(mesh, lambda places: np.broadcast_to(wanted, (*places.shape[:-1], 6)))
    solution = solve(mesh, material, loads, method="direct")
    assert np.allclose(without_rigid(mesh.points, solution.displacement[0] - field), 0.0, atol=1e-11)
    # the boundary's tractions are not zero here
    stress = stresses(mesh, material, solution.displacement, surfaces=[])
    assert np.allclose(stress, wanted, rtol=float(case("A65").tolerance.split()[0]))


def wavy(places):
    """Displacement u = (sin x cos y, z^2 sin y, cos x sin z): its strain, made into stress."""
    x, y, z = np.moveaxis(places, -1, 0)
    strain = np.stack(
        [
            np.cos(x) * np.cos(y),
            z**2 * np.cos(y),
            np.cos(x) * np.cos(z),
            -np.sin(x) * np.sin(y),
            2 * z * np.sin(y),
            -np.sin(x) * np.sin(z),
        ],
        axis=-1,
    )
    return STEEL.stress(strain), strain


def test_energy_error_falls_with_the_square_of_the_size():
    """Manufactured solution: the error's energy is the exact field's less the projection's; order 2 +- 0.1."""
    errors = []
    for cells in (4, 8):
        mesh = box((1.0, 1.3, 0.9), (cells,) * 3)
        exact = integral(mesh, lambda places: (wavy(places)[0] * wavy(places)[1]).sum(axis=-1))
        solution = solve(mesh, STEEL, loads_of_stress(mesh, lambda places: wavy(places)[0]), method="direct")
        errors.append(np.sqrt(exact - 2.0 * solution.figures.energy[0]))
    assert np.log2(errors[0] / errors[1]) == pytest.approx(2.0, abs=0.1)


def test_the_number_of_threads_changes_no_bit():
    mesh = ring(100.0, 200.0, 50.0, (16, 2, 2))
    ordered, most = mesh.ordered, numba.get_num_threads()
    matrices = []
    for threads in (1, most):
        numba.set_num_threads(threads)
        number = np.empty(len(ordered.order), dtype=np.int32)
        number[ordered.order] = np.arange(len(number))
        pattern = build(number[mesh.tets], len(number))
        matrices.append(stiffness(pattern, ordered.points, ordered.curved, STEEL))
    assert np.array_equal(matrices[0].blocks, matrices[1].blocks)
    assert np.array_equal(matrices[0].least, matrices[1].least)


def test_displacements_agree_with_scikit_fem():
    """General finite-element library on the same straight mesh, quadratic tetrahedra, clamped at one end, pulled sideways."""
    mesh = distorted(
        block((5, 2, 2), lambda u: u * [500.0, 100.0, 60.0] + [[0.0, 20.0, 0.0]] * u[:, [0]] ** 2), 4.0
    )
    corners = np.unique(mesh.tets[:, :4])
    other = skfem.MeshTet(mesh.points[corners].T, np.searchsorted(corners, mesh.tets[:, :4]).T)
    basis = skfem.Basis(other, skfem.ElementVector(skfem.ElementTetP2()), intorder=2)
    matrix = skfem.asm(linear_elasticity(STEEL.lame, STEEL.mu), basis)
    where, ours = (np.lexsort(np.round(p, 6).T) for p in (basis.doflocs[:, ::3].T, straight(mesh)))
    nodes = np.empty(len(ours), dtype=int)
    nodes[ours] = where  # our node -> theirs
    assert np.allclose(basis.doflocs[:, ::3].T[nodes], straight(mesh), atol=1e-6)
    loads = np.zeros((len(mesh.points), 3))
    loads[mesh.nodes("high0")] = [1e3, 2e3, -5e2]
    held = mesh.nodes("low0")
    right = np.zeros(matrix.shape[0])
    dofs = 3 * nodes[:, None] + np.arange(3)
    right[dofs] = loads
    theirs = skfem.solve(*skfem.condense(matrix, right, D=dofs[held].ravel()))
    fixed = (3 * held[:, None] + np.arange(3)).ravel()
    for method in ("direct", "cg"):
        displacement = solve(
            mesh_straight(mesh), STEEL, loads.ravel(), method=method, fixed=fixed
        ).displacement[0]
        assert np.abs(displacement - theirs[dofs]).max() < 1e-6 * np.abs(displacement).max()


def straight(mesh):
    points = mesh.points.copy()
    for k, (a, b) in enumerate(((0, 1), (1, 2), (0, 2), (0, 3), (1, 3), (2, 3))):
        points[mesh.tets[:, 4 + k]] = points[mesh.tets[:, [a, b]]].mean(axis=1)
    return points


def mesh_straight(mesh):
    return Mesh(straight(mesh), mesh.tets, mesh.surfaces)
