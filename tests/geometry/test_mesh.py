"""The mesh: sound at every quadrature point, true to the solid, the same from run to run, refused where it is not sound."""

import json

import numpy as np
import pytest

from geometry import mesher
from geometry.datums import BORES, bore, centre
from geometry.mesher import MeshRefused, mesh_arm
from geometry.meshfile import TET_EDGES, TRIANGLE_EDGES, read_mesh, write_vtu
from geometry.quality import EDGES, INNER, POINTS, RULE, WEIGHTS, jacobians, quality
from geometry.solid import main as make_solid
from tests.arms import demo

ARM = "params/arms/bench-lever.yaml"


@pytest.fixture(scope="module")
def folder(tmp_path_factory):
    made = tmp_path_factory.mktemp("bench")
    make_solid(ARM, made)
    return made


@pytest.fixture(scope="module")
def meshed(folder):
    report = mesh_arm(
        folder / "arm.brep", folder / "faces.json", demo("bench-lever").mesh, folder / "arm.msh"
    )
    return report, read_mesh(folder / "arm.msh")


def test_volume_of_the_mesh_is_that_of_the_solid(folder, meshed):
    wanted = json.loads((folder / "faces.json").read_text())["volume_mm3"]
    assert meshed[0].volume == pytest.approx(wanted, rel=1e-3)  # asked for; curved edges miss it by far less


def test_no_element_is_inverted_or_flat(meshed):
    report, mesh = meshed
    turned = mesh.tets[:, [0, 1, 2, 3, 4, 5, 6, 7, 9, 8]]  # back to the mesher's order
    assert jacobians(mesh.points, turned, POINTS).min() > 0.0
    assert report.worst_quality > mesher.LEAST_QUALITY


def test_mid_edge_nodes_lie_between_their_corners(meshed):
    mesh = meshed[1]
    for k, (i, j) in enumerate(TET_EDGES):
        a, b, middle = (mesh.points[mesh.tets[:, n]] for n in (i, j, 4 + k))
        off = np.linalg.norm(middle - (a + b) / 2.0, axis=1) / np.linalg.norm(a - b, axis=1)
        assert off.max() < 0.25  # a swapped node would be half an edge away or more
    for faces in mesh.surfaces.values():
        for k, (i, j) in enumerate(TRIANGLE_EDGES):
            a, b, middle = (mesh.points[faces[:, n]] for n in (i, j, 3 + k))
            off = np.linalg.norm(middle - (a + b) / 2.0, axis=1) / np.linalg.norm(a - b, axis=1)
            assert off.max() < 0.25


def test_bores_have_the_area_of_their_cylinders_and_normals_point_out(meshed):
    mesh, arm = meshed[1], demo("bench-lever")
    for name in BORES:
        size = bore(arm, name)
        faces = mesh.surfaces[f"{name}_bore"]
        a, b, c = (mesh.points[faces[:, k]] for k in range(3))
        normal = np.cross(b - a, c - a)
        whole = np.pi * size.bore * (size.width - 2.0 * size.chamfer)
        # Straight chords of 4 elements per quarter: sin(x)/x with x = pi/16 is 0.6 % low.
        assert np.linalg.norm(normal, axis=1).sum() / 2.0 == pytest.approx(whole, rel=0.01)
        axis = centre(arm, name)
        outward = (a + b + c)[:, :2] / 3.0 - axis
        assert np.all(
            np.einsum("ij,ij->i", normal[:, :2], outward) < 0.0
        )  # out of the metal is toward the axis
        radius = np.hypot(*(mesh.points[np.unique(faces)][:, :2] - axis).T)
        assert np.allclose(radius, size.bore / 2.0, atol=1e-3 * size.bore)


def test_every_outer_face_belongs_to_one_group(meshed):
    mesh = meshed[1]
    sides = np.sort(mesh.tets[:, [[1, 2, 3], [0, 2, 3], [0, 1, 3], [0, 1, 2]]], axis=2).reshape(-1, 3)
    _, count = np.unique(sides, axis=0, return_counts=True)
    assert sum(len(faces) for faces in mesh.surfaces.values()) == np.sum(count == 1)


def test_the_same_input_gives_the_same_bytes(folder, meshed, tmp_path):
    mesh_arm(folder / "arm.brep", folder / "faces.json", demo("bench-lever").mesh, tmp_path / "again.msh")
    assert (tmp_path / "again.msh").read_bytes() == (folder / "arm.msh").read_bytes()


def test_a_mesh_that_fails_the_gate_twice_is_refused_with_its_place(folder, tmp_path, monkeypatch):
    monkeypatch.setattr(mesher, "LEAST_QUALITY", 2.0)  # no element can pass
    with pytest.raises(
        MeshRefused, match=r"after 2 attempts: worst quality .* near \(-?\d+, -?\d+, -?\d+\) mm"
    ):
        mesh_arm(
            folder / "arm.brep",
            folder / "faces.json",
            demo("bench-lever").mesh,
            tmp_path / "arm.msh",
            per_quarter=3,
        )
    assert not (tmp_path / "arm.msh").exists()


def straight(corners):
    corners = np.asarray(corners, dtype=float)
    return np.vstack([corners, [(corners[i] + corners[j]) / 2.0 for i, j in EDGES]])


def test_quality_of_known_elements():
    unit = straight([[0, 0, 0], [1, 0, 0], [0, 1, 0], [0, 0, 1]])
    told = quality(unit, np.arange(10)[None])
    assert told.volume == pytest.approx(1.0 / 6.0, rel=1e-14) and told.worst == pytest.approx(1.0, rel=1e-14)
    folded = unit.copy()
    folded[4] = [-0.2, 0.0, 0.0]  # mid-edge node pulled beyond its corner: the Jacobian there is negative
    assert quality(folded, np.arange(10)[None]).worst < 0.0
    swapped = unit.copy()
    swapped[[8, 9]] = swapped[[9, 8]]  # the swap of two node orders
    assert quality(swapped, np.arange(10)[None]).worst < 0.5


def test_rule_is_exact_for_cubics():
    # Integral of L1^a L2^b over the unit tetrahedron is a! b! / (a + b + 3)! (Zienkiewicz and Taylor, The Finite Element Method).
    assert WEIGHTS @ RULE[:, 0] ** 3 == pytest.approx(6.0 / 720.0, rel=1e-12)
    assert WEIGHTS @ (RULE[:, 0] ** 2 * RULE[:, 1]) == pytest.approx(2.0 / 720.0, rel=1e-12)
    assert np.allclose(INNER.sum(axis=1), 1.0)


def test_fields_are_written_and_read_back(meshed, tmp_path):
    import meshio

    mesh = meshed[1]
    field = mesh.points[:, 0] * 2.0
    write_vtu(tmp_path / "a.vtu", mesh, {"x2": field}, {"one": np.ones(len(mesh.tets))})
    again = meshio.read(tmp_path / "a.vtu")
    assert np.allclose(again.point_data["x2"], field, rtol=1e-6, atol=1e-6)  # single precision
    assert np.array_equal(again.cells[0].data, mesh.tets)
