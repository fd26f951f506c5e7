"""What a route file says of time: calendars, causes shared by tasks, tasks; and the outage file with its dates.

Durations are days of the task's own calendar: working days in a shop, days of 24 hours where work goes on round the clock.
"""

from __future__ import annotations

import datetime
from typing import Annotated, Literal

from pydantic import Field

from params.schema.day import Day, Stretch
from params.schema.fields import Frozen, Name, Number, Text, Whole
from params.schema.money import Currency, PerDay, Sum
from params.schema.units import within

Duration = Annotated[float, within("days", "0 d", "1000 d")]
Weekday = Literal["mon", "tue", "wed", "thu", "fri", "sat", "sun"]


class Calendar(Frozen):
    """Working days of one shop or carrier."""

    days: tuple[Weekday, ...] = Field(
        min_length=1,
        max_length=7,
        description="Days of the week on which work goes on; all seven: round the clock.",
    )
    holidays: tuple[Stretch, ...] = Field(
        default=(), max_length=500, description="Days off: single days or stretches, first to last."
    )


class Cause(Frozen):
    """Something that makes several tasks long or short together."""

    title: Text = Field(description="What they share: a crowded shop, one crew, one supplier.")
    weight: Number = Field(
        gt=0.0, le=1.0, description="Correlation that it gives to any two of its tasks (normal copula)."
    )


class Task(Frozen):
    title: Text = Field(description="What is done.")
    after: tuple[Name, ...] = Field(default=(), description="Tasks that must be finished before.")
    calendar: Name = Field(description="Calendar that counts its days.")
    low: Duration = Field(description="Shortest duration that is believed.")
    likely: Duration = Field(description="Likeliest duration.")
    high: Duration = Field(description="Longest duration that is believed.")
    chance: Number = Field(
        default=1.0,
        gt=0.0,
        le=1.0,
        description="Chance that it is needed at all, such as a repair; else it takes no time.",
    )
    causes: tuple[Name, ...] = Field(
        default=(), description="Causes that it shares; their weights add up to 1 at most."
    )
    work: Literal["deposition"] | None = Field(
        default=None, description="deposition: durations follow from the pieces' mass where that is known."
    )
    remedy: Literal["repair", "recast"] | None = Field(
        default=None,
        description="What it does where the examination before it fails; `chance` is the chance that it fails so.",
    )


class Lateness(Frozen):
    """What happens where the outage is missed (`missed` of the outage file says how days are counted)."""

    consequence: Text = Field(description="In words.")
    once: Sum | None = Field(default=None, description="Cost of missing the outage at all.")
    per_day: PerDay | None = Field(default=None, description="Cost of each calendar day late or of waiting.")


class Stage(Frozen):
    """Work with the part in the outage; its days are calendar days, all seven of a week."""

    title: Text = Field(description="What is done.")
    low: Duration = Field(description="Shortest duration that is believed.")
    likely: Duration = Field(description="Likeliest duration.")
    high: Duration = Field(description="Longest duration that is believed.")


class Outage(Frozen):
    """One outage file: the only place from which dates come."""

    name: Name = Field(description="Name of the outage; the file's name without .yaml.")
    description: Text = Field(description="What stops, and why then.")
    order: Day = Field(description="Day on which the order can be placed.")
    opens: Day = Field(description="First day of the outage.")
    closes: Day = Field(description="Last day of the outage; the work must be finished on it.")
    work: dict[Name, Stage] = Field(
        default={},
        max_length=50,
        description="Work with the part, one stage after the other; it begins on the first day of the outage on which the part"
        " is there. Without it the part must be ready before the outage opens.",
    )
    missed: Literal["days", "next window"] = Field(
        default="days",
        description="What a missed outage means: days, it is drawn out until the work is done; next window, the part waits"
        " for the next outage. Each day at the route's cost of lateness.",
    )
    next_opens: Day | None = Field(
        default=None, description="First day of the next outage; without it the same day a year later."
    )
    next_closes: Day | None = Field(
        default=None, description="Last day of the next outage; without it that is as long as this one."
    )
    samples: Whole = Field(default=20_000, ge=1000, le=500_000, description="Networks that are drawn.")
    seed: Whole = Field(default=1, ge=0, le=2**32 - 1, description="Seed; same seed, same dates.")
    distribution: Literal["pert", "triangular"] = Field(
        default="pert", description="Shape between low and high; triangular has the longer tails."
    )
    exchange: dict[Currency, Sum] = Field(
        default={},
        description="What one unit of another currency is worth, such as {USD: 0.92 EUR}; without it prices in different"
        " currencies are kept apart.",
    )


def years_on(day: datetime.date, years: int) -> datetime.date:
    """The same day some years later; 28 February for a leap day.

    >>> years_on(datetime.date(2028, 2, 29), 1)
    datetime.date(2029, 2, 28)
    """
    try:
        return day.replace(year=day.year + years)
    except ValueError:
        return day.replace(year=day.year + years, day=28)


def next_window(outage: Outage) -> tuple[datetime.date, datetime.date]:
    """First and last day of the next outage: the file's, else a year later and as long as this one."""
    first = outage.next_opens or years_on(outage.opens, 1)
    return first, outage.next_closes or first + (outage.closes - outage.opens)
