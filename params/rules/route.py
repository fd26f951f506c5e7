"""Rules of a route file that join several keys: network, calendars, causes, durations, rates, currency."""

from __future__ import annotations

import datetime
import difflib
import math
from collections.abc import Iterator, Mapping
from graphlib import CycleError, TopologicalSorter
from itertools import chain, islice
from typing import Any

from pydantic import BaseModel

from params.schema.money import Money
from params.schema.route import Route
from params.schema.schedule import Outage, Stage, Task
from params.schema.wire import wire_rate
from params.steps.problems import MOST, Fault, Key

MOST_YEARS = 500.0  # of all tasks in a row; dates end in the year 9999 (ISO 8601)
RATE_AGREES = 0.10  # share by which a measured rate may differ from wire feed times yield


def broken_route(route: Route, forms: dict[str, str] | None) -> list[Fault]:
    """Every broken rule; `forms` holds the form of each material file, None where they were checked before."""
    rules = [
        ordered("tasks", route.tasks),
        remedies(route),
        reach(route),
        references(route),
        circles(route),
        calendars(route),
    ]
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
    return [*faults, *stages(outage), *next_window(outage), *rates(outage)]


def days_of(opens: datetime.date, closes: datetime.date) -> int:
    """Days of an outage, first and last counted."""
    return (closes - opens).days + 1


def stages(outage: Outage) -> Iterator[Fault]:
    """Durations in order, and an outage that is long enough for the likely ones."""
    yield from ordered("work", outage.work)
    likely, room = sum(stage.likely for stage in outage.work.values()), days_of(outage.opens, outage.closes)
    if likely > room >= 1:
        limit = f"at most {room} d, from {outage.opens} to {outage.closes}"
        wrong, mend = "is longer than the outage", "lengthen the outage or shorten the work"
        yield Fault(("work",), f"{likely:g} d of work", wrong, limit, mend)


def next_window(outage: Outage) -> Iterator[Fault]:
    """The next outage comes after this one, closes after it opens, and is long enough for the work."""
    opens, closes = outage.next_opens, outage.next_closes
    if opens is None:
        if closes is not None:
            yield Fault(("next_closes",), str(closes), "has no next_opens beside it", "", "add next_opens")
        return
    if opens <= outage.closes:
        limit, mend = f"after {outage.closes}, when this one closes", "check both dates"
        yield Fault(("next_opens",), str(opens), "is not after this outage", limit, mend)
    if closes is None:
        return
    if closes < opens:
        limit = f"on {opens} or later"
        yield Fault(("next_closes",), str(closes), "closes before it opens", limit, "check both dates")
        return
    likely, room = sum(stage.likely for stage in outage.work.values()), days_of(opens, closes)
    if likely > room:
        limit, mend = f"at most {room} d, from {opens} to {closes}", "lengthen it or shorten the work"
        yield Fault(("next_closes",), f"{likely:g} d of work", "is longer than the next outage", limit, mend)


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


def ordered(key: str, tasks: Mapping[str, Task | Stage]) -> Iterator[Fault]:
    """Durations out of their order."""
    for name, task in tasks.items():
        if not task.low <= task.likely <= task.high:
            value = f"{task.low:g}, {task.likely:g}, {task.high:g} d"
            wrong = "low, likely and high are out of order"
            yield Fault((key, name), value, wrong, "low <= likely <= high", "sort them")


def remedies(route: Route) -> Iterator[Fault]:
    """What mends a failed examination follows one and is in doubt."""
    for name, task in route.tasks.items():
        if task.remedy and task.chance == 1.0:
            wrong, limit = "is certain, and yet mends a failed examination", "below 1"
            yield Fault(("tasks", name, "chance"), "1", wrong, limit, "write the chance that it fails")
        if task.remedy and not task.after:
            wrong, limit = "mends a failed examination and follows none", "the task of the examination"
            yield Fault(("tasks", name, "after"), "", wrong, limit, "name it in `after`")


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
