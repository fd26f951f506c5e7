"""Tasks over the weeks with the outage shown, one picture a route: `python -m analysis.making.gantt DIR`.

Draws what stands in tasks.csv, ready.csv and dates.csv there; nothing is computed here.
"""

from __future__ import annotations

import argparse
import datetime
import sys
from pathlib import Path

from matplotlib import dates as mdates
from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.lines import Line2D
from matplotlib.patches import Patch

from analysis.figures import LINE, MARK, STEEL, letter, save
from analysis.tables import read_csv
from params.plainly import plainly

Row = dict[str, str]
PATH, REST, FAINT, BAND = "#1f4e79", STEEL, "#8a939b", "#f3dcd6"
SHOWN = 0.99  # chance up to which the days are shown
LEAD = 0.33  # share of the sheet left of the bars, for the titles


def gantt(tasks: list[Row], ready: list[Row], dates: Row, path: Path) -> None:
    """One route's picture: bars above, chance of being ready by each day below, the outage through both."""
    height = 3.75 + 0.33 * len(tasks)
    figure = Figure(figsize=(13.0, height), dpi=110)
    low = 0.75 / height  # for the axis and the caution
    chance = figure.add_axes((LEAD, low, 0.96 - LEAD, 1.55 / height))
    bars = figure.add_axes(
        (LEAD, low + 1.65 / height, 0.96 - LEAD, 0.33 * len(tasks) / height), sharex=chance
    )
    for number, row in enumerate(tasks):
        bar(bars, number, row)
    curve(chance, ready, dates)
    for axes in (bars, chance):
        outage(axes, dates)
        quiet(axes)
    frame(bars, chance, tasks, dates, ready)
    figure.legend(
        handles=legend(),
        loc="upper right",
        bbox_to_anchor=(0.965, 1.0 - 1.02 / height),
        ncols=4,
        frameon=False,
        fontsize=9,
    )
    heading(figure, dates, height)
    save(figure, path)


def day(text: str) -> float:
    """A date of a table on the axis."""
    return float(mdates.date2num(datetime.date.fromisoformat(text)))


def bar(axes: Axes, number: int, row: Row) -> None:
    """The planned time, what it may slip, and the day by which it is finished with 90 %."""
    sure = day(row["p90_finish"]) + 1.0
    if row["early_start"]:
        start, finish, late = (
            day(row["early_start"]),
            day(row["early_finish"]) + 1.0,
            day(row["late_finish"]) + 1.0,
        )
        colour = PATH if row["critical"] == "yes" else FAINT
        axes.plot((finish, late), (number, number), color=FAINT, lw=1.2, zorder=2)
        axes.plot((finish, sure), (number, number), color=LINE, lw=0.7, ls=(0, (1, 2)), zorder=1)
        axes.barh(number, finish - start, left=start, height=0.52, color=colour, zorder=3)
    axes.plot(sure, number, marker="|", ms=10, mew=1.6, color=LINE, zorder=4)


def title(row: Row) -> str:
    """Name of a task and, where it is in doubt, its chance."""
    doubt = float(row["chance"])
    return row["title"] if doubt == 1.0 else f"{row['title']} ({100.0 * doubt:.0f} % likely)"


def curve(axes: Axes, ready: list[Row], dates: Row) -> None:
    """Chance of being ready by the end of each day, with the three dates."""
    axes.step(
        [day(row["date"]) + 1.0 for row in ready], [100.0 * float(row["chance_ready"]) for row in ready],
        where="post", color=PATH, lw=1.8,
    )  # fmt: skip
    for share in (50, 80, 90):
        place = day(dates[f"p{share}_ready"]) + 1.0
        axes.plot(place, share, "o", ms=5, color=PATH)
        axes.annotate(
            f"{share} %  {short(dates[f'p{share}_ready'])}", (place, share), (9, -4), textcoords="offset points",
            ha="left", va="center", fontsize=9, color=LINE,
        )  # fmt: skip


def short(text: str) -> str:
    """A date as people say it: 7 Jun."""
    made = datetime.date.fromisoformat(text)
    return f"{made.day} {made:%b}"


def outage(axes: Axes, dates: Row) -> None:
    axes.axvspan(day(dates["outage_opens"]), day(dates["outage_closes"]) + 1.0, color=BAND, lw=0, zorder=0)
    axes.axvline(day(dates["outage_opens"]), color=MARK, lw=1.4, zorder=1)


def quiet(axes: Axes) -> None:
    for side in ("top", "right", "left"):
        axes.spines[side].set_visible(False)
    axes.tick_params(which="both", length=0, labelsize=10, colors=LINE)
    axes.grid(axis="x", which="major", color="#dfe3e6", lw=0.8, zorder=0)
    axes.set_axisbelow(True)


def frame(bars: Axes, chance: Axes, tasks: list[Row], dates: Row, ready: list[Row]) -> None:
    """Axes, names of tasks, and the span of days."""
    bars.set_yticks(range(len(tasks)), [title(row) for row in tasks])
    bars.set_ylim(len(tasks) - 0.4, -0.7)
    bars.tick_params(axis="x", labelbottom=False)
    bars.spines["bottom"].set_visible(False)
    opens, closes = day(dates["outage_opens"]), day(dates["outage_closes"]) + 1.0
    sure = next(row["date"] for row in ready if float(row["chance_ready"]) >= SHOWN)
    last = max(closes, day(sure) + 1.0, *(day(row["p90_finish"]) for row in tasks)) + 7.0
    chance.set_xlim(day(dates["order_date"]) - 2.0, last)
    bars.text((opens + closes) / 2.0, -0.62, "outage", color=MARK, fontsize=10, ha="center", va="top")
    chance.set_ylim(0.0, 104.0)
    chance.set_yticks((0, 50, 100), ("0", "50", "100 % ready"))
    chance.xaxis.set_major_locator(mdates.MonthLocator())
    chance.xaxis.set_major_formatter(mdates.DateFormatter("%b %Y"))
    chance.xaxis.set_minor_locator(mdates.WeekdayLocator(0))
    chance.tick_params(axis="x", which="minor", length=3, color=FAINT)
    for label in chance.get_xticklabels():
        label.set_horizontalalignment("left")


def legend() -> list[Patch | Line2D]:
    return [
        Patch(color=PATH, label="planned, on the critical path"),
        Patch(color=FAINT, label="planned"),
        Line2D([], [], color=FAINT, lw=1.2, label="may slip"),
        Line2D([], [], color=LINE, marker="|", ms=10, mew=1.6, ls="none", label="finished with 90 %"),
    ]


def heading(figure: Figure, dates: Row, height: float) -> None:
    """Title and the answer in a sentence; the sheet's own heights are for taller ones, so they are set here."""
    letter(figure, "", "")
    figure.text(0.03, 1.0 - 0.42 / height, f"Route: {dates['route']}", fontsize=16, weight="bold", color=LINE)
    figure.text(0.03, 1.0 - 0.74 / height, sentence(dates), fontsize=11, color=LINE)
    if dates["note"]:
        figure.text(0.03, 1.0 - 0.98 / height, f"Out of reach: {dates['note']}.", fontsize=11, color=MARK)


def sentence(dates: Row) -> str:
    missed = 100.0 * float(dates["chance_missed"])
    return (
        f"Ordered {dates['order_date']}, planned ready {dates['planned_ready']}. Chance of missing the opening on "
        f"{dates['outage_opens']}: {f'{missed:.0f}' if missed >= 1.0 else 'below 1'} %. "
        f"To be 90 % sure, order by {dates['latest_order_p90']}."
    )


def draw_all(folder: Path) -> list[Path]:
    """A picture for each route of the tables."""
    tasks, ready = read_csv(folder / "tasks.csv", 1), read_csv(folder / "ready.csv", 1)
    made = []
    for dates in read_csv(folder / "dates.csv", 1):
        route, path = dates["route"], folder / f"gantt-{dates['route']}.svg"
        gantt(
            [row for row in tasks if row["route"] == route],
            [row for row in ready if row["route"] == route],
            dates,
            path,
        )
        made.append(path)
    return made


def main(arguments: list[str] | None = None) -> int:
    parser = argparse.ArgumentParser(description="Pictures of the dates.")
    parser.add_argument("folder", type=Path, help="where tasks.csv, ready.csv and dates.csv are")
    draw_all(parser.parse_args(arguments).folder)
    return 0


if __name__ == "__main__":
    with plainly():
        sys.exit(main())
