"""Views of the mesh, drawn off screen by VTK and set on a sheet by matplotlib with title, colour bar and caution."""

from __future__ import annotations

import textwrap
from collections.abc import Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import matplotlib
import numpy as np
import pyvista as pv
from matplotlib.figure import Figure
from numpy.typing import NDArray

from params.caution import CAUTION

matplotlib.use("Agg")
SIZE = (2600, 1700)  # pixels of the view before it is cropped to the arm
MARGIN = 60  # pixels left about the arm
COLOURS = "viridis"  # perceptually even, and readable in grey
STEEL, LINE, MARK = "#c9ced3", "#30363c", "#b3261e"


@dataclass
class View:
    """One picture of the arm: pixels, and where points of interest fall on them."""

    pixels: NDArray[np.uint8]
    marks: list[tuple[float, float, str]] = field(default_factory=list)


def surface(grid: pv.UnstructuredGrid, smooth: bool = True) -> pv.PolyData:
    """The outside of the mesh; second-order faces are drawn curved."""
    return grid.extract_surface(nonlinear_subdivision=2 if smooth else 0, algorithm="dataset_surface")


def shoot(
    parts: Sequence[tuple[pv.DataSet, dict]], marks: list[tuple[NDArray[np.float64], str]], flat: bool = False
) -> View:
    """Draw the parts from the arm's front, a little from above (or square to the arm's plane), and place the marks."""
    plotter: Any = pv.Plotter(off_screen=True, window_size=list(SIZE))
    plotter.set_background("white")
    for mesh, style in parts:
        plotter.add_mesh(mesh, show_scalar_bar=False, ambient=0.35, diffuse=0.7, **style)
    plotter.enable_parallel_projection()
    plotter.enable_anti_aliasing("ssaa")
    plotter.view_vector((0.0, 0.0, 1.0) if flat else (-0.35, -0.5, 1.0), viewup=(0.0, 1.0, 0.0))
    plotter.reset_camera(bounds=parts[0][0].bounds)
    pixels = np.asarray(plotter.screenshot(return_img=True))
    placed = [(*on_screen(plotter, point), text) for point, text in marks]
    plotter.close()
    return cropped(View(pixels, placed))


def cropped(view: View) -> View:
    """The view without the empty paper about the arm."""
    inked = np.any(view.pixels < 250, axis=2)
    rows, columns = np.flatnonzero(inked.any(axis=1)), np.flatnonzero(inked.any(axis=0))
    top, left = max(rows[0] - MARGIN, 0), max(columns[0] - MARGIN, 0)
    pixels = view.pixels[top : rows[-1] + MARGIN, left : columns[-1] + MARGIN]
    return View(pixels, [(column - left, row - top, text) for column, row, text in view.marks])


def on_screen(plotter: pv.Plotter, point: NDArray[np.float64]) -> tuple[float, float]:
    """Pixel column and row of a world point."""
    x, y, z = (float(value) for value in point)
    plotter.renderer.SetWorldPoint(x, y, z, 1.0)
    plotter.renderer.WorldToDisplay()
    column, row, _ = plotter.renderer.GetDisplayPoint()
    return column, SIZE[1] - row


def sheet(
    view: View, path: Path, title: str, subtitle: str, bar: tuple[float, float, str] | None = None
) -> None:
    """Set a view on a sheet with its title and, for a field, the colour bar (least, most, label with unit)."""
    figure = Figure(figsize=(13.0, 7.4), dpi=120)
    axes = figure.add_axes((0.02, 0.07, 0.86 if bar else 0.96, 0.80))
    axes.imshow(view.pixels)
    axes.axis("off")
    for column, row, text in view.marks:
        wide, high = view.pixels.shape[1], view.pixels.shape[0]
        side, edge = (1 if column < wide / 2 else -1), (0.95 if row > high / 2 else 0.05)
        axes.annotate(
            text, (column, row), (column + side * 0.14 * wide, edge * high), fontsize=12, color=MARK, ha="center",
            arrowprops={"arrowstyle": "-", "color": MARK, "lw": 1.2}, bbox={"fc": "white", "ec": MARK, "lw": 0.8},
        )  # fmt: skip
        axes.plot(column, row, "o", ms=9, mfc="none", mec=MARK, mew=1.6)
    if bar:
        scale = matplotlib.cm.ScalarMappable(matplotlib.colors.Normalize(bar[0], bar[1]), COLOURS)
        figure.colorbar(scale, cax=figure.add_axes((0.90, 0.16, 0.018, 0.62))).set_label(bar[2], fontsize=12)
    letter(figure, title, subtitle)
    save(figure, path)


def letter(figure: Figure, title: str, subtitle: str) -> None:
    """Title, subtitle and the caution at the foot."""
    figure.text(0.03, 0.945, title, fontsize=16, weight="bold", color=LINE)
    figure.text(
        0.03, 0.900, "\n".join(textwrap.wrap(subtitle, 150)[:2]), fontsize=11, color=LINE, va="center"
    )
    figure.text(0.03, 0.018, CAUTION, fontsize=8.5, color="#5a626a")


def save(figure: Figure, path: Path) -> None:
    """PNG or SVG without clock time or random identifiers, so that the same input gives the same bytes."""
    path.parent.mkdir(parents=True, exist_ok=True)
    with matplotlib.rc_context({"svg.hashsalt": "leverwright", "svg.fonttype": "none"}):
        figure.savefig(path, metadata={"Date": None} if path.suffix == ".svg" else {"Software": None})
