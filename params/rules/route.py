"""Rules of a route file that join several keys: network, calendars, causes, durations, rates, currency."""

from __future__ import annotations

import difflib
import math
from collections.abc import Iterator
from graphlib import CycleError, TopologicalSorter
from itertools import chain, islice
from typing import Any

from pydantic import BaseModel

from params.schema.money import Money
from params.schema.route import Route
from params.schema.schedule import Outage
from params.schema.wire import wire_rate
from params.steps.problems import MOST, Fault, Key

MOST_YEARS = 500.0  # of all tasks in a row; dates end in the year 9999 (ISO 8601)
RATE_AGREES = 0.10  # share by which a measured rate may differ from wire feed times yield


def broken_route(route: Route, forms: dict[str, str] | None) -> list[Fault]:
    """Every broken rule; `forms` holds the form of each material file, None where they were checked before."""
    rules = [durations(route), reach(route), references(route), circles(route), calendars(route)]
    rules += [
        materials(route, forms) if forms is not None else iter(()),
        deposition(route),
        weights(route),
        currencies(route),
    ]
    return list(islice(chain.from_iterable(rules), MOST))


def broken_outage(outage: Outage) -> list[Fault]:
    """Dates out of their order."""
    faults = []
    if outage.opens <= outage.order:
        limit, mend = f"after the order on {outage.order}", "move the outage or the order"
        faults.append(Fault(("opens",), str(outage.opens), "opens before the part is ordered", limit, mend))
    if outage.closes < outage.opens:
        limit = f"on {outage.opens} or later"
        faults.append(
            Fault(("closes",), str(outage.closes), "closes before it opens", limit, "check both dates")
        )
    return [*faults, *rates(outage)]


def rates(outage: Outage) -> Iterator[Fault]:
    """All rates lead to one currency, which has none itself, and are above 0."""
    into = list(dict.fromkeys(rate.currency for rate in outage.exchange.values()))
    for currency, rate in outage.exchange.items():
        key, value = ("exchange", currency), f"{rate.amount:g} {rate.currency}"
        if rate.currency != into[0]:
            limit = "one currency for all rates"
            yield Fault(key, value, "leads to another currency than the other rates", limit, "convert them")
        elif currency in into:
            yield Fault(key, value, "is a rate of a currency to itself", "another currency", "remove it")
        if rate.amount <= 0.0:
            yield Fault(key, value, "is out of range", "above 0", "check the number")


def durations(route: Route) -> Iterator[Fault]:
    for name, task in route.tasks.items():
        if not task.low <= task.likely <= task.high:
            value = f"{task.low:g}, {task.likely:g}, {task.high:g} d"
            yield Fault(
                ("tasks", name),
                value,
                "low, likely and high are out of order",
                "low <= likely <= high",
                "sort them",
            )


def reach(route: Route) -> Iterator[Fault]:
    """Longest durations one behind the other, in calendar years: far beyond them there are no dates."""
    working = {name: len(calendar.days) for name, calendar in route.calendars.items()}
    days = sum(task.high * 7.0 / working.get(task.calendar, 7) for task in route.tasks.values())
    if days > MOST_YEARS * 365.25:
        wrong, limit = "is how long all tasks take one after another", f"at most {MOST_YEARS:.0f} years"
        yield Fault(("tasks",), f"{days / 365.25:.0f} years", wrong, limit, "check durations and calendars")


def references(route: Route) -> Iterator[Fault]:
    """Names of tasks, calendars and causes that are nowhere."""
    for name, task in route.tasks.items():
        key: Key = ("tasks", name)
        yield from missing((*key, "after"), task.after, route.tasks, "a task of this file")
        yield from missing((*key, "calendar"), (task.calendar,), route.calendars, "a calendar of this file")
        yield from missing((*key, "causes"), task.causes, route.causes, "a cause of this file")


def missing(key: Key, wanted: tuple[str, ...], known: dict[str, Any], kind: str) -> Iterator[Fault]:
    for name in wanted:
        if name not in known:
            near = difflib.get_close_matches(name, known, n=1, cutoff=0.5)
            mend = f"did you mean {near[0]}?" if near else "add it or remove the name"
            yield Fault(key, name, f"is not {kind}", f"one of {', '.join(known)}", mend)


def circles(route: Route) -> Iterator[Fault]:
    """Tasks that wait for themselves."""
    try:
        TopologicalSorter({name: task.after for name, task in route.tasks.items()}).prepare()
        return
    except CycleError as error:
        circle = error.args[1][:-1]  # each before the next; the first stands at the end again
    start = circle.index(min(circle))
    value = " -> ".join([*circle[start:], *circle[:start], circle[start]])
    yield Fault(
        ("tasks", circle[start], "after"),
        value,
        "these tasks wait for each other in a circle",
        "no circles",
        "remove one of them from `after`",
    )


def calendars(route: Route) -> Iterator[Fault]:
    for name, calendar in route.calendars.items():
        if len(set(calendar.days)) < len(calendar.days):
            yield Fault(("calendars", name, "days"), "", "names a day twice", "each day once", "remove one")


def weights(route: Route) -> Iterator[Fault]:
    for name, task in route.tasks.items():
        total = math.fsum(route.causes[cause].weight for cause in set(task.causes) & set(route.causes))
        if total > 1.0 + 1e-12:
            yield Fault(
                ("tasks", name, "causes"),
                f"{total:g}",
                "weights add up to more than 1",
                "at most 1",
                "lower them",
            )
        if len(set(task.causes)) < len(task.causes):
            yield Fault(("tasks", name, "causes"), "", "names a cause twice", "each cause once", "remove one")


def materials(route: Route, forms: dict[str, str]) -> Iterator[Fault]:
    for name in route.materials:
        if name not in forms:
            yield from missing(("materials",), (name,), forms, "the name of a material file")
        elif forms[name] != route.form:
            yield Fault(
                ("materials",),
                name,
                f"has the form {forms[name]}",
                f"a material of the form {route.form}",
                "choose another",
            )


def deposition(route: Route) -> Iterator[Fault]:
    """Bead and rate where metal is deposited; wire feed and rate agree."""
    given = route.deposition
    if (given is None) != (route.form != "deposited"):
        wrong = "is missing" if given is None else "is only for the form deposited"
        mend = "add it, or write another form" if given is None else "remove it, or write form: deposited"
        yield Fault(("deposition",), "", wrong, "", mend)
    if route.form == "deposited" and route.limits.bead_width is None:
        yield Fault(("limits", "bead_width"), "", "is missing", "the width of one deposited bead", "add it")
    if any(task.work for task in route.tasks.values()) and given is None:
        wrong, mend = "a task has `work: deposition` and the file no section `deposition`", "add the section"
        yield Fault(("tasks",), "", wrong, "", mend)
    if given and given.torch:
        fed = wire_rate(given.torch.wire, given.torch.feed, yield_share=given.yield_share)
        if abs(given.rate / fed - 1.0) > RATE_AGREES:
            limit = f"within {RATE_AGREES:.0%} of {fed:.3g} kg/h"
            wrong = "differs from wire feed times yield share"
            yield Fault(
                ("deposition", "rate"), f"{given.rate:g} kg/h", wrong, limit, "check rate, wire and feed"
            )


def currencies(route: Route) -> Iterator[Fault]:
    places = {currency: key for key, currency in money_in(route, ())}
    if len(places) > 1:
        key, value = list(places.values())[-1], ", ".join(sorted(places))
        yield Fault(key, value, "are different currencies", "one currency in a file", "convert them")


def money_in(value: Any, key: Key) -> Iterator[tuple[Key, str]]:
    """Keys of all money below `value`, with its currency."""
    if isinstance(value, Money):
        yield key, value.currency
    elif isinstance(value, BaseModel):
        for name in type(value).model_fields:
            yield from money_in(getattr(value, name), (*key, name))
    elif isinstance(value, tuple):
        for index, item in enumerate(value):
            yield from money_in(item, (*key, index))
