"""Published benchmark problems of finite-element accuracy."""

import numpy as np
import pytest

from analysis.elastic.material import Elastic
from analysis.elastic.mesh import Mesh
from analysis.elastic.recovery import stresses
from analysis.elastic.solve import solve
from tests.elastic.fields import hold
from tests.elastic.meshes import block, box
from tests.published import case
from tests.reference.traction import surface_traction


@pytest.fixture(scope="module")
def plate():
    """Test LE10: a thick plate between two ellipses, a quarter of it, 1 MPa on top; metres made millimetres."""

    def shape(u):
        angle, share = 0.5 * np.pi * u[:, [0]], u[:, [1]]
        inner = np.hstack([2000.0 * np.cos(angle), 1000.0 * np.sin(angle)])
        outer = np.hstack([3250.0 * np.cos(angle), 2750.0 * np.sin(angle)])
        return np.hstack([inner + (outer - inner) * share, 600.0 * u[:, [2]]])

    mesh = block((14, 8, 4), shape)
    middle = mesh.surfaces["high1"]
    on = np.unique(middle)[np.abs(mesh.points[np.unique(middle), 2] - 300.0) < 1e-6]
    fixed = np.unique([*hold(mesh, ("high0", "x"), ("low0", "y"), ("high1", "xy")), *(3 * on + 2)])
    loads, traction = surface_traction(mesh, "high2", 1.0)
    return mesh, fixed, loads, traction


def test_thick_plate_load(plate):
    _, _, loads, _ = plate
    assert loads.reshape(-1, 3)[:, 2].sum() / 1e6 == pytest.approx(case("A02").expected, rel=1e-4)


def test_thick_plate_stress(plate):
    """sigma_yy at D = (2, 0, 0.6) m, from the inner ellipse's face: its own strains vary slowly towards the edge."""
    mesh, fixed, loads, traction = plate
    material = Elastic(210e3, 0.3)
    solution = solve(mesh, material, loads, fixed=fixed)
    assert solution.ok
    stress = stresses(mesh, material, solution.displacement, [{"high2": traction}], surfaces=["low1"])[0]
    node = int(np.argmin(np.linalg.norm(mesh.points - [2000.0, 0.0, 600.0], axis=1)))
    assert stress[node, 1] == pytest.approx(case("A01").expected, rel=0.02)


def end_load(mesh, surface, axis):
    """A unit force spread evenly over an end face."""
    loads = np.zeros((len(mesh.points), 3))
    faces = mesh.surfaces[surface]
    corner, edge1, edge2 = (mesh.points[faces[:, k]] for k in range(3))
    area = np.linalg.norm(np.cross(edge1 - corner, edge2 - corner), axis=1) / 2
    for k in (3, 4, 5):  # a uniform traction on a straight six-node face sits on its mid-edge nodes
        np.add.at(loads[:, axis], faces[:, k], area / 3 / area.sum())
    return loads.ravel()


@pytest.mark.parametrize(("row", "axis"), [("A58", 1), ("A59", 2), ("A60", 0)])
def test_straight_cantilever(row, axis):
    """MacNeal and Harder 1985: L = 6, depth 0.2, thick 0.1 in, E = 1e7 psi, nu = 0.3, unit force at the tip."""
    mesh = box((6.0, 0.2, 0.1), (30, 2, 1))
    fixed = hold(mesh, ("low0", "xyz"))
    solution = solve(mesh, Elastic(1e7, 0.3), end_load(mesh, "high0", axis), fixed=fixed)
    assert solution.ok
    assert solution.displacement[0][mesh.nodes("high0"), axis].mean() == pytest.approx(
        case(row).expected, rel=0.01
    )


@pytest.mark.parametrize(("row", "axis"), [("A61", 1), ("A62", 2)])
def test_curved_cantilever(row, axis):
    """Quarter ring, radii 4.12 and 4.32, thick 0.1 in, E = 1e7 psi, nu = 0.25; 2 %: theory and 3D elasticity are 1 % apart."""

    def shape(u):
        angle, radius = 0.5 * np.pi * u[:, 0], 4.12 + 0.2 * u[:, 1]
        return np.column_stack([radius * np.cos(angle), radius * np.sin(angle), 0.1 * u[:, 2]])

    mesh = block((40, 4, 2), shape)
    solution = solve(
        mesh, Elastic(1e7, 0.25), end_load(mesh, "high0", axis), fixed=hold(mesh, ("low0", "xyz"))
    )
    assert solution.displacement[0][mesh.nodes("high0"), axis].mean() == pytest.approx(
        case(row).expected, rel=0.02
    )


def test_a_bar_hanging_by_its_end():
    """Own weight: sigma = rho g (distance from the free end), elongation rho g L^2 / 2E; from equilibrium."""
    from analysis.elastic.recovery import nodal_volumes

    mesh, material = box((1000.0, 60.0, 40.0), (10, 1, 1)), Elastic(200e3, 0.0, 7.85e-6)
    assert isinstance(mesh, Mesh)
    weight = material.density * 9.80665 * nodal_volumes(mesh)
    assert weight.sum() == pytest.approx(7.85e-6 * 9.80665 * 1000.0 * 60.0 * 40.0, rel=1e-12)
    loads = np.zeros((len(mesh.points), 3))
    loads[:, 0] = weight
    solution = solve(mesh, material, loads.ravel(), fixed=hold(mesh, ("low0", "xyz")))
    stress = stresses(mesh, material, solution.displacement, surfaces=[])[0]
    assert stress[:, 0] == pytest.approx(7.85e-6 * 9.80665 * (1000.0 - mesh.points[:, 0]), abs=1e-9)
    longer = solution.displacement[0][mesh.nodes("high0"), 0].mean()
    assert longer == pytest.approx(7.85e-6 * 9.80665 * 1000.0**2 / 2 / 200e3, rel=1e-9)
