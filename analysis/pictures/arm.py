"""Solid, mesh, stresses and deformed shape of one arm, from the fields that the computing steps wrote."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import numpy as np
import pyvista as pv

from analysis.contracts.summary import Summary
from analysis.pictures.sheet import ARM_COLOUR, COLOURS, LINE
from analysis.pictures.view import sheet, shoot, surface
from params.schema.arm import Arm
from params.schema.units import outside, show, shown_unit


def solid(grid: pv.UnstructuredGrid, arm: Arm, summary: Summary, path: Path) -> None:
    """The finished part, with its sharp edges."""
    skin = surface(grid)
    parts = [
        (skin, {"color": ARM_COLOUR, "smooth_shading": True, "split_sharp_edges": True}),
        (edges(grid), ink(2)),
    ]
    mass = show(summary.mesh_mass_kg, "mass", arm.units)
    sheet(
        shoot(parts, []),
        path,
        f"{arm.name}, revision {arm.revision}: solid",
        f"Mass {mass}. {arm.description}",
    )


def mesh(grid: pv.UnstructuredGrid, arm: Arm, summary: Summary, path: Path) -> None:
    """Element edges of the mesh the stresses belong to."""
    straight = surface(grid, smooth=False)
    size = summary.mesh
    caption = (
        f"{size.elements:,} second-order tetrahedra, {size.unknowns:,} unknowns, "
        f"{size.per_quarter_bore} elements per quarter bore; worst quality {size.worst_quality:.2f}"
    )
    parts = [(straight, {"color": ARM_COLOUR, "show_edges": True, "edge_color": LINE, "line_width": 0.6})]
    sheet(shoot(parts, []), path, f"{arm.name}, revision {arm.revision}: mesh", caption)


def stress(grid: pv.UnstructuredGrid, arm: Arm, summary: Summary, path: Path) -> None:
    """Equivalent stress of the governing load case, its peak marked."""
    case, unit = summary.mesh_governing_case, shown_unit("stress", arm.units)
    grid["shown"] = outside(grid[f"equivalent_stress:{case}"], unit, "stress")
    peak = int(np.argmax(grid["shown"]))
    top = float(grid["shown"][peak])
    skin = surface(grid)
    colour = {
        "scalars": "shown",
        "cmap": COLOURS,
        "clim": (0.0, top),
        "smooth_shading": True,
        "split_sharp_edges": True,
    }
    side = "near" if grid.points[peak][2] >= 0.0 else "far"
    mark = [(grid.points[peak], f"peak {top:.3g} {unit}, {side} side")]
    caption = f"Equivalent (von Mises) stress, load case {case}, at {summary.cases[case].at}"
    view = shoot([(skin, colour), (edges(grid), ink(1))], mark)
    sheet(
        view,
        path,
        f"{arm.name}, revision {arm.revision}: stress",
        caption,
        (0.0, top, f"equivalent stress, {unit}"),
    )


def deformed(grid: pv.UnstructuredGrid, arm: Arm, summary: Summary, path: Path) -> None:
    """Deformed shape of the governing load case over the outline of the undeformed arm."""
    case, unit = summary.mesh_governing_case, shown_unit("length", arm.units)
    moved = grid[f"displacement:{case}"]
    size = np.linalg.norm(moved, axis=1)
    scale = nice(0.06 * grid.length / max(float(size.max()), 1e-12))
    shape = grid.copy()
    shape.points = grid.points + scale * moved
    shape["shown"] = outside(size, unit, "length")
    top = float(shape["shown"].max())
    colour = {
        "scalars": "shown",
        "cmap": COLOURS,
        "clim": (0.0, top),
        "smooth_shading": True,
        "split_sharp_edges": True,
    }
    caption = (
        f"Displacement relative to the pivot bore, drawn {scale:g} times; load case {case}, "
        f"at {summary.cases[case].at}. Thin lines: undeformed arm"
    )
    view = shoot([(surface(shape), colour), (edges(grid), ink(1.5))], [], flat=True)
    sheet(
        view,
        path,
        f"{arm.name}, revision {arm.revision}: deformed",
        caption,
        (0.0, top, f"displacement, {unit}"),
    )


def edges(grid: pv.UnstructuredGrid) -> pv.PolyData:
    """Sharp edges of the body, from the straight-sided faces."""
    return surface(grid, smooth=False).extract_feature_edges(
        30.0, boundary_edges=False, manifold_edges=False, non_manifold_edges=False
    )


def ink(width: float) -> dict[str, Any]:
    return {"color": LINE, "line_width": width}


def nice(value: float) -> float:
    """The largest of 1, 2, 5 times a power of ten that does not exceed the value."""
    power = 10.0 ** np.floor(np.log10(value))
    return float(max(step * power for step in (1.0, 2.0, 5.0) if step * power <= value))


PICTURES = {"solid": solid, "mesh": mesh, "stress": stress, "deformed": deformed}
