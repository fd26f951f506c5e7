"""The mesh: sound at every quadrature point, true to the solid, the same from run to run, refused where it is not sound."""

import json
from pathlib import Path

import numpy as np
import pytest

from analysis.elastic.element import gradients, shapes
from analysis.elastic.mesh import Mesh
from analysis.elastic.quadrature import triangle
from analysis.elastic.sample import Sampler
from geometry import ladder, mesher
from geometry.curving import relaxed
from geometry.datums import BORES, bore, centre
from geometry.faces import named_faces, table
from geometry.mesher import MeshRefused, mesh_arm
from geometry.meshfile import TET_EDGES, TRIANGLE_EDGES, read_mesh, write_vtu
from geometry.quality import EDGES, INNER, POINTS, RULE, WEIGHTS, jacobians, quality
from geometry.solid import main as make_solid
from geometry.solid import solid
from tests.arms import demo
from tests.geometry.test_solid import bench

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
        off_cylinder(mesh, name, size, axis)


def off_cylinder(mesh, name, size, axis):
    """Nodes of a bore off its cylinder: none, but for mid-edge nodes of a rim with a chamfer, which may yield to its chord."""
    nodes = np.unique(mesh.surfaces[f"{name}_bore"])
    radius = np.hypot(*(mesh.points[nodes, :2] - axis).T)
    off = ~np.isclose(radius, size.bore / 2.0, rtol=0.0, atol=2e-6)  # nodes are rounded to 1e-6 mm
    rim = np.isclose(np.abs(mesh.points[nodes, 2]), size.width / 2.0 - size.chamfer, rtol=0.0, atol=2e-6)
    corner = np.isin(nodes, mesh.tets[:, :4])
    assert not np.any(off & ~rim) and not np.any(off & corner)
    assert not np.any(off) or size.chamfer
    # By the sagitta at most, 1 - cos of half the chord's angle, for a chord of 40 degrees.
    assert np.all(radius > size.bore / 2.0 * np.cos(np.radians(20.0)) - 2e-6)
    return off


def test_rims_without_a_chamfer_keep_to_the_cylinder(tmp_path, monkeypatch):
    """As few elements to a quarter bore as the program takes, where rims yield most; files named from another folder."""
    monkeypatch.chdir(tmp_path)
    arm = bench(
        "solid", geometry__pivot__chamfer=0.0, geometry__input__chamfer=0.0, geometry__output__chamfer=0.0
    )
    body = solid(arm)
    body.exportBrep(str(tmp_path / "arm.brep"))
    (tmp_path / "faces.json").write_text(json.dumps(table(body, named_faces(body, arm), arm)))
    mesh_arm(Path("arm.brep"), Path("faces.json"), arm.mesh, Path("a.msh"), per_quarter=3)
    mesh = read_mesh(tmp_path / "a.msh")
    for name in BORES:
        assert not np.any(off_cylinder(mesh, name, bore(arm, name), centre(arm, name)))


def test_every_outer_face_belongs_to_one_group(meshed):
    mesh = meshed[1]
    sides = np.sort(mesh.tets[:, [[1, 2, 3], [0, 2, 3], [0, 1, 3], [0, 1, 2]]], axis=2).reshape(-1, 3)
    _, count = np.unique(sides, axis=0, return_counts=True)
    assert sum(len(faces) for faces in mesh.surfaces.values()) == np.sum(count == 1)


def test_the_same_input_gives_the_same_bytes(folder, meshed, tmp_path):
    mesh_arm(folder / "arm.brep", folder / "faces.json", demo("bench-lever").mesh, tmp_path / "again.msh")
    assert (tmp_path / "again.msh").read_bytes() == (folder / "arm.msh").read_bytes()


@pytest.fixture(scope="module")
def plain(tmp_path_factory):
    """The bench lever as a plain bar, quick to mesh."""
    return made_as("solid", tmp_path_factory.mktemp("plain"))


def made_as(kind, folder):
    arm = bench(kind)
    body = solid(arm)
    body.exportBrep(str(folder / "arm.brep"))
    (folder / "faces.json").write_text(json.dumps(table(body, named_faces(body, arm), arm)))
    return folder


@pytest.mark.parametrize("kind", ["box", "solid"])
def test_volume_of_the_other_kinds(kind, tmp_path, plain):
    folder = plain if kind == "solid" else made_as(kind, tmp_path)
    report = mesh_arm(
        folder / "arm.brep", folder / "faces.json", demo("bench-lever").mesh, tmp_path / "a.msh", 5
    )
    told = json.loads((folder / "faces.json").read_text())
    assert report.volume == pytest.approx(told["volume_mm3"], rel=1e-3)
    if kind == "box":
        mesh = read_mesh(tmp_path / "a.msh")
        # Both integrate the same curved elements; without the cavities' walls it would be 10 % more.
        assert enclosed(mesh.points, mesh.surfaces) == pytest.approx(report.volume, rel=1e-9)


def enclosed(points, surfaces):
    """Volume within the curved faces by the divergence theorem: a face with a wrong normal would spoil it."""
    nodes = points[np.vstack(list(surfaces.values()))]
    local, weights = triangle(5)  # exact beyond the fourth degree of position times normal
    place = np.einsum("qn,fnx->fqx", shapes(local), nodes)
    along = np.einsum("qnd,fnx->fqdx", gradients(local), nodes)
    normal = np.cross(along[:, :, 0], along[:, :, 1])
    return np.einsum("q,fqx,fqx->", weights, place, normal) / 3.0


def test_more_elements_per_quarter_bore_make_a_finer_bore(plain, tmp_path):
    arm, found = bench("solid"), {}
    for count in (4, 8):
        mesh_arm(plain / "arm.brep", plain / "faces.json", arm.mesh, tmp_path / "a.msh", per_quarter=count)
        mesh = read_mesh(tmp_path / "a.msh")
        edges = np.linalg.norm(np.diff(mesh.points[mesh.surfaces["pivot_bore"][:, :2]], axis=1), axis=2)
        found[count] = np.median(edges)
        # Wanted edge: quarter circle over count; the mesher's triangles come within a third of the size field.
        assert found[count] == pytest.approx(np.pi / 4.0 * arm.geometry.pivot.bore / count, rel=0.35)
    assert found[8] < 0.65 * found[4]


def test_rounded_corners_of_the_pockets_are_refined_as_the_bores_are(tmp_path):
    """Stress outside the bores is largest there: on an arc of radius R lie elements of at most 2 pi R / (2 count), twice as many of
    them with twice the count."""
    arm = bench("i", geometry__section__fillet=4.0)
    body, radius = solid(arm), 1.2 * 4.0  # as datums.CORNER says of the fillet
    body.exportBrep(str(tmp_path / "arm.brep"))
    (tmp_path / "faces.json").write_text(json.dumps(table(body, named_faces(body, arm), arm)))
    arcs = [
        edge
        for edge in body.Edges()
        if edge.geomType() == "CIRCLE"
        and edge.radius() == pytest.approx(radius)
        and abs(edge.Center().z) == pytest.approx(arm.geometry.section.width / 2.0)
    ]
    assert len(arcs) == 16  # four corners of two pockets on both sides
    edges = {}
    for count in (4, 8):
        path = tmp_path / f"{count}.msh"
        mesh_arm(tmp_path / "arm.brep", tmp_path / "faces.json", arm.mesh, path, per_quarter=count)
        points = read_mesh(path).points
        on = [
            np.abs(np.linalg.norm(points - arc.arcCenter().toTuple(), axis=1) - radius) < 1e-3 for arc in arcs
        ]
        flat = np.abs(np.abs(points[:, 2]) - arm.geometry.section.width / 2.0) < 1e-3
        edges[count] = sum((np.count_nonzero(some & flat) - 1) // 2 for some in on)
        length = sum(arc.Length() for arc in arcs)
        assert length / edges[count] <= 1.25 * 2.0 * np.pi * radius / (
            2.0 * count
        )  # whole numbers of edges on an arc
    assert edges[8] >= 1.6 * edges[4]


def test_thin_plates_are_not_spanned_by_stretched_elements(tmp_path):
    arm = bench("i", geometry__section__web_thickness=2.0, geometry__section__fillet=0.0)
    body = solid(arm)
    body.exportBrep(str(tmp_path / "arm.brep"))
    (tmp_path / "faces.json").write_text(json.dumps(table(body, named_faces(body, arm), arm)))
    mesh_arm(tmp_path / "arm.brep", tmp_path / "faces.json", arm.mesh, tmp_path / "a.msh", per_quarter=3)
    mesh = read_mesh(tmp_path / "a.msh")
    inside = np.all(np.abs(mesh.points[mesh.tets[:, :4], 2]) < 1.0 + 1e-6, axis=1)  # elements of the web
    corners = mesh.points[mesh.tets[inside, :4]]
    edges = np.array([np.linalg.norm(corners[:, i] - corners[:, j], axis=1) for i, j in TET_EDGES])
    assert np.median(edges.max(axis=0)) < 3.0 * arm.geometry.section.web_thickness


def test_a_mesh_that_fails_the_gate_at_every_step_is_refused_with_its_place_and_mend(
    plain, tmp_path, monkeypatch, capsys
):
    monkeypatch.setattr(mesher, "LEAST_QUALITY", 2.0)  # no element can pass
    monkeypatch.setattr(ladder, "STEPS", ladder.STEPS[:2])
    with pytest.raises(
        MeshRefused, match=r"in 2 steps: worst quality .* near \(-?\d+, -?\d+, -?\d+\) mm; change geometry\."
    ) as refused:
        mesh_arm(plain / "arm.brep", plain / "faces.json", demo("bench-lever").mesh, tmp_path / "arm.msh", 3)
    assert len(refused.value.place) == 3 and not (tmp_path / "arm.msh").exists()
    told = capsys.readouterr().out
    assert (
        "step 1 of 2, sizes of the arm's file" in told and "step 2 of 2, finer where elements failed" in told
    )


def test_an_attempt_that_takes_too_long_is_ended_and_told(plain, tmp_path, monkeypatch):
    """The processor's time of the child ends, not this process; the kernel's signal for it is SIGXCPU (POSIX setrlimit)."""
    script = "import resource; resource.setrlimit(resource.RLIMIT_CPU, (1, 10))\nwhile True: pass"
    monkeypatch.setattr(ladder, "COMMAND", ("-c", script))
    monkeypatch.setattr(ladder, "STEPS", ladder.STEPS[:1])
    with pytest.raises(MeshRefused, match="did not end in the time"):
        mesh_arm(plain / "arm.brep", plain / "faces.json", demo("bench-lever").mesh, tmp_path / "arm.msh", 3)


def test_a_face_without_a_name_is_refused(plain, tmp_path):
    told = json.loads((plain / "faces.json").read_text())
    told["faces"]["outside"].pop()
    (tmp_path / "faces.json").write_text(json.dumps(told))
    with pytest.raises(MeshRefused, match="a face of the solid has no name"):
        mesh_arm(
            plain / "arm.brep", tmp_path / "faces.json", demo("bench-lever").mesh, tmp_path / "arm.msh", 3
        )


def straight(corners):
    corners = np.asarray(corners, dtype=float)
    return np.vstack([corners, [(corners[i] + corners[j]) / 2.0 for i, j in EDGES]])


def test_quality_of_known_elements():
    regular = straight([[1, 1, 1], [-1, 1, -1], [1, -1, -1], [-1, -1, 1]])
    told = quality(regular, np.arange(10)[None])
    # Regular tetrahedron of edge a: volume a^3 / (6 sqrt 2); here a^2 = 8.
    assert told.volume == pytest.approx(8.0 / 3.0, rel=1e-14) and told.worst == pytest.approx(1.0, rel=1e-14)
    sliver = straight([[0, 0, 0], [1, 0, 0], [1, 1, 0], [0, 1, 0.01]])
    assert quality(sliver, np.arange(10)[None]).worst < 0.02
    folded = regular.copy()
    folded[4] = [1.2, 2.0, 2.0]  # mid-edge node pulled beyond its corner
    assert quality(folded, np.arange(10)[None]).worst < 0.0
    swapped = regular.copy()
    swapped[[8, 9]] = swapped[[9, 8]]  # the swap of two node orders
    assert quality(swapped, np.arange(10)[None]).worst < 0.5


def test_a_folded_element_is_mended_and_a_sound_one_left_alone():
    unit = straight([[0, 0, 0], [1, 0, 0], [0, 1, 0], [0, 0, 1]])
    tets, nothing = np.arange(10)[None], np.array([], dtype=int)
    bowed = unit.copy()
    bowed[4] = [0.5, -0.05, 0.0]
    assert np.array_equal(relaxed(bowed, tets, nothing), bowed)
    folded = unit.copy()
    folded[4] = [0.5, 0.6, 0.3]  # the edge bows through the element
    mended = relaxed(folded, tets, nothing)
    assert quality(folded, tets).worst < 0.0 < quality(mended, tets).worst
    assert np.array_equal(np.delete(mended, 4, axis=0), np.delete(folded, 4, axis=0))


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


def test_every_point_of_the_graded_mesh_is_found(meshed):
    """Points made from local coordinates of known elements, most near edges: large elements lie behind many small ones."""
    mesh, random = Mesh.of(meshed[1]), np.random.default_rng(1)
    local = random.dirichlet([0.5] * 4, size=20_000)[:, 1:]
    nodes = mesh.points[mesh.tets[random.integers(len(mesh.tets), size=len(local))]]
    places = np.einsum("pk,pkx->px", shapes(local), nodes)
    # A field that is linear comes back as it is in whatever element holds the point.
    assert Sampler(mesh)(places, mesh.points) == pytest.approx(places, abs=1e-8)
