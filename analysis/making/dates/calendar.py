"""Working days: how much work fits between two moments, and when a piece of work ends or must begin.

A moment is a float, calendar days from the midnight on which the first day begins; work is a float, days of the calendar.
"""

from __future__ import annotations

import datetime
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from params.schema.schedule import Calendar
from params.steps.arrays import Floats

TIE = 1e-9  # days; less is rounding


@dataclass(frozen=True)
class WorkDays:
    """A calendar laid out from `first`, a whole number of days from the origin."""

    first: int
    done: Floats  # work done before each day begins, shape (days + 1,)
    at: Floats  # day on which each whole day of work begins, shape (days of work,)

    def worked(self, moment: Floats | float) -> Floats:
        """Work done from the first day up to a moment."""
        since = np.asarray(moment, dtype=float) - self.first
        day = np.clip(since.astype(int), 0, self.done.size - 2)
        return self.done[day] + (since - day) * (self.done[day + 1] - self.done[day])

    def begins(self, moment: Floats | float) -> Floats:
        """The moment, or the beginning of the next working day where it falls on a day off."""
        return self._moment(self.worked(moment), np.floor)

    def ends(self, moment: Floats | float) -> Floats:
        """The moment, or the end of the last working day where it falls after days off."""
        return self._moment(self.worked(moment), lambda done: np.ceil(done) - 1.0)

    def finish(self, start: Floats | float, work: Floats | float) -> Floats:
        """End of work that begins at `start`; work of no length ends there, day off or not."""
        ended = self._moment(self.worked(start) + work, lambda done: np.ceil(done) - 1.0)
        return np.where(np.asarray(work) > 0.0, ended, start)

    def latest_start(self, finish: Floats | float, work: Floats | float) -> Floats:
        """Last moment from which the work still ends by `finish`."""
        begun = self._moment(self.worked(finish) - work, np.floor)
        return np.where(np.asarray(work) > 0.0, begun, finish)

    def _moment(self, done: Floats, whole) -> Floats:
        done = np.where(np.abs(done - np.rint(done)) < TIE, np.rint(done), done)
        index = np.clip(whole(done), 0.0, self.at.size - 1.0)
        return self.first + self.at[index.astype(int)] + (done - index)


def laid_out(calendar: Calendar, origin: datetime.date, before: int, after: int) -> WorkDays:
    """The calendar from `before` days before the origin to `after` days after it.

    Raises
    ------
    ValueError
        where no day of the stretch is a working day.
    """
    days = np.datetime64(origin, "D") + np.arange(-before, after + 1)
    works = np.is_busday(days, [name in calendar.days for name in WEEK], holidays(calendar))
    if not works.any():
        raise ValueError("the calendar has no working day at all")
    done = np.concatenate(([0.0], np.cumsum(works, dtype=float)))
    return WorkDays(-before, done, np.flatnonzero(works).astype(float))


WEEK = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")


def holidays(calendar: Calendar) -> NDArray[np.datetime64]:
    """Every single day off, shape (days,)."""
    spans = [
        np.arange(np.datetime64(first, "D"), np.datetime64(last, "D") + 1)
        for first, last in calendar.holidays
    ]
    return np.concatenate(spans) if spans else np.empty(0, dtype="datetime64[D]")


def span(work: float, calendars: list[Calendar]) -> int:
    """Calendar days that surely hold `work` days on each of the calendars."""
    off = max(sum((last - first).days + 1 for first, last in calendar.holidays) for calendar in calendars)
    return int(7.0 * (work + 2.0) / min(len(calendar.days) for calendar in calendars)) + off + 14


def first_day(origin: datetime.date, moment: float) -> datetime.date:
    """Day on which work that begins at the moment begins."""
    return origin + datetime.timedelta(int(np.floor(moment + TIE)))


def last_day(origin: datetime.date, moment: float) -> datetime.date:
    """Day on which work that ends at the moment ends; an end at midnight belongs to the day before."""
    return origin + datetime.timedelta(int(np.ceil(moment - TIE)) - 1)
