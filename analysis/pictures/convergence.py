"""Peak stress at each bore against mesh size, drawn from convergence.csv."""

from __future__ import annotations

from pathlib import Path

import numpy as np

from analysis.pictures.sheet import LINE, letter, paper, printed, room, save
from analysis.tables.files import read_csv
from params.files.read import read_arm
from params.schema.units import outside, shown_unit

INKS = {"pivot_bore": "#1f4e79", "input_bore": "#b3561e", "output_bore": "#4a7a3a", "outside": "#5a626a"}
DOTS = {"pivot_bore": "o", "input_bore": "s", "output_bore": "^", "outside": "D"}


@printed
def convergence(folder: Path, path: Path) -> None:
    """One line for each surface; the bar on the finest mesh is the estimated error band."""
    arm = read_arm(folder / "arm.yaml")
    unit = shown_unit("stress", arm.units)
    figure = paper(3.1)
    axes = figure.add_axes(room(figure, 0.08, 0.36, 0.90))
    table = read_csv(folder / "convergence.csv", 1)
    for place in dict.fromkeys(row["place"] for row in table):
        rows = [row for row in table if row["place"] == place]
        size = np.array([float(row["unknowns"]) for row in rows])
        peak = outside(np.array([float(row["peak_MPa"]) for row in rows]), unit, "stress")
        label = place.replace("_", " ")
        axes.plot(size, peak, marker=DOTS.get(place, "o"), color=INKS.get(place, LINE), label=label)
        if rows[-1]["band_percent"]:
            band = peak[-1] * float(rows[-1]["band_percent"]) / 100.0
            axes.errorbar(size[-1], peak[-1], band, color=INKS.get(place, LINE), capsize=5, lw=1)
    axes.set_xscale("log")
    meshes = sorted({int(row["unknowns"]) for row in table})
    axes.set_xticks(meshes, [f"{count:,}" for count in meshes])
    axes.set_xticks([], minor=True)
    axes.set_xlabel("unknowns of the mesh (three displacements a node)")
    axes.set_ylabel(f"largest equivalent stress, {unit}")
    axes.set_ylim(0.0, 1.25 * axes.get_ylim()[1])  # room for the key above every line
    axes.grid(color="#e3e6e8")
    axes.legend(frameon=False, loc="upper center", ncols=4)
    letter(
        figure,
        f"{arm.name}, revision {arm.revision}: convergence",
        "Peak of all load cases on each surface; bar: error band of the finest mesh",
    )
    save(figure, path)
