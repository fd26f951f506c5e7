"""The tasks as a graph, run forward and backward; durations of one plan or of many thousand at once.

Moments have the shape (tasks, ...) of the durations. A task begins on its calendar once all before it have ended
(critical path method: Kelley & Walker, 1959 Eastern Joint Computer Conference, 160).
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import networkx as nx
import numpy as np
from numpy.typing import NDArray

from analysis.making.dates.calendar import TIE, WorkDays
from params.steps.arrays import Floats


@dataclass(frozen=True)
class Network:
    """Tasks in the order of the file; `order` runs from first to last, `before` and `after` hold indices."""

    names: tuple[str, ...]
    order: tuple[int, ...]
    before: tuple[tuple[int, ...], ...]
    after: tuple[tuple[int, ...], ...]
    calendars: tuple[WorkDays, ...]


@dataclass(frozen=True)
class Moments:
    """Start and finish of each task, in days from the origin, shape (tasks, ...)."""

    start: Floats
    finish: Floats


def network(after: Mapping[str, tuple[str, ...]], calendars: Mapping[str, WorkDays]) -> Network:
    """The graph of tasks by the names of those before each.

    Raises
    ------
    ValueError
        where a task waits for one that is not there, or for itself.
    """
    names = tuple(after)
    graph = nx.DiGraph()
    graph.add_nodes_from(names)
    graph.add_edges_from((one, name) for name, before in after.items() for one in before)
    if strange := set(graph) - set(names):
        raise ValueError(f"no such task: {', '.join(sorted(strange))}")
    if not nx.is_directed_acyclic_graph(graph):
        raise ValueError("the tasks wait for each other in a circle")
    index = {name: number for number, name in enumerate(names)}
    return Network(
        names,
        tuple(index[name] for name in nx.lexicographical_topological_sort(graph, key=index.__getitem__)),
        tuple(tuple(sorted(index[one] for one in graph.predecessors(name))) for name in names),
        tuple(tuple(sorted(index[one] for one in graph.successors(name))) for name in names),
        tuple(calendars[name] for name in names),
    )


def forward(net: Network, work: Floats, begin: float = 0.0) -> Moments:
    """Earliest start and finish of every task, nothing before `begin`."""
    start, finish = np.empty_like(work), np.empty_like(work)
    for task in net.order:
        free = np.full(work.shape[1:], begin)
        for one in net.before[task]:
            free = np.maximum(free, finish[one])
        start[task] = np.where(work[task] > 0.0, net.calendars[task].begins(free), free)
        finish[task] = net.calendars[task].finish(free, work[task])
    return Moments(start, finish)


def backward(net: Network, work: Floats, end: Floats | float) -> Moments:
    """Latest start and finish of every task that still end the whole by `end`."""
    start, finish = np.empty_like(work), np.empty_like(work)
    for task in reversed(net.order):
        due = np.broadcast_to(np.asarray(end, dtype=float), work.shape[1:])
        for one in net.after[task]:
            due = np.minimum(due, start[one])
        finish[task] = np.where(work[task] > 0.0, net.calendars[task].ends(due), due)
        start[task] = net.calendars[task].latest_start(due, work[task])
    return Moments(start, finish)


def total_float(net: Network, early: Moments, late: Moments) -> Floats:
    """Days of its own calendar by which each task may slip without moving the end, shape (tasks, ...)."""
    gaps = [
        days.worked(late.finish[task]) - days.worked(early.finish[task])
        for task, days in enumerate(net.calendars)
    ]
    return np.where(np.abs(gaps) < TIE, 0.0, np.array(gaps))


def free_float(net: Network, early: Moments) -> Floats:
    """Days of its own calendar by which each task may slip without moving any other, shape (tasks, ...)."""
    ready = early.finish.max(axis=0)
    gaps = np.empty_like(early.finish)
    for task, days in enumerate(net.calendars):
        next_start = ready
        for one in net.after[task]:
            next_start = np.minimum(next_start, early.start[one])
        gaps[task] = days.worked(next_start) - days.worked(early.finish[task])
    return np.where(np.abs(gaps) < TIE, 0.0, gaps)


def driving(net: Network, early: Moments) -> NDArray[np.bool_]:
    """Whether each task lies on a path that sets the end: the last of those before each task that does so.

    Traced from the end, because with several calendars days off give floats to tasks that drive.
    """
    drives = np.zeros(early.finish.shape, dtype=bool)
    ready = early.finish.max(axis=0)
    for task in reversed(net.order):
        if not net.after[task]:
            drives[task] = early.finish[task] >= ready - TIE
        for one in net.before[task]:
            latest = np.max([early.finish[other] for other in net.before[task]], axis=0)
            drives[one] |= drives[task] & (early.finish[one] >= latest - TIE)
    return drives
