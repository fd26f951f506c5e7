"""For a new arm: the largest flaw that may be left in it, and how often to look for one. mm, years.

An interval is the time from the size that a method finds to the end, divided by a factor on life; with a factor
of 2 a crack is missed once and still found at the next inspection (common practice, no source).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from analysis.fracture.bodies import Body
from analysis.fracture.critical import SMALLEST, critical_size
from analysis.fracture.growth import End, Service, grow
from params.steps.out_of_range import NOT_GOVERNED

Floats = NDArray[np.float64]
_STARTS = 48  # start sizes grown at once


@dataclass(frozen=True)
class Method:
    """An examination and the smallest flaw that it is trusted to find there, mm."""

    name: str
    depth: float
    half_length: (
        float  # of a surface crack; length on the face of a corner crack; unused where there is one size
    )

    def sizes(self, body: Body) -> Floats:
        """The detectable flaw as sizes of the body, (P,)."""
        return np.array([self.depth, self.half_length][: len(body.names)], float)


@dataclass(frozen=True)
class Interval:
    """What a method gives: years between inspections (0: useless there), years to the end, and why."""

    method: Method
    years: float  # infinite where growth asks for none
    life: float
    end: str
    note: str


def interval(body: Body, method: Method, service: Service, factor: float, longest: float = 100.0) -> Interval:
    """Inspection interval for flaws of the size the method detects; none by growth where they last `longest` intervals."""
    if factor < 1.0:
        raise ValueError(f"factor on life {factor:g}: 1 or more expected")
    sizes = method.sizes(body)
    if not body.inside(sizes[:, None])[0]:
        return Interval(
            method, 0.0, 0.0, End.RANGE.value, "detectable flaw is larger than the section allows"
        )
    grown = grow(body, sizes, service, horizon=longest * factor)
    life, end = float(grown.years[0]), str(grown.cause[0])
    if life == 0.0:
        return Interval(method, 0.0, 0.0, end, "flaws become critical before this method finds them")
    if np.isinf(life):
        return Interval(method, np.inf, life, end, NOT_GOVERNED)
    return Interval(method, life / factor, life, end, "")


@dataclass(frozen=True)
class Acceptable:
    """Largest flaw (P,) mm that lasts the asked years, the critical one of the same shape, and why."""

    sizes: Floats
    critical: Floats
    years: float
    note: str


def acceptable_flaw(
    body: Body, shape: Sequence[float], service: Service, years: float, factor: float = 1.0
) -> Acceptable:
    """Largest flaw of the proportions `shape` (P,) that grows no further than allowed in factor x years.

    Life falls with size: starts are grown together twice, the second time between two of the first; the larger
    size that lasts is returned (safe side), within 0.5 % of the true limit.
    """
    if years < 0.0 or factor < 1.0:
        raise ValueError(
            f"{years:g} years, factor {factor:g}: 0 or more years and a factor of 1 or more expected"
        )
    form = np.asarray(shape, float) / shape[0]
    limit, wanted = critical_size(body, shape, service), years * factor
    low, high = SMALLEST, float(limit.sizes[0]) * (1.0 - 1e-6)
    if high <= low:
        return Acceptable(
            np.zeros(len(form)), limit.sizes, wanted, "no flaw can be left: even the smallest is critical"
        )
    for _ in range(2):
        starts = np.geomspace(low, high, _STARTS)
        lasts = grow(body, form[:, None] * starts, service, horizon=wanted).years > wanted
        if lasts.all():
            break
        if not lasts[0]:
            return Acceptable(
                np.zeros(len(form)), limit.sizes, wanted, f"no flaw over {SMALLEST:g} mm lasts that long"
            )
        first = int(np.argmin(lasts))
        low, high = float(starts[first - 1]), float(starts[first])
    return Acceptable(form * (high if lasts.all() else low), limit.sizes, wanted, "")
