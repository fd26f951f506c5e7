"""Beside one route alone: two routes ordered at once, a spare with the first part, a failed examination, the work in the outage."""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Sequence
from typing import Any

import numpy as np

from analysis.making.dates.calendar import last_day
from analysis.making.dates.cost import exchanged, late_cost
from analysis.making.dates.outcome import COLUMNS, judged, lateness_of
from analysis.making.dates.plan import Outcome, Plan
from analysis.making.dates.risk import day_by, whole
from analysis.making.dates.threepoint import mean
from analysis.tables.confidence import READY, SURE
from analysis.tables.names import names
from params.schema.money import Money
from params.schema.route import Route
from params.schema.schedule import Lateness, Outage
from params.steps.caution import CAUTION

WAYS = [*names("way kind routes title"), *COLUMNS, *names("note caution")]
FAILURES = [
    *names("route task title examination remedy chance low_d likely_d high_d mean_d added_d"),
    *(f"{READY}_if_passed", f"{READY}_if_failed"),
    *names("chance_missed_if_passed chance_missed_if_failed cost_of_lateness_if_passed"),
    *names("cost_of_lateness_if_failed currency caution"),
]
WORK = names("route stage title low_d likely_d high_d planned_d start finish caution")
APART = "it is assumed that the vendors have no cause of delay in common"
SAME_SHOP = (
    "both parts go through one shop on the same days, only what their examinations find differs; whether it can make"
    " two at once, ask; the part that is not used stays as a spare"
)
Planned = tuple[Route, Outage, Plan]


def ways(planned: Sequence[Planned]) -> Iterator[dict[str, Any]]:
    """A row for every pair of routes, then one for a spare by each route whose examinations can fail."""
    for one, other in itertools.combinations(planned, 2):
        yield pair(one, other)
    for route, outage, schedule in planned:
        if schedule.spare is not None:
            row = judged(schedule.window, schedule.spare, exchanged(route, outage).lateness)
            title = f"Two parts ordered by the route {route.name}; the first that passes goes in."
            named = {"way": f"{route.name} with a spare", "kind": "spare", "routes": route.name}
            yield {**row, **named, "title": title, "note": SAME_SHOP, "caution": CAUTION}


def pair(one: Planned, other: Planned) -> dict[str, Any]:
    """Both ordered on the same day; the first that is ready goes in."""
    first, second = one[2].outcome, other[2].outcome
    outcome = Outcome(
        np.minimum(first.ready, second.ready),
        np.minimum(first.week_later, second.week_later),
        np.maximum(first.order, second.order),
    )
    late, said = greater(*(exchanged(route, outage).lateness for route, outage, _ in (one, other)))
    both = [one[0].name, other[0].name]
    return {
        **judged(one[2].window, outcome, late),
        "way": " and ".join(both),
        "kind": "two routes",
        "routes": " ".join(both),
        "title": f"Ordered by the routes {both[0]} and {both[1]} at once; the first that is ready goes in.",
        "note": "; ".join(filter(None, (APART, said))),
        "caution": CAUTION,
    }


def greater(one: Lateness, other: Lateness) -> tuple[Lateness, str]:
    """The greater of the rates of two routes, which cannot be less than the truth; none where they are in two currencies."""
    given = [m for late in (one, other) for m in (late.once, late.per_day) if m]
    if len({money.currency for money in given}) > 1:
        nothing = one.model_copy(update={"once": None, "per_day": None})
        return nothing, "no cost of lateness: the routes' are in different currencies without a rate"
    most = {name: largest(getattr(one, name), getattr(other, name)) for name in ("once", "per_day")}
    return one.model_copy(update=most), ""


def largest(*given: Money | None) -> Money | None:
    return max((money for money in given if money), key=lambda money: money.amount, default=None)


def failures(route: Route, outage: Outage, schedule: Plan) -> Iterator[dict[str, Any]]:
    """What each failed examination does to date, chance and cost, all else as drawn."""
    late = exchanged(route, outage).lateness
    for remedy in schedule.remedies:
        task = route.tasks[remedy.task]
        row: dict[str, Any] = {
            "route": route.name,
            "task": remedy.task,
            "title": task.title,
            "examination": "; ".join(route.tasks[name].title for name in task.after),
            "remedy": task.remedy,
            "chance": task.chance,
            "low_d": task.low,
            "likely_d": task.likely,
            "high_d": task.high,
            "mean_d": float(mean(outage.distribution, *np.array((task.low, task.likely, task.high)))),
            "added_d": float(np.mean(remedy.failed - remedy.passed)),
            "caution": CAUTION,
        }
        for word, ready in (("passed", remedy.passed), ("failed", remedy.failed)):
            missed, days = lateness_of(schedule.window, ready)
            cost = late_cost(late, missed, days)
            row[f"{READY}_if_{word}"] = last_day(outage.order, day_by(ready, SURE / 100.0))
            row[f"chance_missed_if_{word}"] = missed
            row[f"cost_of_lateness_if_{word}"] = cost.amount if cost else None
            row["currency"] = cost.currency if cost else None
        yield row


def work_rows(route: Route, outage: Outage, schedule: Plan) -> Iterator[dict[str, Any]]:
    """The stages of the work as planned, behind the planned part: each on whole days, the last finishing day rounded up."""
    start = max(float(whole(schedule.early.finish.max())), schedule.opens)
    for (name, stage), days in zip(outage.work.items(), schedule.window.planned, strict=True):
        yield {
            "route": route.name,
            "stage": name,
            "title": stage.title,
            "low_d": stage.low,
            "likely_d": stage.likely,
            "high_d": stage.high,
            "planned_d": float(days),
            "start": last_day(outage.order, float(np.floor(start)) + 1.0),
            "finish": last_day(outage.order, start + float(days)),
            "caution": CAUTION,
        }
        start += float(days)
