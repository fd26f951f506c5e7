"""Pictures of a survey from its tables: `python -m analysis.pictures.survey DIR` writes three PNG into DIR/pictures."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import numpy as np
from matplotlib.axes import Axes
from matplotlib.patches import Circle

from analysis.pictures.sheet import LINE, MARK, letter, paper, printed, room, save
from analysis.tables.files import read_csv, read_json
from params.schema.geometry import BORES
from params.schema.units import MM_PER_IN
from params.steps.arguments import arguments
from params.steps.guard import one_line_errors

MAP = "RdBu"  # red: metal missing; readable by most who do not tell red from green
INKS = {"noise": "#1f4e79", "neighbours": "#5b8db8", "coverage": "#b3561e", "instrument": "#8a6d1f"}
SHOWN = 8.0  # colours span this many standard deviations of a point


def scale(survey: Any) -> tuple[str, float]:
    return ("mm", 1.0) if survey["units"] == "si" else ("in", MM_PER_IN)


@printed
def deviation(folder: Path, path: Path) -> None:
    """Both sides of the part, every point in the colour of its distance from the fitted solid; areas of the list numbered."""
    survey, rows = read_json(folder / "survey.json"), read_csv(folder / "deviation.csv")
    with np.load(folder / "map.npz") as held:
        points, far = held["points"], held["far"]
    unit, mm = scale(survey)
    limit = SHOWN * float(survey["noise_mm"]) / mm
    spans = np.ptp(points[:, :2], axis=0)
    high = 5.4 * float(np.clip(spans[1] / spans[0], 0.25, 0.9)) * 2.0 + 2.0
    figure = paper(high)
    shown = None
    for number, (side, title) in enumerate(((1.0, "seen from +z"), (-1.0, "seen from -z, through the part"))):
        axes = figure.add_axes((0.11, 0.13 + (1 - number) * 0.385, 0.74, 0.33))
        own = np.flatnonzero(points[:, 2] * side > 0.0)
        own = own[np.argsort(np.abs(far[own]))]
        shown = axes.scatter(
            points[own, 0] / mm,
            points[own, 1] / mm,
            c=far[own] / mm,
            s=0.8,
            cmap=MAP,
            vmin=-limit,
            vmax=limit,
            linewidths=0,
            rasterized=True,
        )
        circles(axes, survey, mm)
        numbered(axes, rows, side)
        axes.set_aspect("equal")
        axes.set_title(title, loc="left")
        axes.set_ylabel(f"y, {unit}")
        axes.set_facecolor("#f4f5f6")
    axes.set_xlabel(f"x along the output arm, {unit}")
    assert shown is not None
    bar = figure.colorbar(shown, cax=figure.add_axes((0.88, 0.18, 0.018, 0.58)), extend="both")
    bar.set_label(f"distance from the fitted solid, {unit}: red is missing metal")
    against = f"its drawing ({survey['nominal']})" if survey["nominal"] else "the fitted solid"
    letter(
        figure,
        f"{survey['name']}: where the part differs from {against}",
        "Numbers: rows of deviation.csv, largest first. Medians of seven neighbours;"
        f" one point scatters by {float(survey['noise_mm']) / mm:.2g} {unit}",
    )
    save(figure, path)


def circles(axes: Axes, survey: Any, mm: float) -> None:
    for name in BORES:
        x, y = (value / mm for value in survey["centres"][name])
        axes.add_patch(
            Circle((x, y), survey["sizes"][f"{name}.bore"] / 2.0 / mm, fill=False, color=LINE, lw=0.6)
        )
        axes.plot(x, y, "+", color=LINE, ms=5.0)


def numbered(axes: Axes, rows: list[dict[str, str]], side: float) -> None:
    for number, row in enumerate(rows[:9], 1):
        if float(row["z"]) * side >= 0.0:
            axes.annotate(
                str(number),
                (float(row["x"]), float(row["y"])),
                color=MARK,
                weight="bold",
                ha="center",
                va="center",
                bbox={"boxstyle": "circle,pad=0.15", "fc": "white", "ec": MARK, "lw": 0.6},
            )


@printed
def bores(folder: Path, path: Path) -> None:
    """The wall of each bore unrolled: deviation of the radius by sector, over the round bore of the fit."""
    survey, rows, table = (
        read_json(folder / "survey.json"),
        read_csv(folder / "profile.csv"),
        read_csv(folder / "bores.csv"),
    )
    unit, _ = scale(survey)
    figure = paper(5.8)
    for number, row in enumerate(table):
        axes = figure.add_axes((0.10, 0.70 - number * 0.275, 0.87, 0.17))
        own = [one for one in rows if one["bore"] == row["bore"]]
        angle, far = ([float(one[key]) for one in own] for key in ("angle_deg", "deviation"))
        axes.axhline(0.0, color="#8a9199", lw=0.8)
        axes.plot(angle, far, "o", color="#1f4e79")
        axes.set_xlim(-180.0, 180.0)
        axes.set_xticks(range(-180, 181, 45))
        axes.grid(color="#e3e6e8")
        axes.set_ylabel(f"radius, {unit}")
        size, doubt = float(row["diameter"]), float(row["u_diameter"])
        axes.set_title(
            f"{row['bore']} bore: diameter {size:.4g} ± {2.0 * doubt:.2g} {unit} (95 %)".replace(
                f"{size:.4g}", digits(size, doubt)
            )
            + f", two lobes {float(row['two_lobes']):.2g}, three lobes {float(row['three_lobes']):.2g} {unit},"
            + f" seen {float(row['seen_percent']):.0f} %",
            loc="left",
        )
    axes.set_xlabel("angle about the bore from the direction of the output arm, counter-clockwise, degrees")
    letter(
        figure,
        f"{survey['name']}: wear round the bores",
        "Medians of sectors of 10 degrees against the round bore of the fit; above 0 the bore is larger there",
    )
    save(figure, path)


def digits(value: float, doubt: float) -> str:
    """A number down to the second digit of its uncertainty.

    >>> digits(320.04123, 0.021)
    '320.041'
    """
    places = max(0, 1 - int(np.floor(np.log10(max(doubt, 1e-9)))))
    return f"{value:.{min(places, 6)}f}"


@printed
def uncertainty(folder: Path, path: Path) -> None:
    """Variance of each size by what it comes from, beside its standard uncertainty."""
    survey, rows = read_json(folder / "survey.json"), read_csv(folder / "parameters.csv")
    rows = [row for row in rows if row["noise"]][::-1]
    figure = paper(0.19 * len(rows) + 1.9)
    axes = figure.add_axes(room(figure, 0.25, 0.35, 0.56, 0.3))
    start = np.zeros(len(rows))
    for part, ink in INKS.items():
        share = np.array([100.0 * (float(row[part]) / float(row["uncertainty"])) ** 2 for row in rows])
        axes.barh(range(len(rows)), share, left=start, color=ink, label=part, height=0.7)
        start += share
    axes.set_yticks(range(len(rows)), [row["size"] for row in rows])
    axes.set_xlim(0.0, 100.0)
    axes.set_ylim(-0.6, len(rows) - 0.4)
    axes.set_xlabel("share of the variance, %")
    for number, row in enumerate(rows):
        sure = row["determined"] == "yes"
        label = f"{float(row['uncertainty']):.2g} {row['unit']}" if sure else "to be given"
        axes.text(102.0, number, label, va="center", color=LINE if sure else MARK)
    figure.legend(
        *axes.get_legend_handles_labels(),
        loc=(0.24, 1.0 - 0.78 / figure.get_figheight()),
        ncols=4,
        frameon=False,
    )
    letter(
        figure,
        f"{survey['name']}: how sure each size is, and why",
        "Right: standard uncertainty. Bars: what it comes from",
    )
    save(figure, path)


def main(folder: Path) -> None:
    deviation(folder, folder / "pictures" / "deviation.png")
    bores(folder, folder / "pictures" / "bores.png")
    uncertainty(folder, folder / "pictures" / "uncertainty.png")


if __name__ == "__main__":
    with one_line_errors():
        main(*arguments(__doc__, folder=Path))
