"""Month by month: the chance that a found crack lasts, from stated scatter. Seeded; same seed, same figures.

Load, size and growth constant scatter as lognormals about their medians, toughness as a Weibull distribution of
shape 4 above 20 MPa root m (ASTM E1921) or as a lognormal. Every sample is a crack of its own in `growth.grow`.

The arm has lasted until the day the crack was found, and carried the states of its cycles all the while: samples that these
would have broken are not this arm and do not count. The chance starts at 1: those that the highest load of the file would break,
though its cycles do not reach it, fall out in the first month, for that load may come any day.

Samples that lie beyond the range of the solution, at the start or later, are neither failures nor survivals: they are a share of
their own, and the chance is that of the others.
"""

from __future__ import annotations

import calendar
import math
from dataclasses import dataclass, replace
from datetime import date, timedelta
from typing import Literal

import numpy as np
from numpy.typing import NDArray
from scipy.special import ndtr, ndtri

from analysis.fracture.bodies import Body
from analysis.fracture.growth import End, Factors, Service, grow, use
from analysis.fracture.growth_law import LAWS
from analysis.fracture.toughness import LEAST, MPA_ROOT_M
from params.steps.problems import OutOfRange

Floats = NDArray[np.float64]
DAYS = 365.25  # a year
MOST_EXCLUDED = 0.9  # share of samples beyond which the assumptions contradict that the arm has lasted
STEP = 0.04  # of growth, coarser than for one crack: its error, under 0.1 %, is far below the scatter


@dataclass(frozen=True)
class Scatter:
    """Coefficients of variation; `fractile` is the share of toughness values below the one in the file."""

    load: float = 0.0
    size: float = 0.0
    growth: float = 0.0
    toughness: float | Literal["weibull"] = 0.0
    fractile: float = 0.5
    samples: int = 20_000
    seed: int = 1

    def __post_init__(self) -> None:
        if self.samples < 100 or not 0.0 < self.fractile < 1.0:
            raise ValueError(
                f"{self.samples} samples, fractile {self.fractile:g}: 100 or more, and between 0 and 1"
            )


@dataclass(frozen=True)
class Survival:
    """Chance to last to the end of each month since the finding, with the 95 % interval of the sampling.

    Of the samples that carry what the arm has carried; `beyond` is the share of them out of the solution's range by that month,
    `excluded` the share of all samples that what it has carried would have broken.
    """

    months: NDArray[np.int64]
    dates: tuple[date, ...]
    chance: Floats
    least: Floats
    most: Floats
    beyond: Floats
    excluded: float
    years: Floats  # life of every sample that counts, or years until it leaves the range
    left: NDArray[np.bool_]  # which of them leave the range
    later: float | None = None  # chance of lasting to a day after the last month, where one was asked for


@dataclass(frozen=True)
class Lives:
    """Years (n,) that each sample lasts, infinite beyond the horizon; `left` where it leaves the range of its solution then;
    `known` where it would not have carried what the arm has carried.
    """

    years: Floats
    left: NDArray[np.bool_]
    known: NDArray[np.bool_]


def sampled_lives(body: Body, sizes: Floats, service: Service, scatter: Scatter, horizon: float) -> Lives:
    """The life of each sample.

    Growth scatters about the mean line that was published with a bound; without scatter the bound itself counts.
    """
    z = np.random.default_rng(scatter.seed).standard_normal((4, scatter.samples))
    start = np.asarray(sizes, float)[:, None] * lognormal(scatter.size, z[0])
    fits = body.inside(start)
    factors = Factors(
        load=lognormal(scatter.load, z[1])[fits],
        growth=lognormal(scatter.growth, z[2])[fits],
        toughness=_toughness(scatter, service.toughness, z[3])[fits],
    )
    if scatter.growth and service.law.mean:
        service = replace(service, law=LAWS[service.law.mean])
    years, left = np.zeros(scatter.samples), ~fits  # a sample too large for its solution leaves it at once
    known = np.zeros(scatter.samples, dtype=bool)
    if fits.any():
        grown = grow(body, start[:, fits], service, factors, horizon, STEP)
        years[fits], left[fits] = grown.years, grown.cause == End.RANGE.value
        if service.blocks:
            known[fits] = (
                use(body, start[:, fits], service.carried, factors.load, factors.toughness)[2] >= 1.0
            )
    return Lives(years, left, known)


def survival(
    body: Body,
    sizes: Floats,
    service: Service,
    scatter: Scatter,
    found_on: date,
    outage: date,
    later: date | None = None,
) -> Survival:
    """Chance of lasting at the end of every month from `found_on`, the last one the month that reaches `outage`; and to `later`."""
    if outage < found_on:
        raise ValueError(f"outage {outage} is before the crack was found on {found_on}")
    last = months_between(found_on, outage)
    months = np.arange(last + 1)
    ends = [*(add_months(found_on, int(m)) for m in months[:-1]), outage]
    after = np.array([(end - found_on).days / DAYS for end in ends])
    end = max(later or outage, outage)
    lives = sampled_lives(body, sizes, service, scatter, (end - found_on).days / DAYS)
    years, left = lives.years[~lives.known], lives.left[~lives.known]
    if lives.known.mean() > MOST_EXCLUDED:
        raise OutOfRange(
            f"{100.0 * lives.known.mean():.3g} % of the sampled cracks would have broken under loads that the arm has carried:"
            " size, residual stress, toughness or loads are not what is assumed"
        )
    chance, beyond = lasting(years, left, after)
    least, most = wilson(chance, np.maximum(years.size - beyond, 1))
    further = lasting(years, left, np.array([(end - found_on).days / DAYS]))[0]
    return Survival(
        months,
        tuple(ends),
        chance,
        least,
        most,
        beyond / years.size,
        float(lives.known.mean()),
        years,
        left,
        None if later is None else float(further[0]),
    )


def lasting(years: Floats, left: NDArray[np.bool_], after: Floats) -> tuple[Floats, NDArray[np.int64]]:
    """Chance of lasting `after` years, of the samples within the range of the solution, and how many are beyond it."""
    gone = years[None, :] <= after[:, None]
    gone[after <= 0.0] &= (
        left  # on the day it was found the arm had lasted, whatever its highest load would do to it
    )
    beyond = (gone & left).sum(axis=1)
    judged = np.maximum(years.size - beyond, 1)
    return np.where(beyond < years.size, (~gone).sum(axis=1) / judged, np.nan), beyond


def lognormal(variation: float, z: Floats) -> Floats:
    """Factors of median 1 with this coefficient of variation, from standard normal z: exp(s z), s^2 = ln(1+v^2)."""
    return np.exp(math.sqrt(math.log1p(variation**2)) * z)


def wilson(chance: Floats, samples: int | NDArray[np.int64]) -> tuple[Floats, Floats]:
    """95 % interval of a share from `samples` trials (Wilson, J. Am. Stat. Assoc. 22 (1927) 209)."""
    z = 1.959963984540054
    middle = (chance + z**2 / (2 * samples)) / (1.0 + z**2 / samples)
    half = z / (1.0 + z**2 / samples) * np.sqrt(chance * (1.0 - chance) / samples + (z / (2 * samples)) ** 2)
    # At 0 and 1 rounding alone could leave the share outside.
    return np.clip(middle - half, 0.0, chance), np.clip(middle + half, chance, 1.0)


def add_months(start: date, months: int) -> date:
    """The same day some months later, or the month's last day.

    >>> add_months(date(2026, 1, 31), 1)
    datetime.date(2026, 2, 28)
    """
    year, month = divmod(start.year * 12 + start.month - 1 + months, 12)
    return date(year, month + 1, min(start.day, calendar.monthrange(year, month + 1)[1]))


def months_between(start: date, end: date) -> int:
    """Whole months, rounded up, from one date to another."""
    count = (end.year - start.year) * 12 + end.month - start.month
    return count + (add_months(start, count) < end)


def date_after(found_on: date, years: float) -> date | None:
    """Date that many years later; None beyond the year 9999 or where it never comes."""
    days = years * DAYS
    if not math.isfinite(days) or days > (date.max - found_on).days:
        return None
    return found_on + timedelta(days=math.floor(days))


def _toughness(scatter: Scatter, value: float, z: Floats) -> Floats:
    """Factors on the file's toughness, which stands at the fractile."""
    at = float(ndtri(scatter.fractile))
    if scatter.toughness != "weibull":
        return lognormal(float(scatter.toughness), z - at)
    share = np.clip(ndtr(z), 1e-12, 1.0 - 1e-12)
    scale = (value - LEAST) / (-math.log1p(-scatter.fractile)) ** 0.25
    if scale <= 0.0:
        raise OutOfRange(
            f"toughness {value / MPA_ROOT_M:.1f} MPa root m is at or below 20 MPa root m, no Weibull scatter"
        )
    return (LEAST + scale * (-np.log1p(-share)) ** 0.25) / value
