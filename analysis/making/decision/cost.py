"""Cost of a part and of its lateness, as low, likely and high; nothing where the route file gives no rates."""

from __future__ import annotations

from dataclasses import dataclass

from params.schema.money import Money
from params.schema.route import Route
from params.schema.schedule import Lateness


@dataclass(frozen=True)
class CostRange:
    low: float
    likely: float
    high: float
    currency: str


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


def late_cost(lateness: Lateness, chance_missed: float, mean_late: float) -> Money | None:
    """Expected cost: once x chance of missing the opening + per day x mean days late (0 where ready)."""
    given = [money for money in (lateness.once, lateness.per_day) if money]
    if not given:
        return None
    once = lateness.once.amount if lateness.once else 0.0
    daily = lateness.per_day.amount if lateness.per_day else 0.0
    return Money(once * chance_missed + daily * mean_late, given[0].currency)
