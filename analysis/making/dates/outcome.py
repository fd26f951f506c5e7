"""What a way to order gives, in columns: ready and order by, days left, chance of missing the outage, lateness and its cost."""

from __future__ import annotations

import datetime
from typing import Any

import numpy as np

from analysis.making.dates.calendar import first_day, last_day
from analysis.making.dates.cost import late_cost
from analysis.making.dates.plan import Outcome
from analysis.making.dates.risk import day_by, day_from, whole
from analysis.making.dates.window import Window, mean_over
from analysis.tables.confidence import EVEN, SHARES, SURE
from analysis.tables.names import names
from params.schema.schedule import Lateness

COLUMNS = [
    *(f"p{share}_ready" for share in SHARES),
    *names("chance_missed mean_late_d"),
    *(f"latest_order_p{share}" for share in SHARES),
    *(f"float_p{share}_d" for share in (EVEN, SURE)),
    *names("past expected_cost_of_lateness chance_missed_week_later cost_of_a_week currency"),
]


def lateness_of(window: Window, ready: np.ndarray) -> tuple[float, float]:
    """Chance of missing the outage and mean days late, every drawn end with every drawn work."""
    days = whole(ready)
    return mean_over(days, window.missed), mean_over(days, window.late)


def judged(window: Window, outcome: Outcome, lateness: Lateness) -> dict[str, Any]:
    """The columns of an outcome; costs are empty where the route file gives no rates."""
    order = window.outage.order
    missed, late = lateness_of(window, outcome.ready)
    missed_later, late_later = lateness_of(window, outcome.week_later)
    cost, cost_later = late_cost(lateness, missed, late), late_cost(lateness, missed_later, late_later)
    row: dict[str, Any] = {
        "chance_missed": missed,
        "mean_late_d": late,
        "chance_missed_week_later": missed_later,
        "expected_cost_of_lateness": cost.amount if cost else None,
        "cost_of_a_week": cost_later.amount - cost.amount if cost and cost_later else None,
        "currency": cost.currency if cost else None,
    }
    for share in SHARES:
        row[f"p{share}_ready"] = last_day(order, day_by(outcome.ready, share / 100.0))
        row[f"latest_order_p{share}"] = latest(order, outcome, share)
    for share in (EVEN, SURE):
        day = row[f"latest_order_p{share}"]
        row[f"float_p{share}_d"] = (day - order).days if day else None
    row["past"] = row[f"latest_order_p{SURE}"] is None or row[f"float_p{SURE}_d"] < 0
    return row


def latest(order: datetime.date, outcome: Outcome, share: int) -> datetime.date | None:
    """Latest day of the order for a confidence in percent; None where the work is too long for the outage more often than that."""
    moment = day_from(outcome.order, share / 100.0)
    return first_day(order, moment) if np.isfinite(moment) else None
