"""One route against one outage: the planned network, the drawn ones, and what they say."""

from __future__ import annotations

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
from analysis.making.dates.risk import Risk, risk
from analysis.making.dates.sampling import durations, needed, normals
from params.schema.route import Route
from params.schema.schedule import Outage
from params.steps.arrays import Floats


@dataclass(frozen=True)
class Plan:
    """Moments are days from the midnight at which the day of the order begins; arrays in the order of the tasks."""

    net: Network
    opens: float
    work: Floats  # planned durations, days of each calendar
    early: Moments
    late: Moments  # latest that keep the planned end
    due: Moments  # latest that keep the opening
    total_float: Floats
    free_float: Floats
    critical: NDArray[np.bool_]
    shortest: float  # end where every task is as short as believed and none of doubt is needed
    risk: Risk


def plan(route: Route, outage: Outage) -> Plan:
    """Planned: each task takes its likely time, one that is less than even likely to be needed takes none."""
    tasks = list(route.tasks.values())
    three = np.array([(task.low, task.likely, task.high) for task in tasks])
    chance = np.array([task.chance for task in tasks])
    net = laid_network(route, outage)
    opens = float((outage.opens - outage.order).days)
    work = np.where(chance >= 0.5, three[:, 1], 0.0)
    early = forward(net, work)
    late = backward(net, work, early.finish.max())
    drawn = durations(outage.distribution, three, normals(weights(route), outage.samples, outage.seed))
    drawn *= needed(chance, outage.samples, outage.seed)
    return Plan(
        net,
        opens,
        work,
        early,
        late,
        backward(net, work, opens),
        total_float(net, early, late),
        free_float(net, early),
        driving(net, early) & (work > 0.0),
        float(forward(net, np.where(chance < 1.0, 0.0, three[:, 0])).finish.max()),
        risk(net, drawn, work, opens),
    )


def laid_network(route: Route, outage: Outage) -> Network:
    """The tasks on calendars that reach as far as the longest durations, both ways."""
    longest = sum(task.high for task in route.tasks.values())
    reach = span(longest, list(route.calendars.values())) + (outage.opens - outage.order).days
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
