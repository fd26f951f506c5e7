"""Pressure and gap unrolled over a bore, the arm's fit beside the other one, drawn from contact-field.csv and contact.csv."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import numpy as np
from matplotlib.ticker import FuncFormatter, MaxNLocator
from matplotlib.tri import Triangulation

from analysis.pictures.sheet import COLOURS, LINE, letter, paper, printed, save
from analysis.tables.files import read_csv
from params.files.read import read_arm
from params.schema.units import outside, shown_unit

KINDS = {"fit": "the arm's fit", "compare": "the fit compared"}
FIELDS = {"pressure_MPa": ("contact pressure", "stress"), "gap_mm": ("gap", "length")}


@printed
def contact_picture(folder: Path) -> None:
    """Draw folder/bores/pictures/contact.png."""
    arm = read_arm(folder / "arm.yaml")
    table = read_csv(folder / "bores" / "contact-field.csv", 1)
    figures = {
        row["fits"]: row
        for row in read_csv(folder / "bores" / "contact.csv", 1)
        if (row["bore"], row["load_case"]) == (table[0]["bore"], table[0]["load_case"])
    }
    length = shown_unit("length", arm.units)
    figure = paper(5.6)
    for r, (field, (label, kind)) in enumerate(FIELDS.items()):
        unit = shown_unit(kind, arm.units)
        values = {k: column(table, k, field, unit, kind) for k in KINDS}
        most = max(float(value.max()) for value in values.values()) or 1.0
        for c, k in enumerate(KINDS):
            axes = figure.add_axes((0.095 + 0.405 * c, 0.550 - 0.395 * r, 0.35, 0.265))
            drawn = unrolled(axes, table, k, values[k], most, length)
            axes.set_ylabel("" if c else f"along the axis, {length}")
            axes.tick_params(labelleft=not c)  # both of a row share it
            axes.set_title(f"{label}, {KINDS[k]}:\n{size(figures[k], arm.units)}", color=LINE, loc="left")
        bar = figure.add_axes((0.868, 0.550 - 0.395 * r, 0.016, 0.265))
        scale = figure.colorbar(drawn, cax=bar)
        scale.set_label(f"{label}, {unit}")
        scale.formatter = FuncFormatter(
            lambda value, _, white=drawn.levels[0]: f"{value:.3g}" if value > white else "0"
        )
    place, case = table[0]["bore"].replace("_", " "), table[0]["load_case"]
    letter(
        figure,
        f"{arm.name}, revision {arm.revision}: pin in the {place}, load case {case}",
        "Bore unrolled: angle about its axis, counter-clockwise from the arm's x axis (toward the output pin), against "
        "distance along it from mid-width. Mean sizes, no friction. White: no contact, or no gap",
    )
    save(figure, folder / "bores" / "pictures" / "contact.png")


def column(table: list[dict[str, str]], kind: str, field: str, unit: str, quantity: str) -> Any:
    """The values of one fit in the arm's units."""
    return outside(np.array([float(row[field]) for row in table if row["fits"] == kind]), unit, quantity)


def size(row: dict[str, str], units: Any) -> str:
    """The fit and its mean interference or clearance in words."""
    value, unit = float(row["interference_mm"]), shown_unit("length", units)
    shown = float(outside(abs(value), unit, "length"))
    return f"{row['fit']}, {'interference' if value > 0.0 else 'clearance'} {shown:.{3 if units == 'si' else 4}f} {unit}"


def unrolled(axes: Any, table: list[dict[str, str]], kind: str, values: Any, most: float, unit: str) -> Any:
    """Filled contours over angle and height, joined across the cut at 180 degrees."""
    angle = np.array([float(row["angle_deg"]) for row in table if row["fits"] == kind])
    height = outside(np.array([float(row["z_mm"]) for row in table if row["fits"] == kind]), unit, "length")
    turns = [(angle + turn, height, values) for turn in (-360.0, 0.0, 360.0)]
    around, along, shown = (np.concatenate(parts) for parts in zip(*turns, strict=True))
    near = np.abs(around) < 215.0
    mesh = Triangulation(around[near], along[near])
    levels = np.asarray(MaxNLocator(10).tick_values(0.0, most))
    levels[0] = 0.02 * levels[1]  # below it: left white
    drawn = axes.tricontourf(mesh, shown[near], levels=levels, cmap=COLOURS)
    if values.max() <= levels[0]:
        axes.text(0.5, 0.5, "none", transform=axes.transAxes, ha="center", color=LINE)
    axes.set_xlim(-180.0, 180.0)
    axes.set_ylim(height.min(), height.max())
    axes.set_xticks(range(-180, 181, 90))
    axes.set_xlabel("angle, deg")
    return drawn
