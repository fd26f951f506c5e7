"""Files of solid and mesh that are cut off or of another kind: told in one line with their name."""

from __future__ import annotations

from pathlib import Path

import cadquery as cq
import gmsh
import numpy as np
import pytest

from geometry.mesher import whole_solid
from geometry.mesher_step import session
from geometry.meshfile import MeshArrays, read_mesh, read_vtu, write_vtu
from params.steps.problems import Unfit
from params.steps.sealed import seal

POINTS = np.array([[0, 0, 0], [1, 0, 0], [0, 1, 0], [0, 0, 1]], dtype=float)
EDGES = ((0, 1), (1, 2), (0, 2), (0, 3), (1, 3), (2, 3))


def tetrahedron() -> MeshArrays:
    """One second-order element, mid-edge nodes halfway."""
    middles = [(POINTS[a] + POINTS[b]) / 2.0 for a, b in EDGES]
    return MeshArrays(np.vstack([POINTS, middles]), np.arange(10)[None], {})


@pytest.fixture
def brep(tmp_path: Path) -> Path:
    path = tmp_path / "arm.brep"
    cq.Workplane().box(1, 1, 1).val().exportBrep(str(path))
    return path


@pytest.fixture
def msh(tmp_path: Path) -> Path:
    path = tmp_path / "arm.msh"
    with session():
        gmsh.model.occ.addBox(0, 0, 0, 1, 1, 1)
        gmsh.model.occ.synchronize()
        gmsh.model.addPhysicalGroup(3, [1], name="arm")
        gmsh.model.addPhysicalGroup(2, [1, 2, 3, 4, 5, 6], name="outside")
        gmsh.model.mesh.generate(3)
        gmsh.model.mesh.setOrder(2)
        gmsh.write(str(path))
    return path


def cut(path: Path, share: float) -> None:
    raw = path.read_bytes()
    path.write_bytes(raw[: int(share * len(raw))])


def test_a_whole_solid_is_taken(brep: Path) -> None:
    """And read by the mesher's kernel it is the cube of side 1."""
    assert whole_solid(brep) is None
    with session():
        (cube,) = gmsh.model.occ.importShapes(str(brep))
        assert gmsh.model.occ.getMass(*cube) == pytest.approx(1.0, rel=1e-9)


@pytest.mark.parametrize("share", [0.0, 0.01, 0.5, 0.99])
def test_half_a_solid_is_named(brep: Path, share: float) -> None:
    """The kernel reads half of a file without end, so it never comes to see one."""
    cut(brep, share)
    with pytest.raises(Unfit, match="is no whole solid") as error:
        whole_solid(brep)
    assert str(error.value).startswith(str(brep))


def test_a_whole_mesh_is_read(msh: Path) -> None:
    mesh = read_mesh(msh)
    assert set(mesh.surfaces) == {"outside"}
    assert mesh.tets.shape[1] == 10


@pytest.mark.parametrize("share", [0.0, 0.05, 0.3, 0.5, 0.8, 0.95])
def test_half_a_mesh_is_named(msh: Path, share: float, capsys: pytest.CaptureFixture[str]) -> None:
    cut(msh, share)
    with pytest.raises(Unfit, match="is no whole mesh") as error:
        read_mesh(msh)
    assert str(error.value).startswith(str(msh))
    assert capsys.readouterr().out == ""  # the reader's own complaints would stand beside the one line


def test_a_mesh_that_is_not_there_is_no_broken_mesh(tmp_path: Path) -> None:
    with pytest.raises(FileNotFoundError):
        read_mesh(tmp_path / "arm.msh")


@pytest.mark.parametrize("share", [0.0, 0.2, 0.5, 0.95])
def test_half_a_table_of_fields_is_named(tmp_path: Path, share: float) -> None:
    path, mesh = tmp_path / "stress.vtu", tetrahedron()
    write_vtu(path, mesh, {"stress:raise": np.ones((10, 6))}, {})
    points, (stress,) = read_vtu(path, ["stress:raise"])
    assert points.shape == (10, 3)
    assert stress.shape == (10, 6)
    with pytest.raises(Unfit, match=r"stress\.vtu: has no stress:lower"):
        read_vtu(path, ["stress:lower"])
    cut(path, share)
    with pytest.raises(Unfit, match="is not as its step wrote it"):
        read_vtu(path, ["stress:raise"])
    seal(path).unlink()  # what has none is told by the reader
    with pytest.raises(Unfit, match="is no whole table of fields") as error:
        read_vtu(path, ["stress:raise"])
    assert str(error.value).startswith(str(path))
