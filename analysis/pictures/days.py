"""Dates on the axes of pictures: days as numbers, months as words with room between them."""

from __future__ import annotations

import datetime

from matplotlib import dates as mdates
from matplotlib.axes import Axes

STEPS = (1, 2, 3, 6, 12)  # months from one word to the next; all of them meet January
MOST = 10  # words that an axis holds at the size of the record
WORD = 0.09  # of the axis: what a word takes, which stands to the right of its day
FAINT = "#8a939b"


def day(text: str) -> float:
    """A date of a table on the axis."""
    return float(mdates.date2num(datetime.date.fromisoformat(text)))


def short(text: str) -> str:
    """A date as people say it.

    >>> short("2026-06-07")
    '7 Jun'
    """
    moment = datetime.date.fromisoformat(text)
    return f"{moment.day} {moment:%b}"


def months(axes: Axes, first: float, last: float) -> None:
    """Months from `first` to `last`, the year below the first of them and below each January; weeks as small ticks."""
    step = next((step for step in STEPS if (last - first) / 30.4 / step <= MOST), STEPS[-1])
    axes.xaxis.set_major_locator(mdates.MonthLocator(bymonth=range(1, 13, step)))
    clear = last - WORD * (last - first)
    axes.xaxis.set_major_formatter(lambda place, number: month(place, not number) if place < clear else "")
    if step == 1:
        axes.xaxis.set_minor_locator(mdates.WeekdayLocator(0))
        axes.tick_params(axis="x", which="minor", length=3, color=FAINT)
    for label in axes.get_xticklabels():
        label.set_horizontalalignment("left")


def month(place: float, year: bool) -> str:
    moment = mdates.num2date(place)
    return f"{moment:%b}\n{moment:%Y}" if year or moment.month == 1 else f"{moment:%b}"
