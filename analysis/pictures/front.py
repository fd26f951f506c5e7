"""Weight against least margin: the swept designs, the front, the meshed ones, the arm as written and the recommended one."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import numpy as np
from matplotlib.ticker import PercentFormatter

from analysis.contracts.recommended import NoneRecommended, Recommended, read_recommended
from analysis.contracts.summary import Summary, read_summary
from analysis.pictures.sheet import LINE, MARK, letter, paper, printed, room, save
from analysis.tables.files import read_csv
from params.files.read import read_arm
from params.schema.units import System, outside, show, shown_unit
from params.steps.arguments import arguments
from params.steps.guard import one_line_errors

TOP = 1.5  # largest margin drawn: beyond it no one chooses


def columns(rows: list[dict[str, str]], *names: str) -> list[np.ndarray]:
    return [np.array([float(row[name] or "nan") for row in rows]) for name in names]


@printed
def front(folder: Path, path: Path) -> None:
    arm = read_arm(folder / "as-written" / "arm.yaml")
    written = read_summary(folder / "as-written" / "summary.json")
    best = read_recommended(folder / "sweep" / "recommended.json")
    unit = shown_unit("mass", arm.units)
    figure = paper(4.3)
    axes = figure.add_axes(room(figure, 0.105, 0.36, 0.875))
    designs = [row for row in read_csv(folder / "sweep" / "designs.csv", 1) if row["min_margin"]]
    kept = designs[:: max(1, len(designs) // 20_000)]
    mass, margin = columns(kept, "mass_kg", "min_margin")
    if kept:
        axes.plot(
            outside(mass, unit, "mass"),
            margin,
            ".",
            ms=1.5,
            color="#c3c8cd",
            rasterized=True,
            label="swept designs, by hand",
        )
    else:
        axes.text(
            0.5, 0.93, "no swept design could be judged", ha="center", transform=axes.transAxes, color=MARK
        )
    rows = read_csv(folder / "sweep" / "front.csv")
    meshed = np.append(columns(rows, "mesh_margin")[0] if rows else [], 0.0)
    if rows:
        draw_front(axes, rows, unit)
    draw_written(axes, written, unit)
    if isinstance(best, Recommended):
        point = outside(best.mass_kg, unit, "mass"), min(best.hand_margin, best.mesh_margin)
        axes.plot(
            *point, "*", ms=11, mfc=MARK, mec="white", label="recommended (lesser of hand and mesh margin)"
        )
    axes.axhline(0.0, color=LINE, lw=1.0)
    drawn = np.concatenate([margin, [written.mesh_margin, written.hand_margin], meshed])
    low = float(np.nanmin(margin if kept else drawn))
    axes.set_ylim(max(-1.0, low - 0.05), min(TOP, float(np.nanmax(drawn)) + 0.1))
    axes.set_xlabel(f"mass, {unit}")
    axes.yaxis.set_major_formatter(PercentFormatter(1.0))
    axes.set_ylabel("least margin; negative fails")
    axes.grid(color="#e9ecee")
    legend: Any = axes.legend(
        loc="lower right", framealpha=1.0, edgecolor="none"
    )  # over the cloud of designs
    if kept:
        legend.legend_handles[0].set_markersize(5)  # the sweep's dots are too small to be seen there
    letter(
        figure,
        f"{arm.name}, revision {arm.revision}: weight against margin",
        subtitle(written, best, arm.units),
    )
    save(figure, path)


def draw_front(axes, rows: list[dict[str, str]], unit: str) -> None:
    mass, hand, mesh = columns(rows, "mass_kg", "hand_margin", "mesh_margin")
    axes.plot(
        outside(mass, unit, "mass"), hand, "-", lw=1.2, color="#1f4e79", label="front, by hand (all clauses)"
    )
    meshed = ~np.isnan(mesh)
    style = {
        "ms": 4.5,
        "mfc": "none",
        "mec": "#b3561e",
        "mew": 1.0,
        "label": "by mesh (stress, fatigue, flaws)",
    }
    axes.plot(outside(mass[meshed], unit, "mass"), mesh[meshed], "s", **style)


def draw_written(axes, written: Summary, unit: str) -> None:
    mass = outside(written.mass_kg, unit, "mass")
    axes.plot(
        mass,
        min(written.hand_margin, TOP - 0.03),
        "D",
        ms=6,
        mfc="none",
        mec=LINE,
        mew=1.0,
        label="as written, by hand",
    )
    axes.plot(
        mass,
        min(written.mesh_margin, TOP - 0.03),
        "D",
        ms=6,
        mfc=LINE,
        mec=LINE,
        label="as written, by mesh",
    )


def subtitle(written: Summary, best: Recommended | NoneRecommended, units: System) -> str:
    if isinstance(best, NoneRecommended):
        return best.reason
    old, new = (show(mass, "mass", units) for mass in (written.mass_kg, best.mass_kg))
    way = "lighter" if best.saved_kg >= 0.0 else "heavier"
    return f"As written {old}; recommended {new}, {abs(best.saved_percent):.0f} % {way}. Margin: capacity over demand less 1"


if __name__ == "__main__":
    with one_line_errors():
        (main_folder,) = arguments(__doc__, results=Path)
        front(main_folder, main_folder / "sweep" / "front.png")
