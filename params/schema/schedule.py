"""What a route file says of time: calendars, causes shared by tasks, tasks; and the outage file with its dates.

Durations are days of the task's own calendar: working days in a shop, days of 24 hours where work goes on round the clock.
"""

from __future__ import annotations

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


class Lateness(Frozen):
    """What happens where the part is not ready when the outage opens."""

    consequence: Text = Field(description="In words.")
    once: Sum | None = Field(default=None, description="Cost of missing the opening at all.")
    per_day: PerDay | None = Field(default=None, description="Cost of each calendar day after the opening.")


class Outage(Frozen):
    """One outage file: the only place from which dates come."""

    name: Name = Field(description="Name of the outage; the file's name without .yaml.")
    description: Text = Field(description="What stops, and why then.")
    order: Day = Field(description="Day on which the order can be placed.")
    opens: Day = Field(description="First day of the outage; the part is ready if finished before it.")
    closes: Day = Field(description="Last day of the outage.")
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
