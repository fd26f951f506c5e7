"""Pieces of a deposited part: wire, hours and days of each, and which cell makes which so that the last is done soonest."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from scipy.optimize import Bounds, LinearConstraint, milp

from params.schema.route import Deposition, Route
from params.schema.schedule import Task
from params.schema.units import System, show
from params.steps.problems import Fault

HOURS = 24.0  # of a day in a cell that works day and night
EXACT = 14  # pieces up to which the best assignment is searched for; more go longest first


@dataclass(frozen=True)
class Work:
    """What one piece takes: kg, kg, h of arc, days of 24 h in the cell."""

    deposit_kg: float
    wire_kg: float
    arc_hours: float
    days: float


@dataclass(frozen=True)
class Cells:
    """`cell` of each piece, counted from 0; `days` until the last piece is done; `is_least`: no other way is shorter."""

    cell: tuple[int, ...]
    days: float
    is_least: bool


def work(given: Deposition, mass: float) -> Work:
    """Wire, hours and days to deposit `mass` kg (near-net, so with stock)."""
    arc = mass / given.rate
    return Work(mass, mass / given.yield_share, arc, arc / given.duty / HOURS)


def on_cells(days: Sequence[float], cells: int) -> Cells:
    """Pieces on cells, each piece whole, so that the longest cell time is least.

    Up to 14 pieces as an integer program, else longest piece first (at most 4/3 - 1/(3 cells) of the least: Graham,
    SIAM J. Appl. Math. 17 (1969) 416).
    """
    greedy = _longest_first(days, cells)
    if len(days) <= cells or len(days) > EXACT:
        return greedy
    best = _least(days, cells)
    return (
        best
        if best is not None and best.days < greedy.days - 1e-6
        else Cells(greedy.cell, greedy.days, best is not None)
    )


def _longest_first(days: Sequence[float], cells: int) -> Cells:
    load, cell = np.zeros(cells), [0] * len(days)
    for piece in sorted(range(len(days)), key=lambda piece: (-days[piece], piece)):
        cell[piece] = int(np.argmin(load))
        load[cell[piece]] += days[piece]
    return Cells(tuple(cell), float(load.max()), len(days) <= cells)


def _least(days: Sequence[float], cells: int) -> Cells | None:
    """Unknowns: piece i on cell j (0 or 1), then the longest time; each piece once, no cell beyond the longest."""
    count = len(days)
    once = np.zeros((count, count * cells + 1))
    loads = np.zeros((cells, count * cells + 1))
    for piece in range(count):
        columns = piece * cells + np.arange(cells)
        once[piece, columns] = 1.0
        loads[np.arange(cells), columns] = days[piece]
    loads[:, -1] = -1.0
    goal = np.append(np.zeros(count * cells), 1.0)
    whole = np.append(np.ones(count * cells), 0.0)
    bounds = Bounds(np.zeros(goal.size), np.append(np.ones(count * cells), np.inf))  # type: ignore[arg-type]
    rules = [LinearConstraint(once, 1.0, 1.0), LinearConstraint(loads, -np.inf, 0.0)]
    solution = milp(goal, integrality=whole, bounds=bounds, constraints=rules)
    if not solution.success:
        return None
    cell = solution.x[:-1].reshape(count, cells).argmax(axis=1)
    return Cells(tuple(map(int, cell)), float(np.bincount(cell, weights=days, minlength=cells).max()), True)


def too_large(route: Route, masses: Sequence[float], units: System = "si") -> list[Fault]:
    """A fault for each piece, kg, that is heavier than the cell carries."""
    most = route.limits.largest_mass
    mend = "add a joint or choose another cell"
    return [
        Fault(
            ("limits", "largest_mass"),
            f"piece {number}: {show(mass, 'mass', units)}",
            "is too heavy",
            f"at most {show(most, 'mass', units)}",
            mend,
        )
        for number, mass in enumerate(masses, 1)
        if mass > most
    ]


def with_pieces(route: Route, masses: Sequence[float]) -> Route:
    """The route whose depositing tasks take as long as these pieces, kg each, on its cells.

    The likely duration follows from mass, rate and duty; low and high keep their ratio to it.
    """
    if route.deposition is None:
        return route
    given = route.deposition
    days = on_cells([work(given, mass).days for mass in masses], given.cells).days
    tasks = {
        name: _with_duration(task, days) if task.work == "deposition" else task
        for name, task in route.tasks.items()
    }
    return route.model_copy(update={"tasks": tasks})


def _with_duration(task: Task, days: float) -> Task:
    low, high = (task.low / task.likely, task.high / task.likely) if task.likely else (1.0, 1.0)
    return task.model_copy(update={"low": low * days, "likely": days, "high": high * days})
