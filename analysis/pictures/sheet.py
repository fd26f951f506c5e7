"""What every figure has: its colours, type and title, the caution at its foot, and the same bytes from the same input."""

from __future__ import annotations

import textwrap
from collections.abc import Callable
from pathlib import Path
from typing import Any

import matplotlib
from matplotlib.figure import Figure

from params.steps.caution import CAUTION

matplotlib.use("Agg")
COLOURS = "viridis"  # perceptually even, and readable in grey
WIDE = 170.0 / 25.4  # inches: the width of the record's text, at which a sheet is drawn and printed
DPI = 240
SMALL, LARGE = 8.0, 10.5  # points, as printed: nothing is smaller than the first
PRINTED: Any = {
    "font.size": SMALL,
    "axes.titlesize": SMALL,
    "axes.labelsize": SMALL,
    "xtick.labelsize": SMALL,
    "ytick.labelsize": SMALL,
    "legend.fontsize": SMALL,
    "axes.linewidth": 0.6,
    "xtick.major.width": 0.6,
    "ytick.major.width": 0.6,
    "grid.linewidth": 0.5,
    "lines.linewidth": 1.2,
    "lines.markersize": 4.0,
    "axes.labelcolor": "#30363c",
}
HEAD, FOOT = 0.62, 0.40  # inches that `letter` takes at the top and the foot of a sheet of that width
LINE_LETTERS = 105  # letters of a line of `letter`
ARM_COLOUR, LINE, MARK = "#c9ced3", "#30363c", "#b3261e"

Place = tuple[float, float, float, float]


def printed(draw: Callable) -> Callable:
    """A drawing function under the sizes of type and line that a printed sheet has."""
    return matplotlib.rc_context(PRINTED)(draw)


def paper(high: float) -> Figure:
    """An empty sheet as wide as the record's text, `high` in inches."""
    return Figure(figsize=(WIDE, high), dpi=DPI)


def room(figure: Figure, left: float, low: float, wide: float, top: float = 0.0) -> Place:
    """Place of axes in shares of the sheet: left and width in shares, foot above the caution and top below the head in inches."""
    high = figure.get_figheight()
    return left, (FOOT + low) / high, wide, (high - HEAD - top - FOOT - low) / high


def letter(figure: Figure, title: str, subtitle: str) -> None:
    """Title, at most two lines below it, and the caution at the foot; larger on a sheet that is shrunk for printing."""
    wide, high = figure.get_size_inches()
    times = wide / WIDE
    lines = textwrap.wrap(subtitle, LINE_LETTERS, max_lines=2, placeholder=" \u2026")
    figure.text(0.02, 1.0 - 0.19 * times / high, title, fontsize=LARGE * times, weight="bold", color=LINE)
    figure.text(
        0.02, 1.0 - 0.25 * times / high, "\n".join(lines), fontsize=SMALL * times, color=LINE, va="top"
    )
    caution = "\n".join(textwrap.wrap(CAUTION, LINE_LETTERS))
    figure.text(0.02, 0.07 * times / high, caution, fontsize=SMALL * times, color="#5a626a")


def save(figure: Figure, path: Path) -> None:
    """PNG or SVG without clock time or random identifiers, so that the same input gives the same bytes."""
    path.parent.mkdir(parents=True, exist_ok=True)
    with matplotlib.rc_context({"svg.hashsalt": "leverwright", "svg.fonttype": "none"}):
        figure.savefig(path, metadata={"Date": None} if path.suffix == ".svg" else {"Software": None})
