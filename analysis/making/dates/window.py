"""The outage as a window: when the work in it can begin, whether it is finished before it closes, how late it is otherwise.

Days are whole calendar days from the midnight on which the day of the order begins. The part is there at the end of a day; the work
begins on the next, not before the outage opens, and goes on every day. It misses the outage where it is not finished on
its last day. Then the outage is drawn out day by day, or the part waits for the next one (`missed` of the outage file), in which
the work takes its time anew; those after the next come yearly. Without work the part must be there before the outage opens.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np

from analysis.making.dates.calendar import TIE
from analysis.making.dates.sampling import durations, normals
from analysis.making.dates.threepoint import mean, variance
from params.schema.schedule import Outage, next_window, years_on
from params.steps.arrays import Floats

WORK = 2  # stream of the work's random numbers, beside the tasks' (see sampling)
YEARS = 30  # of windows beyond the last part drawn


@dataclass(frozen=True)
class Window:
    """`outage` with the drawn days of its work, whole days, shape (samples,); all 0 where it has none."""

    outage: Outage
    work: Floats

    @cached_property
    def within(self) -> Floats:
        """Chance that the work takes at most 0, 1, 2... days, up to the longest drawn."""
        return np.cumsum(np.bincount(self.work.astype(int))) / self.work.size

    def span(self, number: int) -> tuple[float, float]:
        """Beginning of the first and end of the last day of this outage (0), the next (1), and those a year after each other."""
        outage = self.outage
        first, last = next_window(outage)
        if number == 0:
            first, last = outage.opens, outage.closes
        elif number > 1:
            last = years_on(first, number - 1) + (last - first)
            first = years_on(first, number - 1)
        opens = float((first - outage.order).days)
        return opens, float((last - outage.order).days + 1) if outage.work else opens

    def fits(self, days: Floats) -> Floats:
        """Chance that the work takes no more than so many days."""
        found = self.within[np.clip(days, 0, self.within.size - 1).astype(int)]
        return np.where(days < 0.0, 0.0, found)

    def missed(self, ready: Floats, number: int = 0) -> Floats:
        """Chance of missing a window with a part that is there at the end of these days."""
        opens, closes = self.span(number)
        return 1.0 - self.fits(closes - np.maximum(ready, opens))

    def late(self, ready: Floats) -> Floats:
        """Mean days by which the outage is drawn out, or that the part waits for a later one; 0 where in time."""
        ready = np.asarray(ready, dtype=float)
        opens, closes = self.span(0)
        if self.outage.missed == "days":
            share = np.diff(self.within, prepend=0.0)
            over = np.maximum(ready, opens)[..., None] + np.arange(share.size) - closes
            return np.maximum(over, 0.0) @ share
        wait, chance = np.zeros_like(ready), np.ones_like(ready)
        for number in range(YEARS + int(max(ready.max() - opens, 0.0) / 365.0)):
            chance = chance * self.missed(ready, number)
            wait = wait + chance * (self.span(number + 1)[0] - self.span(number)[0])
        return wait

    @property
    def due(self) -> Floats:
        """Latest end of the day on which the part may be there, by work drawn; -inf where it is too long."""
        opens, closes = self.span(0)
        return np.where(closes - self.work >= opens, closes - self.work, -np.inf)

    @property
    def planned(self) -> Floats:
        """Planned days of each stage: their means."""
        return mean(self.outage.distribution, *three_of(self.outage).T)

    @property
    def spread(self) -> float:
        """Variance of the days of the work, stages independent of each other (rule of PERT)."""
        return float(variance(self.outage.distribution, *three_of(self.outage).T).sum())


def three_of(outage: Outage) -> Floats:
    """Low, likely and high days of each stage, shape (stages, 3)."""
    rows = [(stage.low, stage.likely, stage.high) for stage in outage.work.values()]
    return np.array(rows, dtype=float).reshape(len(rows), 3)


def window(outage: Outage) -> Window:
    """The outage with as many draws of its work as networks are drawn, stages independent of each other."""
    if not outage.work:
        return Window(outage, np.zeros(outage.samples))
    three = three_of(outage)
    z = normals(np.zeros((len(three), 0)), outage.samples, (outage.seed, WORK))
    return Window(outage, np.ceil(durations(outage.distribution, three, z).sum(axis=0) - TIE))


def mean_over(ready: Floats, judged) -> float:
    """Mean of a function of the day over drawn days; each different day is judged once."""
    days, counts = np.unique(ready, return_counts=True)
    return float(judged(days) @ counts / counts.sum())
