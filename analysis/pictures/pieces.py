"""The pieces of a deposited part, moved apart: `python -m analysis.pictures.pieces results/ARM ROUTE`.

Draws what stands in pieces.csv, joints.csv and the pieces' own files; nothing is computed here.
"""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pyvista as pv

from analysis.pictures.sheet import ARM_COLOUR, LINE, MARK, letter, paper, printed, room, save
from analysis.pictures.view import sheet, shoot
from analysis.tables.files import read_csv
from params.files.read import read_arm
from params.schema.units import outside, show, shown_unit
from params.steps.arguments import arguments
from params.steps.guard import one_line_errors

APART = 0.12  # of a piece's distance from the pivot, by which it is moved away for the picture
TOP = 1.6  # largest share drawn
Row = dict[str, str]


def pieces(folder: Path, route: str, rows: list[Row], path: Path) -> None:
    """Every piece with its mass, days and cell."""
    arm = read_arm(folder / "as-written" / "arm.yaml")
    place, length = folder / "making" / route / "pieces", shown_unit("length", arm.units)
    scale = 1.0 / outside(1.0, length, "length")
    parts, marks = [], []
    for row in rows:
        centre = scale * np.array([float(row[f"cg_{axis}_{length}"]) for axis in "xyz"])
        away = np.zeros(3) if row["piece"] == "hub" else APART * centre
        parts.append(pv.read(place / row["step"].replace(".step", ".stl")).translate(away))
        mass = show(float(row["deposit_mass_kg"]), "mass", arm.units)
        text = f"{row['piece']}: {mass},\n{float(row['days']):.1f} d on cell {row['cell']}"
        marks.append((centre + away + beside(row, scale * float(row[f"depth_{length}"])), text))
    days = {row["cell"]: 0.0 for row in rows}
    for row in rows:
        days[row["cell"]] += float(row["days"])
    total = show(sum(float(row["deposit_mass_kg"]) for row in rows), "mass", arm.units)
    text = f"{total} deposited in {max(days.values()):.1f} days, day and night"
    sheet(
        shoot([(pv.merge(parts), {"color": ARM_COLOUR})], marks),
        path,
        f"{arm.name}: pieces of the route {route}",
        text,
    )


def beside(row: Row, depth: float) -> np.ndarray:
    """Where a piece is marked, from its centre of gravity: the hub's lies in its bore."""
    return np.array([0.0, -0.4 * depth if row["piece"] == "hub" else 0.0, 0.0])


@printed
def joints(folder: Path, route: str, rows: list[Row], path: Path) -> None:
    """Share of strength and life that a joint would use along both arms, and where the joints lie."""
    arm = read_arm(folder / "as-written" / "arm.yaml")
    unit = shown_unit("length", arm.units)
    figure = paper(4.0)
    for number, name in enumerate(("input", "output")):
        axes = figure.add_axes(room(figure, 0.085 + 0.49 * number, 0.36, 0.41, 0.42))
        own = [row for row in rows if row["arm"] == name]
        s = [float(row[f"s_{unit}"]) for row in own]
        axes.plot(s, [float(row["stress_used"]) for row in own], color="#1f4e79", label="strength used")
        axes.plot(s, [float(row["life_used"] or "nan") for row in own], color="#b3561e", label="life used")
        allowed = [row["allowed"] == "yes" for row in own]
        axes.fill_between(s, 0.0, TOP, where=allowed, color="#d3e4c9", lw=0.0, label="joint allowed")
        for row in own:
            if row["chosen"] == "yes":
                axes.axvline(float(row[f"s_{unit}"]), color=MARK, label="joint")
        axes.axhline(1.0, color=LINE, lw=1.0, ls="--")
        axes.set(xlabel=f"distance from the pivot, {unit}", title=f"{name} arm")
        axes.set_ylim(0.0, TOP)
        axes.grid(color="#e9ecee")
        if number == 0:
            axes.set_ylabel("share used (1: just allowed)")
    lines = {
        name: line
        for axes in figure.axes
        for line, name in zip(*axes.get_legend_handles_labels(), strict=True)
    }
    figure.legend(
        list(lines.values()),
        list(lines),
        ncols=4,
        frameon=False,
        loc="upper left",
        bbox_to_anchor=(0.07, 0.86),
    )
    caption = "Strength by the joint factor, life by the detail category of the joint over the service years."
    letter(figure, f"{arm.name}: where pieces of the route {route} may be joined", caption)
    save(figure, path)


def main(folder: Path, route: str) -> None:
    place = folder / "making"
    rows = [row for row in read_csv(place / "pieces.csv") if row["route"] == route and row["piece"]]
    joints(folder, route, read_csv(place / route / "joints.csv"), place / route / "joints.png")
    if rows:
        pieces(folder, route, rows, place / route / "pieces.png")
    else:
        none(
            route, next(row["note"] for row in read_csv(place / "pieces.csv") if row["route"] == route), place
        )


@printed
def none(route: str, why: str, place: Path) -> None:
    """A sheet that says why there are no pieces."""
    figure = paper(1.3)
    letter(figure, f"{route}: no pieces", why)
    save(figure, place / route / "pieces.png")


if __name__ == "__main__":
    with one_line_errors():
        main(*arguments(__doc__, results=Path, route=str))
