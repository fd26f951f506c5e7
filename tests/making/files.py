"""Small routes, outages and networks for the tests."""

from __future__ import annotations

import datetime
from pathlib import Path

from analysis.making.dates.calendar import WorkDays, laid_out
from analysis.making.dates.network import Network, network
from params.files.readroute import read_outage, read_route
from params.schema.route import Route
from params.schema.schedule import Calendar, Outage, Task

PARAMS = Path(__file__).parents[2] / "params"
ORIGIN = datetime.date(2027, 1, 4)  # a Monday
ALL_DAYS = Calendar(days=("mon", "tue", "wed", "thu", "fri", "sat", "sun"))
WEEKDAYS = Calendar(days=("mon", "tue", "wed", "thu", "fri"))


def demo(name: str) -> Route:
    return read_route(PARAMS / "routes" / f"{name}.yaml")


def demo_outage() -> Outage:
    return read_outage(PARAMS / "outages" / "early-summer.yaml")[0]


def days(calendar: Calendar = ALL_DAYS, reach: int = 3000) -> WorkDays:
    return laid_out(calendar, ORIGIN, reach, reach)


def always(after: dict[str, tuple[str, ...]]) -> Network:
    """A network whose tasks go on round the clock."""
    return network(after, dict.fromkeys(after, days()))


def task(low: float, likely: float, high: float, after: tuple[str, ...] = (), **more: object) -> Task:
    given = {
        "title": "t",
        "after": after,
        "calendar": "always",
        "low": f"{low} d",
        "likely": f"{likely} d",
        "high": f"{high} d",
    }
    return Task.model_validate(given | more)


def route_of(tasks: dict[str, Task], calendar: Calendar = ALL_DAYS, **more: object) -> Route:
    """The cast demo with other tasks, all on one calendar."""
    return demo("cast").model_copy(
        update={"tasks": tasks, "calendars": {"always": calendar}, "causes": {}} | more
    )


def outage_of(opens: int, order: datetime.date = ORIGIN, **more: object) -> Outage:
    """An outage that opens so many days after the order."""
    day = order + datetime.timedelta(opens)
    given = {"name": "o", "description": "d", "order": order, "opens": day, "closes": day}
    return Outage(**(given | more))  # type: ignore[arg-type]
