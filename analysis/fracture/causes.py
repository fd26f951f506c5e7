"""What would explain a found crack that the duty as given does not: one cause at a time, each by a search along one line.

Every cause is moved alone, from what the file says to the end of its range, until a first crack by fatigue and its growth
together take no longer than the arm has served. A cause that does not get there at any value is said so, with its range.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from typing import get_args

from analysis.fracture.hindcast import Found, becomes, damage, in_all, share_of_diagram
from analysis.fracture.past import Past
from analysis.fracture.site import Assumed, Site
from params.schema.cracks import Environment

ROUNDS = 40
CLOSE = 2e-3  # of a value, no life is known better
MOST_CYCLES, MOST_LOAD = 1000.0, 3.0
SMALLEST_DEFECT = 0.1  # mm
QUARTER = math.sqrt(math.pi) / 2.0  # square root of the area of a quarter circle over its radius
SHORTEST, LARGEST = 0.01, 1.0  # mm, square root of area that the relation of defects holds for


@dataclass(frozen=True)
class Cause:
    """A cause, its value that explains (None: none does), kind of quantity, the range that was tried, the years that it gives, and
    what is to be said."""

    name: str
    value: float | None
    kind: str
    low: float
    high: float
    years: float | None
    why: str = ""


def causes(site: Site, stated: Assumed, past: Past) -> Iterator[Cause]:
    """Every cause on its own."""
    yield moved(site, stated, past, "cycles a year times", "-", "cycles", 1.0, MOST_CYCLES)
    yield unloading(site, stated, past)
    carried = carries(lambda load: replace(stated, load=load), site, 1.0, MOST_LOAD)
    yield moved(site, stated, past, "loads times", "-", "load", 1.0, carried)
    strength = site.variant.material.yield_strength
    carried = carries(lambda one: replace(stated, residual=one), site, stated.residual, strength)
    yield moved(site, stated, past, "residual stress", "stress", "residual", stated.residual, carried)
    yield rubbing(site, stated, past)
    yield from environments(site, stated, past)
    yield defect(site, stated, past)


def moved(
    site: Site, stated: Assumed, past: Past, name: str, kind: str, key: str, low: float, high: float
) -> Cause:
    """A cause that is a number: its least value from `low` to `high` that explains the crack."""
    if high <= low:
        why = "any more, and the crack that was found would have broken the arm"
        return Cause(name, None, kind, low, low, None, why)

    def takes(value: float) -> Found:
        return in_all(site, replace(stated, **{key: value}), past)

    value, last = least(lambda one: takes(one).years, low, high, past.years)
    return Cause(
        name, value, kind, low, high, last if math.isfinite(last) else None, "" if value else takes(high).why
    )


def least(
    years: Callable[[float], float], low: float, high: float, wanted: float
) -> tuple[float | None, float]:
    """The least value from `low` to `high` at which `years`, which fall, are no more than `wanted`, with the years there; None with
    the years at `high` where there is none."""
    last = years(high)
    if last > wanted:
        return None, last
    for _ in range(ROUNDS):
        if high - low <= CLOSE * abs(high):
            break
        middle = math.sqrt(low * high) if low > 0.0 else 0.5 * (low + high)
        at = years(middle)
        if at <= wanted:
            high, last = middle, at
        else:
            low = middle
    return high, last


def carries(assumed: Callable[[float], Assumed], site: Site, low: float, high: float) -> float:
    """The most from `low` to `high` with which the arm carries the crack that was found."""
    if share_of_diagram(site, assumed(low)) >= 1.0:
        return low
    if share_of_diagram(site, assumed(high)) < 1.0:
        return high
    for _ in range(ROUNDS):
        middle = 0.5 * (low + high)
        low, high = (low, middle) if share_of_diagram(site, assumed(middle)) >= 1.0 else (middle, high)
    return low


def unloading(site: Site, stated: Assumed, past: Past) -> Cause:
    """A full unloading in every cycle, or the share of it that suffices."""
    name = "share of its load that each cycle puts down"
    if damage(site, replace(stated, unloading=1.0), 1.0) <= damage(site, stated, 1.0) * (1.0 + 1e-3):
        last = in_all(site, replace(stated, unloading=1.0), past)
        why = "each cycle unloads already" + (f"; {last.why}" if last.why else "")
        return Cause(name, None, "-", 0.0, 1.0, last.years if math.isfinite(last.years) else None, why)
    return moved(site, stated, past, name, "-", "unloading", 0.0, 1.0)


def rubbing(site: Site, stated: Assumed, past: Past) -> Cause:
    """Fretting at its worst factor."""
    last = in_all(site, replace(stated, fretting=0), past)
    value = 0.0 if last.years <= past.years else None
    years = last.years if math.isfinite(last.years) else None
    return Cause("fretting at its worst factor", value, "yes", 0.0, 0.0, years, last.why)


def environments(site: Site, stated: Assumed, past: Past) -> Iterator[Cause]:
    """Each environment that the file does not state."""
    for environment in get_args(Environment):
        if environment in (stated.environment, "air"):
            continue
        last = in_all(site, replace(stated, environment=environment), past)
        value = 0.0 if last.years <= past.years else None
        years = last.years if math.isfinite(last.years) else None
        yield Cause(f"environment {environment}", value, "yes", 0.0, 0.0, years, last.why)


def defect(site: Site, stated: Assumed, past: Past) -> Cause:
    """A defect of the casting that grew from the first day on: square root of its area."""
    high = float(site.sizes.min())
    value, last = least(
        lambda radius: becomes(site, stated, past, radius).years, SMALLEST_DEFECT, high, past.years
    )
    why = "" if value else becomes(site, stated, past, high).why
    return Cause(
        "casting defect, square root of area",
        None if value is None else QUARTER * value,
        "length",
        QUARTER * SMALLEST_DEFECT,
        QUARTER * high,
        last if math.isfinite(last) else None,
        why,
    )
