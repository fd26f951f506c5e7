"""Mesh files: the one module that knows meshio, and the one place where node orders are turned."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import meshio
import numpy as np
from numpy.typing import NDArray

from params.steps import sealed
from params.steps.problems import Unfit, one_line
from params.steps.results import ResultFile

# meshio gives tetrahedra of an MSH file in VTK order already: mid-edge node 4 + k lies on the edge of these corners.
TET_EDGES = ((0, 1), (1, 2), (0, 2), (0, 3), (1, 3), (2, 3))
TRIANGLE_EDGES = ((0, 1), (1, 2), (2, 0))


@dataclass(frozen=True)
class MeshArrays:
    """points (n, 3) in mm; tets (m, 10) in VTK order; surfaces: name to faces (k, 6), normals outward."""

    points: NDArray[np.float64]
    tets: NDArray[np.int64]
    surfaces: dict[str, NDArray[np.int64]]


def read_mesh(path: Path) -> MeshArrays:
    """Read an MSH file with the physical groups of the arm.

    Raises
    ------
    Unfit
        that names the file, where it is cut off, or holds no second-order mesh with named surfaces.
    """
    with whole(path, "mesh"):
        return arranged(meshio.gmsh.read(path))


def arranged(mesh: meshio.Mesh) -> MeshArrays:
    """Nodes of the tetrahedra alone, and the triangles by the name of their group."""
    names = {int(tag): name for name, (tag, dimension) in mesh.field_data.items() if dimension == 2}
    tets = np.vstack([block.data for block in mesh.cells if block.type == "tetra10"]).astype(np.int64)
    parts: dict[str, list[NDArray[np.int64]]] = {name: [] for name in names.values()}
    for block, tags in zip(mesh.cells, mesh.cell_data["gmsh:physical"], strict=True):
        if block.type == "triangle6":
            for tag in np.unique(tags):
                parts[names[int(tag)]].append(block.data[tags == tag].astype(np.int64))
    used = np.unique(tets)
    number = np.full(len(mesh.points), -1, dtype=np.int64)
    number[used] = np.arange(len(used))
    points = np.ascontiguousarray(mesh.points[used], dtype=np.float64)
    tets = number[tets]
    surfaces = {name: outward(points, tets, number[np.vstack(blocks)]) for name, blocks in parts.items()}
    return MeshArrays(points, tets, surfaces)


def outward(
    points: NDArray[np.float64], tets: NDArray[np.int64], faces: NDArray[np.int64]
) -> NDArray[np.int64]:
    """Faces (k, 6) turned so that their normal points out of the tetrahedron they belong to."""
    sides = np.sort(tets[:, [[1, 2, 3], [0, 2, 3], [0, 1, 3], [0, 1, 2]]], axis=2).reshape(-1, 3)
    opposite = tets[:, [0, 1, 2, 3]].reshape(-1)
    order = np.lexsort(sides.T[::-1])
    keys = encode(sides[order], len(points))
    wanted = encode(np.sort(faces[:, :3], axis=1), len(points))
    inner = opposite[order][np.searchsorted(keys, wanted)]
    a, b, c = (points[faces[:, k]] for k in range(3))
    out = np.einsum("ij,ij->i", np.cross(b - a, c - a), points[inner] - a) < 0.0
    return np.where(out[:, None], faces, faces[:, [0, 2, 1, 5, 4, 3]])


def encode(triples: NDArray[np.int64], count: int) -> NDArray[np.int64]:
    """One sortable integer for each triple of node numbers below `count` (at most 2 million)."""
    return (triples[:, 0] * count + triples[:, 1]) * count + triples[:, 2]


def write_vtu(
    path: Path,
    mesh: MeshArrays,
    point_data: dict[str, NDArray[np.float64]],
    cell_data: dict[str, NDArray[np.float64]],
) -> None:
    """Write nodal and element fields; single precision keeps the file small."""
    small: dict[str, Any] = {name: np.asarray(field, dtype=np.float32) for name, field in point_data.items()}
    cells: dict[str, Any] = {name: [np.asarray(field, dtype=np.float32)] for name, field in cell_data.items()}
    with sealed.whole(path) as new:
        meshio.Mesh(mesh.points, [("tetra10", mesh.tets)], small, cells).write(new)


def read_vtu(path: Path, names: list[str]) -> tuple[NDArray[np.float64], list[NDArray[np.float64]]]:
    """Points (n, 3) and the nodal fields of these names.

    Raises
    ------
    Unfit
        that names the file, where it is cut off or does not hold a name.
    """
    sealed.check(path)
    with whole(path, "table of fields"):
        grid = meshio.vtu.read(path)
        fields = ResultFile(grid.point_data, path)
        return np.asarray(grid.points, np.float64), [np.asarray(fields[name], np.float64) for name in names]


@contextmanager
def whole(path: Path, kind: str) -> Iterator[None]:
    """Whatever is raised below, by libraries that raise what they like, is told of this file; that it is missing, is not."""
    try:
        yield
    except (OSError, Unfit):
        raise
    except Exception as error:
        raise Unfit(f"{path}: is no whole {kind} ({one_line(str(error)) or 'unreadable'})") from error
