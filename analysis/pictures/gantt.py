"""Tasks over the weeks with the outage shown, one picture a route: `python -m analysis.pictures.gantt DIR`.

Draws what stands in tasks.csv, work.csv, ready.csv and dates.csv there; nothing is computed here.
"""

from __future__ import annotations

import math
import sys
import textwrap
from collections.abc import Sequence
from itertools import accumulate
from pathlib import Path

from matplotlib.axes import Axes
from matplotlib.lines import Line2D
from matplotlib.patches import Patch
from matplotlib.patheffects import withStroke

from analysis.pictures.days import day, months, short
from analysis.pictures.sheet import (
    ARM_COLOUR,
    FOOT,
    HEAD,
    LINE,
    LINE_LETTERS,
    MARK,
    letter,
    paper,
    printed,
    save,
)
from analysis.tables.confidence import ORDER, SURE, WITH
from analysis.tables.files import read_csv
from params.steps.arguments import Parser
from params.steps.guard import one_line_errors

Row = dict[str, str]
PATH, REST, FAINT, BAND, BROWN = "#1f4e79", ARM_COLOUR, "#8a939b", "#f3dcd6", "#b0703a"
WORK, DASHED = "in the outage", (0, (3, 2))
COLOURS = {"yes": PATH, "no": FAINT, WORK: BROWN}
SHOWN = 0.99  # chance up to which the days are shown
LEAD, WIDE = 0.37, 0.61  # of the sheet: the titles' share, and the bars'
NAME_LETTERS = 38  # of a line of a task's title
HIGHEST = 225.0 / 25.4  # inches, of a sheet that a page of the record holds
LINE_HIGH, LINE_LEAST = 0.15, 0.125  # inches a line of a title takes, and at least: that of its letters
GAP = 0.06  # inches between tasks
BESIDE = {
    50: ("left", "center"),
    80: ("left", "top"),
    90: ("right", "bottom"),
}  # the words of a point on the curve
CURVE, AXIS, LEGEND = 1.15, 0.34, 0.24  # inches: curve of chances, its dates below, legend above


@printed
def gantt(tasks: list[Row], ready: list[Row], dates: Row, path: Path, work: Sequence[Row] = ()) -> None:
    """One route's picture: bars above, chance of being ready by each day below, the outage through both.

    `work` are its rows of work.csv: what is done with the part in the outage, below the tasks.
    """
    tasks = [*tasks, *map(stage, work)]
    names = [textwrap.wrap(title(row), NAME_LETTERS) for row in tasks]
    note = textwrap.wrap(f"Out of reach: {dates['note']}.", LINE_LETTERS) if dates["note"] else []
    above, below = HEAD + LINE_HIGH * len(note) + LEGEND, FOOT + AXIS + CURVE + 0.1
    high = rows_high(names, HIGHEST - above - below)
    height = above + below + sum(high) + LINE_HIGH
    figure = paper(height)
    chance = figure.add_axes((LEAD, (FOOT + AXIS) / height, WIDE, CURVE / height))
    bars = figure.add_axes((LEAD, below / height, WIDE, (height - above - below) / height), sharex=chance)
    places = [end - own / 2.0 for end, own in zip(accumulate(high), high, strict=True)]
    for place, row in zip(places, tasks, strict=True):
        bar(bars, place, row)
    curve(chance, ready, dates)
    for axes in (bars, chance):
        outage(axes, dates, bool(work))
        quiet(axes)
    bars.set_yticks(places, ["\n".join(name) for name in names])
    bars.set_ylim(sum(high), -LINE_HIGH)
    frame(bars, chance, tasks, dates, ready)
    letter(figure, f"Route: {dates['route']}", sentence(dates))
    figure.text(0.02, 1.0 - (HEAD - 0.04) / height, "\n".join(note), color=MARK, va="top")
    legend_at = {
        "loc": "upper right",
        "bbox_to_anchor": (LEAD + WIDE + 0.01, 1.0 - (above - LEGEND) / height),
    }
    figure.legend(
        handles=legend(bool(work)),
        ncols=6,
        frameon=False,
        borderaxespad=0.0,
        columnspacing=0.9,
        handlelength=1.5,
        **legend_at,
    )
    save(figure, path)


def rows_high(names: list[list[str]], room: float) -> list[float]:
    """Inches of each task: its own lines, closer together where the sheet would not fit a page."""
    lines = sum(map(len, names))
    line = min(LINE_HIGH, max(LINE_LEAST, (room - LINE_HIGH - GAP * len(names)) / lines))
    return [line * len(name) + GAP for name in names]


def bar(axes: Axes, place: float, row: Row) -> None:
    """The planned time, what it may slip, and the day by which it is sure to be finished with the confidence of all dates."""
    sure = day(row["p90_finish"]) + 1.0 if row["p90_finish"] else math.nan
    if row["early_start"]:
        start, finish, late = (
            day(row["early_start"]),
            day(row["early_finish"]) + 1.0,
            day(row["late_finish"]) + 1.0,
        )
        colour = COLOURS[row["critical"]]
        axes.plot((finish, late), (place, place), color=FAINT, lw=1.0, zorder=2)
        axes.plot((finish, sure), (place, place), color=LINE, lw=0.6, ls=(0, (1, 2)), zorder=1)
        axes.barh(place, finish - start, left=start, height=0.11, color=colour, zorder=3)
    axes.plot(sure, place, marker="|", ms=7, mew=1.2, color=LINE, zorder=4)


def stage(row: Row) -> Row:
    """A stage of the work in the outage as a task's row: planned alone, it slips with the part."""
    own = {"chance": "1", "critical": WORK, "early_start": row["start"], "early_finish": row["finish"]}
    return own | {"title": row["title"], "late_finish": row["finish"], "p90_finish": ""}


def title(row: Row) -> str:
    """Name of a task and, where it is in doubt, its chance."""
    doubt = float(row["chance"])
    return row["title"] if doubt == 1.0 else f"{row['title']} ({100.0 * doubt:.0f}\u00a0% likely)"


def curve(axes: Axes, ready: list[Row], dates: Row) -> None:
    """Chance of being ready by the end of each day, with the three dates; their words stand where the curve is not."""
    axes.step(
        [day(row["date"]) + 1.0 for row in ready],
        [100.0 * float(row["chance_ready"]) for row in ready],
        where="post",
        color=PATH,
        lw=1.4,
    )
    for share, (side, lean) in BESIDE.items():
        place = day(dates[f"p{share}_ready"]) + 1.0
        axes.plot(place, share, "o", ms=4, color=PATH)
        axes.annotate(
            f"{share} %  {short(dates[f'p{share}_ready'])}",
            (place, share),
            (-4 if side == "right" else 6, 0),
            textcoords="offset points",
            ha=side,
            va=lean,
            color=LINE,
            path_effects=[withStroke(linewidth=2.0, foreground="white")],
        )


def outage(axes: Axes, dates: Row, work: bool) -> None:
    axes.axvspan(day(dates["outage_opens"]), day(dates["outage_closes"]) + 1.0, color=BAND, lw=0, zorder=0)
    axes.axvline(day(dates["outage_opens"]), color=MARK, lw=1.0, zorder=1)
    if work:
        axes.axvline(day(dates["needed_by"]) + 1.0, color=MARK, lw=1.0, ls=DASHED, zorder=1)


def quiet(axes: Axes) -> None:
    for side in ("top", "right", "left"):
        axes.spines[side].set_visible(False)
    axes.tick_params(which="both", length=0, colors=LINE)
    axes.grid(axis="x", which="major", color="#dfe3e6", lw=0.8, zorder=0)
    axes.set_axisbelow(True)


def frame(bars: Axes, chance: Axes, tasks: list[Row], dates: Row, ready: list[Row]) -> None:
    """Axes and the span of days, with room for the words beside the curve."""
    bars.tick_params(axis="x", which="both", labelbottom=False)
    bars.spines["bottom"].set_visible(False)
    opens, closes = day(dates["outage_opens"]), day(dates["outage_closes"]) + 1.0
    sure = next(row["date"] for row in ready if float(row["chance_ready"]) >= SHOWN)
    first = day(dates["order_date"]) - 2.0
    last = (
        max(closes, day(sure) + 1.0, *(day(row["p90_finish"] or row["early_finish"]) for row in tasks)) + 7.0
    )
    last = max(last, day(dates["p90_ready"]) + 0.25 * (last - first))
    chance.set_xlim(first, last)
    bars.text(
        (opens + closes) / 2.0,
        -0.4 * LINE_HIGH,
        "outage",
        color=MARK,
        ha="center",
        va="center",
    )
    chance.set_ylim(0.0, 104.0)
    chance.set_yticks((0, 50, 100), ("0", "50", "100 % ready"))
    months(chance, first, last)


def legend(work: bool) -> list[Patch | Line2D]:
    return [
        Patch(color=PATH, label="critical"),
        Patch(color=FAINT, label="planned"),
        *([Patch(color=BROWN, label="in the outage")] if work else []),
        Line2D([], [], color=FAINT, lw=1.0, label="may slip"),
        Line2D([], [], color=LINE, marker="|", ms=7, mew=1.2, ls="none", label=WITH),
        *([Line2D([], [], color=MARK, lw=1.0, ls=DASHED, label="part needed")] if work else []),
    ]


def sentence(dates: Row) -> str:
    missed = 100.0 * float(dates["chance_missed"])
    past = ", which is past" if dates["past"] == "yes" else ""
    return (
        f"Ordered {dates['order_date']}, planned ready {dates['planned_ready']}, needed by {dates['needed_by']}."
        f" Outage missed: {f'{missed:.0f}' if missed >= 1.0 else 'below 1'}\u00a0%."
        f" To be {SURE}\u00a0% sure, order by {dates[ORDER] or 'no day'}{past}."
    )


def draw_all(folder: Path) -> list[Path]:
    """A picture for each route of the tables."""
    tasks, ready = read_csv(folder / "tasks.csv", 1), read_csv(folder / "ready.csv", 1)
    work = read_csv(folder / "work.csv")
    paths = []
    for dates in read_csv(folder / "dates.csv", 1):
        route, path = dates["route"], folder / f"gantt-{dates['route']}.svg"
        gantt(
            [row for row in tasks if row["route"] == route],
            [row for row in ready if row["route"] == route],
            dates,
            path,
            [row for row in work if row["route"] == route],
        )
        paths.append(path)
    return paths


def main(arguments: list[str] | None = None) -> int:
    parser = Parser(description="Pictures of the dates.")
    parser.add_argument("folder", type=Path, help="where tasks.csv, ready.csv and dates.csv are")
    draw_all(parser.parse_args(arguments).folder)
    return 0


if __name__ == "__main__":
    with one_line_errors():
        sys.exit(main())
