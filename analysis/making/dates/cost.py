"""Cost of a part and of its lateness, as low, likely and high; nothing where the route file gives no rates."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Any

from params.schema.money import Money
from params.schema.route import Route
from params.schema.schedule import Lateness, Outage


@dataclass(frozen=True)
class CostRange:
    low: float
    likely: float
    high: float
    currency: str


def exchanged(route: Route, outage: Outage) -> Route:
    """The route with its money in the currency of the outage's rates; as it is where they have none for its own."""

    def other(value: Any) -> Any:
        if isinstance(value, tuple):
            return tuple(other(item) for item in value)
        if not isinstance(value, Money) or value.currency not in outage.exchange:
            return value
        rate = outage.exchange[value.currency]
        return replace(value, amount=value.amount * rate.amount, currency=rate.currency)

    late = route.lateness.model_copy(update={name: other(value) for name, value in route.lateness})
    cost = route.cost and route.cost.model_copy(update={name: other(value) for name, value in route.cost})
    return route.model_copy(update={"lateness": late, "cost": cost})


def currency(route: Route) -> str:
    """The currency of all money in a route file, which has one; empty where it has no money."""
    late = route.lateness.once or route.lateness.per_day
    return late.currency if late else route.cost.fixed[0].currency if route.cost else ""


def part_cost(route: Route, mass: float, arc_hours: float = 0.0) -> CostRange | None:
    """fixed + per_kg x finished mass in kg + per_arc_hour x arc hours; None where no rates are given."""
    if route.cost is None:
        return None
    hourly = route.cost.per_arc_hour
    low, likely, high = (
        fixed.amount + kilogram.amount * mass + (hourly[number].amount if hourly else 0.0) * arc_hours
        for number, (fixed, kilogram) in enumerate(zip(route.cost.fixed, route.cost.per_kg, strict=True))
    )
    return CostRange(low, likely, high, route.cost.fixed[0].currency)


def second_cost(route: Route, mass: float, arc_hours: float = 0.0) -> CostRange | None:
    """A further part of the same order, without the fixed sum; None where no rates are given."""
    if route.cost is None or (whole := part_cost(route, mass, arc_hours)) is None:
        return None
    low, likely, high = (fixed.amount for fixed in route.cost.fixed)
    return CostRange(whole.low - low, whole.likely - likely, whole.high - high, whole.currency)


def late_cost(lateness: Lateness, chance_missed: float, mean_late: float) -> Money | None:
    """Expected cost: once x chance of missing the outage + per day x mean days late (0 where in time)."""
    given = [money for money in (lateness.once, lateness.per_day) if money]
    if not given:
        return None
    once = lateness.once.amount if lateness.once else 0.0
    daily = lateness.per_day.amount if lateness.per_day else 0.0
    return Money(once * chance_missed + daily * mean_late, given[0].currency)
