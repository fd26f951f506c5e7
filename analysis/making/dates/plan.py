"""One route against one outage: the planned network, the drawn ones, and what they say."""

from __future__ import annotations

import zlib
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from analysis.making.dates.calendar import laid_out, span
from analysis.making.dates.network import (
    Moments,
    Network,
    backward,
    driving,
    forward,
    free_float,
    network,
    total_float,
)
from analysis.making.dates.normal import Normal, normal
from analysis.making.dates.risk import Risk, latest_order, ready_of, risk
from analysis.making.dates.sampling import durations, needed, normals
from analysis.making.dates.threepoint import mean
from analysis.making.dates.window import Window, window
from params.schema.route import Route
from params.schema.schedule import Outage
from params.steps.arrays import Floats

WEEK = 7.0  # days by which an order is put off to see what that costs
SPARE = 3  # stream of the spare's random numbers, beside those of tasks and needs (see sampling)


@dataclass(frozen=True)
class Outcome:
    """Drawn networks of one way to order: ready, ready if ordered a week later, latest order; shape (samples,)."""

    ready: Floats
    week_later: Floats
    order: Floats


@dataclass(frozen=True)
class Remedy:
    """A failed examination, the same draws with and without it: ready where it fails and where it does not."""

    task: str
    failed: Floats
    passed: Floats


@dataclass(frozen=True)
class Plan:
    """Moments are days from the midnight at which the day of the order begins; arrays in the order of the tasks."""

    net: Network
    window: Window
    opens: float
    needed_by: float  # end of the day on which the part must be there, work as planned
    work: Floats  # planned durations, days of each calendar
    early: Moments
    late: Moments  # latest that keep the planned end
    due: Moments  # latest that have the part there when it is needed
    total_float: Floats
    free_float: Floats
    critical: NDArray[np.bool_]
    shortest: float  # end where every task is as short as believed and none of doubt is needed
    risk: Risk
    normal: Normal
    outcome: Outcome
    spare: (
        Outcome | None
    )  # the better of two parts, whose examinations fail each on its own; None where none can fail
    remedies: tuple[Remedy, ...]


def plan(route: Route, outage: Outage) -> Plan:
    """Planned: each task takes its mean time, one that is less than even likely to be needed takes none."""
    tasks = list(route.tasks.values())
    three = np.array([(task.low, task.likely, task.high) for task in tasks])
    chance = np.array([task.chance for task in tasks])
    net, win = laid_network(route, outage), window(outage)
    opens, closes = win.span(0)
    needed_by = float(np.floor(closes - win.planned.sum()))
    work = np.where(chance >= 0.5, mean(outage.distribution, *three.T), 0.0)
    early = forward(net, work)
    late = backward(net, work, early.finish.max())
    seed = (outage.seed, zlib.crc32(route.name.encode()))  # routes are drawn each on its own
    long = durations(outage.distribution, three, normals(weights(route), outage.samples, seed))
    asked = needed(chance, outage.samples, seed)
    drawn = long * asked
    judged = risk(net, drawn, np.where(chance >= 0.5, three[:, 1], 0.0), win.due)
    outcome = Outcome(judged.ready, ready_of(net, drawn, WEEK), judged.order)
    return Plan(
        net,
        win,
        opens,
        needed_by,
        work,
        early,
        late,
        backward(net, work, needed_by),
        total_float(net, early, late),
        free_float(net, early),
        driving(net, early) & (work > 0.0),
        float(forward(net, np.where(chance < 1.0, 0.0, three[:, 0])).finish.max()),
        judged,
        normal(net, route, outage, three, chance),
        outcome,
        spare(route, net, win, long, asked, outcome, (*seed, SPARE)),
        tuple(remedies(route, net, long, asked)),
    )


def spare(
    route: Route,
    net: Network,
    win: Window,
    long: Floats,
    asked: NDArray[np.bool_],
    first: Outcome,
    seed: tuple[int, ...],
) -> Outcome | None:
    """The better of two parts made side by side: the same durations, only what the examinations find is drawn anew."""
    doubtful = np.array([task.remedy is not None for task in route.tasks.values()])
    if not doubtful.any():
        return None
    chance = np.array([task.chance for task in route.tasks.values()])
    second = long * np.where(doubtful[:, None], needed(chance, long.shape[1], seed), asked)
    return Outcome(
        np.minimum(first.ready, ready_of(net, second)),
        np.minimum(first.week_later, ready_of(net, second, WEEK)),
        np.maximum(first.order, latest_order(net, second, win.due)),
    )


def remedies(route: Route, net: Network, long: Floats, asked: NDArray[np.bool_]):
    """Each failed examination with all else as drawn."""
    for number, (name, task) in enumerate(route.tasks.items()):
        if task.remedy:
            ready = []
            for fails in (True, False):
                forced = asked.copy()
                forced[number] = fails
                ready.append(ready_of(net, long * forced))
            yield Remedy(name, *ready)


def laid_network(route: Route, outage: Outage) -> Network:
    """The tasks on calendars that reach as far as the longest durations, both ways."""
    longest = sum(task.high for task in route.tasks.values())
    reach = (
        span(longest, list(route.calendars.values())) + (outage.closes - outage.order).days + int(WEEK) + 1
    )
    laid = {name: laid_out(given, outage.order, reach, reach) for name, given in route.calendars.items()}
    after = {name: task.after for name, task in route.tasks.items()}
    return network(after, {name: laid[task.calendar] for name, task in route.tasks.items()})


def weights(route: Route) -> Floats:
    """Correlation that each cause gives its tasks, shape (tasks, causes)."""
    rows = [
        [cause.weight if name in task.causes else 0.0 for name, cause in route.causes.items()]
        for task in route.tasks.values()
    ]
    return np.array(rows, dtype=float).reshape(len(route.tasks), len(route.causes))
