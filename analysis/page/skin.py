"""The outside of an arm's mesh with its fields, small enough for a page.

Fields: equivalent stress, utilisation (equivalent stress over what the peak check allows, yield strength over the peak
factor), estimated stress error, and years to crack initiation where they have been computed.
"""

from __future__ import annotations

from pathlib import Path
from typing import Any

import numpy as np
import pyvista as pv
from numpy.typing import NDArray
from scipy.spatial import cKDTree

from analysis.page.packed import counted, packed
from analysis.pictures.view import read_grid
from params.schema.arm import Arm
from params.schema.material import Material
from params.schema.units import outside, shown_unit
from params.steps.arrays import Floats

CORNER = 18  # bytes of a corner and its two triangles in 16 bits
CASE = 3  # bytes of a corner's fields in one load case: two of the stress, one of the error
NODE = "node"
EQUIVALENT, ERROR = "equivalent_stress:", "error:"
YEARS = "years:"
SHORTEST, LONGEST = 0.1, 10_000.0  # years: beyond them one colour


def skin(folder: Path, arm: Arm, material: Material, most: int) -> dict[str, Any]:
    """Corners (mm), triangles and fields of `stress.vtu` in an arm's folder, packed into about `most` bytes before base64."""
    grid = read_grid(folder / "stress.vtu")
    grid.point_data[NODE] = np.arange(grid.n_points)
    cases = [name.removeprefix(EQUIVALENT) for name in grid.point_data if name.startswith(EQUIVALENT)]
    faces = thinned(grid, most // (CORNER + CASE * len(cases)))
    kept = np.asarray(faces.point_data[NODE])
    fields = [*stresses(grid, kept, cases, arm, material), *errors(grid, kept, cases, arm, material)]
    fields += life(folder / "bores" / "life.vtu", np.asarray(faces.points, dtype=float))
    return {
        "points": [packed(column) for column in np.asarray(faces.points, dtype=float).T],
        "faces": counted(faces.regular_faces),
        "whole": len(kept) == outside_nodes(grid),
        "fields": fields,
    }


def outside_nodes(grid: pv.UnstructuredGrid) -> int:
    return surface(grid, 1).n_points


def surface(grid: pv.UnstructuredGrid, level: int) -> pv.PolyData:
    """The outside; at level 1 mid-edge nodes are corners too. Every corner carries its data, the number of its node among them."""
    whole: Any = grid  # the library's types name every kind of data set here
    return whole.extract_surface(nonlinear_subdivision=level, algorithm="dataset_surface")


def thinned(grid: pv.UnstructuredGrid, most: int) -> pv.PolyData:
    """The finest outside of at most about `most` corners; every corner is a node of the mesh."""
    for level in (1, 0):
        faces = surface(grid, level)
        if faces.n_points <= most:
            return faces
    bare: Any = pv.PolyData(faces.points, faces=faces.faces)
    bare.point_data[NODE] = faces.point_data[NODE]
    return bare.decimate_pro(1.0 - most / faces.n_points, feature_angle=20.0, preserve_topology=True)


def stresses(
    grid: pv.UnstructuredGrid, kept: NDArray[np.int64], cases: list[str], arm: Arm, material: Material
) -> list[dict[str, Any]]:
    """Equivalent stress of every load case with its peak, and the same as utilisation."""
    unit, allowed = shown_unit("stress", arm.units), material.yield_strength / arm.criteria.peak_factor
    fields: list[dict[str, Any]] = []
    for case in cases:
        value = np.asarray(grid.point_data[EQUIVALENT + case], dtype=float)
        peak = int(np.argmax(value))
        for name, shown, scale in (
            ("equivalent stress", outside(value, unit, "stress"), unit),
            ("utilisation", value / allowed, "share of what the peak check allows"),
        ):
            coded = packed(shown[kept])
            if name == "utilisation":
                del coded["data"]  # the same numbers as the stress before it, on another scale
            fields.append(
                {
                    "name": name,
                    "case": case,
                    "unit": scale,
                    "peak": float(shown[peak]),
                    "at": grid.points[peak],
                }
                | coded
            )
    return fields


def errors(
    grid: pv.UnstructuredGrid, kept: NDArray[np.int64], cases: list[str], arm: Arm, material: Material
) -> list[dict[str, Any]]:
    """Estimated error of the stress at each node, mean of the elements about it."""
    unit, fields = shown_unit("stress", arm.units), []
    sized: Any = grid.compute_cell_sizes(length=False, area=False)
    volume = np.abs(sized["Volume"])
    for case in cases:
        value = outside(
            as_stress(grid.cell_data[ERROR + case], volume, material.elastic_modulus), unit, "stress"
        )
        bare = pv.UnstructuredGrid(grid.cells, grid.celltypes, grid.points)
        bare.cell_data["shown"] = value
        nodal = np.asarray(bare.cell_data_to_point_data().point_data["shown"], dtype=float)
        peak = int(np.argmax(nodal))
        fields.append(
            {
                "name": "stress error",
                "case": case,
                "unit": unit,
                "peak": float(nodal[peak]),
                "at": grid.points[peak],
            }
            | packed(nodal[kept], 8)
        )
    return fields


def as_stress(error: Floats, volume: Floats, modulus: float) -> Floats:
    """The uniaxial stress, MPa, that has an element's error in the energy norm, sqrt(N mm): e^2 = s^2 V / E."""
    return np.asarray(error, dtype=float) * np.sqrt(modulus / volume)


def life(path: Path, points: Floats) -> list[dict[str, Any]]:
    """Years to a crack at points (n, 3) as their decimal logarithm, one field a variant; nothing where there is no such file.

    Lives may stand on the mesh of the pins' contact: a point takes the years of the nearest node that has any, so only nodes of
    the surface count.
    """
    if not path.exists():
        return []
    grid, fields = read_grid(path), []
    for name in (name for name in grid.point_data if name.startswith(YEARS)):
        known = np.flatnonzero(~np.isnan(np.asarray(grid.point_data[name])))  # nan within the body
        years = np.clip(np.asarray(grid.point_data[name], dtype=float)[known], SHORTEST, LONGEST)
        near = cKDTree(grid.points[known]).query(points)[1]
        least = int(np.argmin(years))
        head = {
            "name": f"years to a crack, {name.removeprefix(YEARS)}",
            "case": None,
            "unit": "years",
            "logarithm": True,
        }
        at = grid.points[known[least]]
        fields.append(head | {"peak": float(years[least]), "at": at} | packed(np.log10(years)[near], 8))
    return fields
