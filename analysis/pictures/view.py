"""Views of the mesh, drawn off screen by VTK and set on a sheet by matplotlib with title, colour bar and caution."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import matplotlib
import numpy as np
import pyvista as pv
from numpy.typing import NDArray
from PIL import Image

from analysis.pictures.sheet import COLOURS, FOOT, HEAD, MARK, SMALL, letter, paper, printed, room, save
from params.steps.problems import Unfit

SIZE = (2000, 1300)  # pixels of the view before it is cropped to the arm
MARGIN = 45  # pixels left about the arm
LETTER = 0.55 * SMALL / 72.0  # inches: mean width of a letter of the figures' type
HIGH = 4.15  # inches, of a sheet with a view


@dataclass
class View:
    """One picture of the arm: pixels, and where points of interest fall on them."""

    pixels: NDArray[np.uint8]
    marks: list[tuple[float, float, str]] = field(default_factory=list)


def read_grid(path: Path) -> pv.UnstructuredGrid:
    """Mesh and fields of a VTU file.

    Raises
    ------
    Unfit
        that names the file, where it is cut off or no such file. VTK would read nothing and go on, with a page of complaints.
    """
    with path.open("rb") as file:
        head = file.read(200)
        file.seek(max(file.seek(0, 2) - 200, 0))
        if b"<VTKFile" not in head or b"</VTKFile>" not in file.read():
            raise Unfit(f"{path}: is no whole table of fields (cut off or another kind of file)")
    grid = pv.UnstructuredGrid(path)
    if not grid.n_cells:
        raise Unfit(f"{path}: is no whole table of fields (no elements)")
    return grid


def surface(grid: pv.UnstructuredGrid, smooth: bool = True) -> pv.PolyData:
    """The outside of the mesh with its field `shown`, where it has one; second-order faces are drawn curved."""
    bare = grid.copy(deep=False)  # every field would be worked out anew at every corner
    bare.clear_data()
    if "shown" in grid.point_data:
        bare["shown"] = grid["shown"]
    return bare.extract_surface(nonlinear_subdivision=2 if smooth else 0, algorithm="dataset_surface")


def shoot(
    parts: Sequence[tuple[pv.DataSet, dict]], marks: list[tuple[NDArray[np.float64], str]], flat: bool = False
) -> View:
    """Draw the parts from the arm's front, a little from above (or square to the arm's plane), and place the marks."""
    plotter: Any = pv.Plotter(off_screen=True, window_size=list(SIZE))
    plotter.set_background("white")
    for mesh, style in parts:
        plotter.add_mesh(mesh, show_scalar_bar=False, ambient=0.35, diffuse=0.7, **style)
    plotter.enable_parallel_projection()
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


@printed
def sheet(
    view: View, path: Path, title: str, subtitle: str, bar: tuple[float, float, str] | None = None
) -> None:
    """Set a view on a sheet with its title and, for a field, the colour bar (least, most, label with unit)."""
    figure = paper(HIGH)
    axes = figure.add_axes(room(figure, 0.01, 0.02, 0.86 if bar else 0.98))
    axes.imshow(view.pixels)
    axes.axis("off")
    wide, high = view.pixels.shape[1], view.pixels.shape[0]
    box = axes.get_position()
    inch = max(wide / (box.width * figure.get_figwidth()), high / (box.height * HIGH))  # pixels
    for (column, row, text), place in zip(view.marks, beside(view, inch), strict=True):
        axes.annotate(
            text,
            (column, row),
            place,
            color=MARK,
            ha="center",
            arrowprops={"arrowstyle": "-", "color": MARK, "lw": 0.7},
            bbox={"fc": "white", "ec": MARK, "lw": 0.6},
        )
        axes.plot(column, row, "o", ms=5, mfc="none", mec=MARK, mew=0.9)
    if bar:
        scale = matplotlib.cm.ScalarMappable(matplotlib.colors.Normalize(bar[0], bar[1]), COLOURS)
        figure.colorbar(scale, cax=figure.add_axes(room(figure, 0.88, 0.15, 0.018, 0.1))).set_label(bar[2])
    letter(figure, title, subtitle)
    save(figure, path)


def beside(view: View, inch: float) -> list[tuple[float, float]]:
    """Where the words of each mark stand: toward the middle, at the nearer edge, none over another; `inch` in pixels."""
    wide, high = view.pixels.shape[1], view.pixels.shape[0]
    places: list[tuple[float, float]] = [(0.0, 0.0)] * len(view.marks)
    for low in (False, True):
        row = [index for index, mark in enumerate(view.marks) if (mark[1] > high / 2) == low]
        row.sort(key=lambda index: view.marks[index][0])
        marks = [view.marks[index] for index in row]
        half = [inch * (0.5 * LETTER * max(map(len, text.split("\n"))) + 0.1) for _, _, text in marks]
        x = [column + (0.14 if column < wide / 2 else -0.14) * wide for column, _, _ in marks]
        for k in range(1, len(x)):
            x[k] = max(x[k], x[k - 1] + half[k - 1] + half[k])
        for k in reversed(range(len(x))):  # back from the right edge
            x[k] = min(x[k], wide - half[k] if k == len(x) - 1 else x[k + 1] - half[k] - half[k + 1])
        for index, place in zip(row, x, strict=True):
            places[index] = place, (0.95 if low else 0.05) * high
    return places


def bare(drawn: Image.Image) -> Image.Image:
    """A view as `sheet` drew it without the words above and below."""
    head, foot = (round(part / HIGH * drawn.height) for part in (HEAD, FOOT))
    return drawn.crop((0, head, drawn.width, drawn.height - foot))
