"""Plane cuts: areas of figures, and what passes through them under stress fields known in closed form."""

import numpy as np
import pytest

from analysis.elastic.cut import inner_forces, integration, passed_by_nodes, passed_by_stress, plane_slice
from analysis.elastic.material import Elastic
from tests.elastic.meshes import block

SIZE = np.array([200.0, 60.0, 40.0])
STEEL = Elastic(205e3, 0.3)
NOTHING = np.zeros((1, 3))


def bent(points):
    """The block, its far half curved like a flange's blend: mid-edge nodes off their edges."""
    places = points * SIZE
    places[:, 1] += 8.0 * points[:, 0] ** 2
    return places


@pytest.mark.parametrize("at", [0.0, 10.0, 66.6666, 100.0, 187.3])
def test_a_slice_has_the_area_of_the_section(at):
    mesh = block((4, 2, 2), lambda unit: unit * SIZE)
    cut = plane_slice(mesh, mesh.points[:, 0] - at if at else 1e-9 - mesh.points[:, 0])
    points = integration(cut)
    # Width times depth, whether the plane passes through nodes or not.
    assert points.area.sum() == pytest.approx(60.0 * 40.0, rel=1e-12)
    middle = points.area @ points.place / points.area.sum()
    assert middle == pytest.approx([at, 30.0, 20.0], abs=1e-6)


def test_a_slant_slice_of_a_cube_is_a_regular_hexagon():
    mesh = block((2, 2, 2))
    points = integration(plane_slice(mesh, mesh.points.sum(axis=1) - 1.5))
    # Through the middle of a unit cube square to its diagonal: side sqrt(1/2), area 3 sqrt(3)/2 side^2 (Euclid).
    assert points.area.sum() == pytest.approx(3.0 * np.sqrt(3.0) / 4.0, rel=1e-12)


def test_a_part_of_a_slice_and_the_rest_make_the_whole():
    mesh = block((3, 2, 2), lambda unit: unit * SIZE)
    cut = plane_slice(mesh, mesh.points[:, 0] - 90.0)
    height = cut.place[..., 1] - 47.0
    above, below = (integration(cut.within(side * height)).area.sum() for side in (1.0, -1.0))
    assert above == pytest.approx(13.0 * 40.0, rel=1e-12) and below == pytest.approx(47.0 * 40.0, rel=1e-12)


def test_a_nodal_field_is_read_at_the_points():
    mesh = block((3, 2, 2), bent)
    points = integration(plane_slice(mesh, mesh.points[:, 0] - 77.0))
    read = points.of(mesh, mesh.points[:, 1])
    assert read == pytest.approx(points.place[:, 1], abs=0.15)  # eight flat parts stand for a curved element


def test_pure_bending_passes_its_moment():
    mesh = block((3, 2, 2), lambda unit: unit * SIZE)
    stress = np.zeros((len(mesh.points), 1, 6))
    stress[:, 0, 0] = -2.0 * (mesh.points[:, 1] - 30.0) + 5.0
    points = integration(plane_slice(mesh, mesh.points[:, 0] - 77.0))
    passed = passed_by_stress(
        points, points.of(mesh, stress), np.array([1.0, 0.0, 0.0]), np.array([77.0, 30.0, 20.0])
    )[0]
    # N = 5 b h; M about z = -integral of sigma y = 2 b h^3/12.
    assert passed[:3] == pytest.approx([5.0 * 2400.0, 0.0, 0.0], abs=1e-6)
    assert passed[3:] == pytest.approx([0.0, 0.0, 2.0 * 40.0 * 60.0**3 / 12.0], abs=1e-6)


def test_what_passes_balances_the_loads_beyond_whatever_the_mesh_and_the_deformation():
    mesh = block((4, 2, 3), bent)
    x, y, z = mesh.points.T / 100.0
    moved = 0.01 * np.stack([x * y - z**2, x**2 + y * z, z * x - y], axis=1)[None]
    beyond = mesh.points[mesh.tets[:, :4]].mean(axis=1)[:, 0] > 90.0
    about = np.array([10.0, 20.0, 30.0])
    passed = passed_by_nodes(mesh, STEEL, moved, beyond, NOTHING, about)[0]
    # Forces that hold the part beyond at all its nodes add up to nothing (rigid motions do no work); at nodes of its own they are
    # its loads, so those and what it hands on through the shared nodes are equal.
    force = inner_forces(mesh, STEEL, moved, np.flatnonzero(beyond))[0]
    own = ~np.isin(mesh.tets[beyond], mesh.tets[~beyond])
    loads, places = force[own], mesh.points[mesh.tets[beyond][own]] - about
    balance = [*loads.sum(axis=0), *np.cross(places, loads).sum(axis=0)]
    assert np.abs(force).max() > 1e3 and passed == pytest.approx(balance, abs=1e-9 * np.abs(balance).max())


def test_nodal_forces_of_uniaxial_tension_are_its_force():
    mesh = block((4, 2, 3), lambda unit: unit * SIZE)
    moved = (mesh.points * np.array([1e-3, -3e-4, -3e-4]))[None]  # strain of 205 MPa along x alone
    beyond = mesh.points[mesh.tets[:, :4]].mean(axis=1)[:, 0] > 90.0
    passed = passed_by_nodes(mesh, STEEL, moved, beyond, NOTHING, np.array([50.0, 0.0, 0.0]))[0]
    force = 205.0 * 2400.0
    assert passed == pytest.approx([force, 0.0, 0.0, 0.0, 20.0 * force, -30.0 * force], abs=1e-6 * force)


def test_weight_at_the_shared_nodes_belongs_to_each_side():
    mesh = block((2, 1, 1), lambda unit: unit * SIZE)
    at_rest = np.zeros((1, len(mesh.points), 3))
    beyond = mesh.points[mesh.tets[:, :4]].mean(axis=1)[:, 0] > 100.0
    passed = passed_by_nodes(mesh, STEEL, at_rest, beyond, np.array([[0.0, -1e-3, 0.0]]), np.zeros(3))[0]
    # No stress: what is handed on is the weight that the consistent load puts on the shared nodes, less than half of 100 mm of bar.
    assert -1e-3 * 2400.0 * 100.0 < passed[1] < 0.0 and passed[0] == passed[2] == 0.0
