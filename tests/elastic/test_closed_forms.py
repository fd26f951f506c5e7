"""Stresses and displacements against closed forms of the theory of elasticity."""

import numpy as np
import pytest

from analysis.elastic.error import energy_error
from analysis.elastic.material import Elastic
from analysis.elastic.mesh import Mesh
from analysis.elastic.recovery import stresses
from analysis.elastic.solve import solve
from tests.elastic.fields import hold, loads_of_body_force, loads_of_stress, polar
from tests.elastic.meshes import block, box, ring
from tests.published import case
from tests.reference.traction import surface_traction


@pytest.fixture(scope="module")
def cylinder():
    """a = 100, b = 200 mm, 100 MPa inside, E = 200 GPa, nu = 0.3; open ends; 8 elements a quarter."""
    mesh, material = ring(100.0, 200.0, 50.0, (32, 8, 2)), Elastic(200e3, 0.3)
    loads, traction = surface_traction(mesh, "low1", 100.0)
    solution = solve(mesh, material, loads)
    assert solution.ok
    return mesh, material, solution, stresses(mesh, material, solution.displacement, [{"low1": traction}])[0]


@pytest.mark.parametrize(("surface", "row"), [("low1", "A04"), ("high1", "A05")])
def test_thick_cylinder_hoop_stress(cylinder, surface, row):
    mesh, _, _, stress = cylinder
    nodes = mesh.nodes(surface)
    _, hoop = polar(stress[nodes], mesh.points[nodes])
    assert hoop == pytest.approx(case(row).expected, rel=5e-3)  # the case's tolerance, at every node


def test_thick_cylinder_greatest_shear_and_radial_stress(cylinder):
    mesh, _, _, stress = cylinder
    nodes = mesh.nodes("low1")
    radial, hoop = polar(stress[nodes], mesh.points[nodes])
    assert (hoop - radial) / 2 == pytest.approx(case("A06").expected, rel=5e-3)
    inside = np.abs(mesh.points[nodes, 2]) < 24.0
    assert radial[inside] == pytest.approx(-100.0, rel=1e-6)  # the applied pressure itself
    assert radial == pytest.approx(-100.0, rel=0.015)  # at the edges averaged with the end faces


@pytest.mark.parametrize(("surface", "row"), [("low1", "A07"), ("high1", "A09")])
def test_thick_cylinder_radial_displacement(cylinder, surface, row):
    mesh, _, solution, _ = cylinder
    nodes = mesh.nodes(surface)
    # the supports leave a small rigid motion, which the mean over the circle does not see
    centre = solution.displacement[0].mean(axis=0)[:2]
    away = mesh.points[nodes, :2] / np.linalg.norm(mesh.points[nodes, :2], axis=1, keepdims=True)
    moved = ((solution.displacement[0][nodes, :2] - centre) * away).sum(axis=1).mean()
    assert moved == pytest.approx(case(row).expected, rel=1e-3)


def test_thick_cylinder_in_plane_strain():
    mesh, material = ring(100.0, 200.0, 20.0, (32, 8, 1)), Elastic(200e3, 0.3)
    loads, _ = surface_traction(mesh, "low1", 100.0)
    node = mesh.nodes("high1")[[0, 40]]
    fixed = np.unique(
        [*hold(mesh, ("low2", "z"), ("high2", "z")), 3 * node[0], 3 * node[0] + 1, 3 * node[1] + 1]
    )
    solution = solve(mesh, material, loads, fixed=fixed)
    assert solution.ok
    nodes = mesh.nodes("low1")
    away = mesh.points[nodes, :2] / 100.0
    # the mean over the circle sees no shift
    moved = (solution.displacement[0][nodes, :2] * away).sum(axis=1).mean()
    assert moved == pytest.approx(case("A08").expected, rel=1e-3)


def test_error_estimate_against_the_exact_energy(cylinder):
    """Exact energy: half the pressure times the volume it sweeps, by the closed form of u_r(a)."""
    mesh, material, solution, stress = cylinder
    exact = 0.5 * 100.0 * case("A07").expected * 2.0 * np.pi * 100.0 * 50.0
    true = np.sqrt(1.0 - solution.figures.energy[0] / exact)
    by_element, relative = energy_error(mesh, material, solution.displacement, stress[None])
    # an estimate: a factor of two is what such estimators claim on coarse meshes
    assert 0.7 < relative[0] / true < 2.0
    assert np.sqrt((by_element**2).sum()) / np.sqrt(2.0 * exact) == pytest.approx(relative[0], rel=0.01)


def kirsch(places, a=100.0, pull=100.0):
    """Stress about a hole in an infinite plate pulled along x (Timoshenko and Goodier 1970 art. 35)."""
    x, y, _ = np.moveaxis(places, -1, 0)
    q, t = a**2 / (x**2 + y**2), np.arctan2(y, x)
    radial = pull / 2 * ((1 - q) + (1 - 4 * q + 3 * q**2) * np.cos(2 * t))
    hoop = pull / 2 * ((1 + q) - (1 + 3 * q**2) * np.cos(2 * t))
    shear = -pull / 2 * (1 + 2 * q - 3 * q**2) * np.sin(2 * t)
    c, s, nil = np.cos(t), np.sin(t), np.zeros_like(x)
    return np.stack(
        [
            radial * c * c + hoop * s * s - 2 * shear * c * s,
            radial * s * s + hoop * c * c + 2 * shear * c * s,
            nil,
            (radial - hoop) * c * s + shear * (c * c - s * s),
            nil,
            nil,
        ],
        axis=-1,
    )


def test_kirsch_plate():
    """The exact field's own tractions on an annulus of 4 radii: plane stress, so nu = 0 keeps 3D the same as 2D."""
    mesh, material = ring(100.0, 400.0, 30.0, (32, 12, 1)), Elastic(200e3, 0.0)
    solution = solve(mesh, material, loads_of_stress(mesh, kirsch))
    stress = stresses(mesh, material, solution.displacement, surfaces=["low1", "low2", "high2"])[0]
    middle = np.abs(mesh.points[:, 2]) < 1e-9
    for row, place, component in (
        ("A24", (0, 100), 0),
        ("A26", (0, 200), 0),
        ("A27", (0, 300), 0),
        ("A28", (100, 0), 1),
    ):
        node = np.flatnonzero(middle & (np.linalg.norm(mesh.points[:, :2] - place, axis=1) < 1.0))
        assert len(node) == 1
        # 1.5 %: the bore's own value at 8 elements a quarter is within 0.6 % (measured elsewhere), inside values coarser
        assert stress[node[0], component] / 100.0 == pytest.approx(case(row).expected, rel=0.015), row


def strip(ratio, cells):
    """A strip of half width 1 and half length 3 with a central hole of diameter 2 ratio, one cell thick."""

    def shape(u):
        angle = 2 * np.pi * u[:, 0]
        c, s = np.cos(angle), np.sin(angle)
        # a cell's edge falls on each corner of the outline, which lies at 45 degrees of this angle
        outer = np.column_stack([3 * c, s]) / np.maximum(np.abs(c), np.abs(s))[:, None]
        hole = ratio * np.column_stack([c, s])
        share = (u[:, [1]] ** 2 + 0.15 * u[:, [1]]) / 1.15
        return np.column_stack([hole + (outer - hole) * share, 0.1 * (u[:, 2] - 0.5)])

    return block(cells, shape, wrap=True)


@pytest.mark.parametrize(("row", "ratio"), [("A31", 0.2), ("A33", 0.4)])
def test_howland_strip_with_a_hole(row, ratio):
    """Gross stress concentration (from memory, Howland 1930); nu = 0 keeps the 3D strip plane."""
    mesh, material = strip(ratio, (48, 20, 1)), Elastic(200e3, 0.0)
    ends = np.abs(np.abs(mesh.points[mesh.surfaces["high1"]][:, :, 0]) - 3.0).max(axis=1) < 1e-9
    mesh = Mesh(mesh.points, mesh.tets, {**mesh.surfaces, "ends": mesh.surfaces["high1"][ends]})
    loads, _ = surface_traction(mesh, "ends", -1.0)
    solution = solve(mesh, material, loads)
    stress = stresses(mesh, material, solution.displacement, surfaces=["low1", "low2", "high2"])[0]
    bore = mesh.nodes("low1")
    assert stress[bore, 0].max() == pytest.approx(case(row).expected, rel=0.01)


def test_cantilever():
    """L = 1000, b = 100, h = 200 mm, 100 kN at the tip: parabolic shear at both ends, the root plane and free to contract."""
    mesh, material = box((1000.0, 200.0, 100.0), (20, 4, 2)), Elastic(210e3, 0.3)
    loads = end_shear(mesh, "high0", 100e3) - end_shear(mesh, "low0", 100e3)
    root = mesh.nodes("low0")
    middle = root[np.argmin(np.linalg.norm(mesh.points[root] - [0.0, 100.0, 50.0], axis=1))]
    side = root[np.argmin(np.linalg.norm(mesh.points[root] - [0.0, 200.0, 50.0], axis=1))]
    fixed = np.unique([*hold(mesh, ("low0", "x")), 3 * middle + 1, 3 * middle + 2, 3 * side + 2])
    solution = solve(mesh, material, loads, fixed=fixed)
    deflection = solution.displacement[0][mesh.nodes("high0"), 1].mean()
    assert deflection == pytest.approx(case("A42").expected, rel=0.01)
    assert deflection == pytest.approx(case("A43").expected, rel=0.01)
    assert deflection > 1.015 * case("A41").expected  # the shear part, 3 %, is there


def end_shear(mesh, surface, force):
    """Loads (3n,) of a parabolic shear along y on an end face: a pressure's loads turned from x to y."""
    height = mesh.points[mesh.surfaces[surface]][:, :, 1]
    shear = 1.5 * force / (100.0 * 200.0) * (1.0 - (height / 100.0 - 1.0) ** 2)
    pressure, _ = surface_traction(mesh, surface, shear)
    turned = np.zeros((len(mesh.points), 3))
    # a pressure acts against the outward normal, which is -x or x
    turned[:, 1] = pressure.reshape(-1, 3)[:, 0] * (1.0 if surface.startswith("low") else -1.0)
    assert turned.sum() == pytest.approx(force, rel=1e-9)
    return turned.ravel()


@pytest.mark.parametrize(("surface", "row"), [("low1", "A69"), ("high1", "A70")])
def test_rotating_disc(surface, row):
    """a = 50, b = 250 mm, 7850 kg/m3, 300 rad/s, nu = 0.3, plane stress."""
    mesh, material = ring(50.0, 250.0, 10.0, (24, 10, 1)), Elastic(200e3, 0.3)
    # t/mm3 rad2/s2 mm = N/mm3
    loads = loads_of_body_force(mesh, lambda places: 7850e-12 * 300.0**2 * places * [1.0, 1.0, 0.0])
    solution = solve(mesh, material, loads)
    nodes = mesh.nodes(surface)
    stress = stresses(mesh, material, solution.displacement)[0]
    _, hoop = polar(stress[nodes], mesh.points[nodes])
    assert hoop == pytest.approx(case(row).expected, rel=0.01)
