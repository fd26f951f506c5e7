"""What would have to change for two routes to change places: days, price, or chance of missing the outage.

Routes stand in the order of their likely cost with the expected cost of lateness; where costs are not known, of their chance
of missing the outage. All from the tables: `ready` is the chance of being ready by the end of each day.
"""

from __future__ import annotations

import datetime
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from analysis.making.dates.window import Window
from params.steps.arrays import Floats

Day = datetime.date
MOST_DAYS = 1000  # by which a route may be moved


@dataclass(frozen=True)
class Standing:
    """One route as the order sees it; money in one currency, None where unknown."""

    route: str
    window: Window
    ready: Mapping[Day, float]
    price: float | None
    once: float | None
    per_day: float | None
    currency: str

    @cached_property
    def drawn(self) -> tuple[Floats, Floats]:
        """Ends of the days on which the part may be ready, days from the order, and the chance of each."""
        order = self.window.outage.order
        ends = np.array([(day - order).days + 1.0 for day in self.ready])
        return ends, np.diff(np.array(list(self.ready.values())), prepend=0.0)

    def missed(self, later: int = 0) -> float:
        """Chance of missing the outage were every date so many days later."""
        ends, chance = self.drawn
        return float(self.window.missed(ends + later) @ chance)

    def mean_late(self, later: int = 0) -> float:
        """Mean days by which the outage is drawn out, or that the part waits for a later one."""
        ends, chance = self.drawn
        return float(self.window.late(ends + later) @ chance)

    def lateness(self, later: int = 0) -> float | None:
        """Expected cost of lateness; None where the route file gives no rates."""
        if self.once is None and self.per_day is None:
            return None
        return (self.once or 0.0) * self.missed(later) + (self.per_day or 0.0) * self.mean_late(later)

    def total(self, later: int = 0) -> float | None:
        """Likely price with the expected cost of lateness."""
        late = self.lateness(later)
        return None if self.price is None or late is None else self.price + late


def ordered(standings: list[Standing]) -> list[Standing]:
    """The order: by total where every route has one in one currency, else by the chance of missing the outage."""
    return sorted(
        standings, key=lambda one: (one.missed() if not priced(standings) else one.total() or 0.0, one.route)
    )


def priced(standings: list[Standing]) -> bool:
    return all(one.total() is not None for one in standings) and len({one.currency for one in standings}) <= 1


def sensitivity(one: Standing, order: list[Standing]) -> str:
    """For the first route what would move the second before it, for another what would bring it to the first place."""
    if len(order) < 2:
        return "the only route that holds"
    leads = order[0] is one
    other = order[1] if leads else order[0]
    ways = [by_days(one, other, leads, priced(order))]
    if priced(order):
        ways += [by_price(one, other, leads), by_chance(one, other, leads)]
    changes = " or ".join(way for way in ways if way)
    if leads:
        return f"stays first {f'until {changes}' if changes else 'however late it is'}; against {other.route}"
    if not changes:
        return f"no saving of time brings it to the first place; against {other.route}"
    return f"comes first if {changes}; against {other.route}"


def by_days(one: Standing, other: Standing, leads: bool, priced_: bool) -> str:
    """Least whole number of days by which the route would have to be later (or sooner)."""
    value: Callable[[int], float] = (lambda d: one.total(d) or 0.0) if priced_ else one.missed
    goal = (other.total() or 0.0) if priced_ else other.missed()
    sign = 1 if leads else -1
    for days in range(1, MOST_DAYS):
        if (value(sign * days) - goal) * sign > 0.0:
            return f"it is {days} d {'later' if leads else 'sooner'}"
    return ""


def by_price(one: Standing, other: Standing, leads: bool) -> str:
    """The price at which both cost the same, all else as it is."""
    change = (other.total() or 0.0) - (one.total() or 0.0)
    price = (one.price or 0.0) + change
    if price <= 0.0:
        return ""
    return f"its price {'rises' if leads else 'falls'} by {abs(change):,.0f} {one.currency} to {price:,.0f}"


def by_chance(one: Standing, other: Standing, leads: bool) -> str:
    """The chance of missing the outage at which both cost the same, the mean delay of a miss as it is."""
    late, missed = one.lateness() or 0.0, one.missed()
    room = (other.total() or 0.0) - (one.price or 0.0)
    if late <= 0.0 or missed <= 0.0 or room <= 0.0 or missed * room / late > 1.0:
        return ""
    way = "rises" if leads else "falls"
    return f"its chance of missing the outage {way} from {share(missed)} to {share(missed * room / late)}"


def share(chance: float) -> str:
    """A chance in percent, with a digit where it is small."""
    return f"{100.0 * chance:.1f} %" if chance < 0.1 else f"{100.0 * chance:.0f} %"
