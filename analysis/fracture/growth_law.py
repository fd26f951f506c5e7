"""How fast a crack grows: da/dN of published laws for steel in air. mm/cycle for ranges in N/mm^1.5.

A Paris line is A dK^m; two-stage laws are the lower of two lines, which cross at the published transition. The
constants are those for N and mm: 5.21e-13 at m = 3 is 1.65e-11 for m/cycle and MPa root m.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from analysis.fracture.toughness import INCH, KSI_ROOT_INCH

Floats = NDArray[np.float64]
Line = tuple[float, float]  # A in mm/cycle (N/mm^1.5)^-m, and m


@dataclass(frozen=True)
class Law:
    """Lines for stress ratios R below 0.5, and for 0.5 and above."""

    title: str
    low: tuple[Line, ...]
    high: tuple[Line, ...]
    source: str
    mean: str = (
        ""  # the law of LAWS about which growth scatters, where this one is a published bound above it
    )
    stops: bool = True  # False where no threshold holds

    def rate(self, ranges: ArrayLike, ratio: ArrayLike, threshold: bool = True) -> Floats:
        """Growth a cycle, mm, for ranges of K in N/mm^1.5 at the stress ratios R; 0 below the threshold."""
        k, r = np.broadcast_arrays(np.maximum(np.asarray(ranges, float), 0.0), np.asarray(ratio, float))
        open_ = r >= 0.5
        if self.low == self.high or not open_.any():
            rate = _lowest(self.low, k)
        elif open_.all():
            rate = _lowest(self.high, k)
        else:
            rate = np.where(open_, _lowest(self.high, k), _lowest(self.low, k))
        return np.where(k > threshold_range(r), rate, 0.0) if threshold and self.stops else rate

    def transition(self, ratio: float) -> float:
        """Range at which the two lines cross, N/mm^1.5; infinite where there is one line."""
        lines = self.high if ratio >= 0.5 else self.low
        if len(lines) == 1:
            return math.inf
        (a1, m1), (a2, m2) = lines
        return (a2 / a1) ** (1.0 / (m1 - m2))


def _lowest(lines: tuple[Line, ...], k: Floats) -> Floats:
    return np.minimum.reduce([a * k**m for a, m in lines])


def threshold_range(ratio: ArrayLike) -> Floats:
    """Range below which no crack grows: 63 for R >= 0.5, 170 - 214 R for 0 <= R < 0.5, 170 below; N/mm^1.5.

    BS 7910:2013 8.2.3.6 and IIW recommendations, steel in air, from memory for R below 0.5. Welded joints keep
    residual stress: use R = 0.5 or more there.

    >>> threshold_range([0.5, 0.0, -1.0]).tolist()
    [63.0, 170.0, 170.0]
    """
    r = np.asarray(ratio, float)
    return np.where(r >= 0.5, 63.0, 170.0 - 214.0 * np.maximum(r, 0.0))


def from_us(constant: float, exponent: float) -> float:
    """A inside, from a constant in in/cycle (ksi root in)^-m."""
    return constant * INCH / KSI_ROOT_INCH**exponent


def _one(title: str, line: Line, source: str) -> Law:
    return Law(title, (line,), (line,), source)


_BS = "BS 7910:2013 cl. 8, steels in air; IIW recommendations"
_BARSOM = "Barsom, J. Eng. Ind. 93 (1971) 1190; Barsom & Rolfe, Fracture and Fatigue Control; upper bounds of scatter"

LAWS: dict[str, Law] = {
    "simplified": _one("simplified, one line", (5.21e-13, 3.0), _BS),
    "two-stage mean": Law(
        "two-stage, mean",
        ((1.21e-26, 8.16), (3.98e-13, 2.88)),
        ((4.80e-18, 5.10), (5.86e-13, 2.88)),
        _BS + ", from memory",
    ),
    "two-stage upper": Law(
        "two-stage, mean + 2 standard deviations",
        ((4.37e-26, 8.16), (6.77e-13, 2.88)),
        ((2.10e-17, 5.10), (1.29e-12, 2.88)),
        _BS + ", from memory",
        mean="two-stage mean",
    ),
    # Ferrite-pearlite C 3.6e-10, from memory (books print 6.9e-12 in SI).
    "ferrite-pearlite": _one("ferrite-pearlite steels", (from_us(3.6e-10, 3.0), 3.0), _BARSOM),
    "martensitic": _one("martensitic steels", (from_us(6.6e-9, 2.25), 2.25), _BARSOM),
    "austenitic": _one("austenitic stainless steels", (from_us(3.0e-10, 3.25), 3.25), _BARSOM),
}

# In the sea. Each pair of constants crosses at the range that BS 7910:2013 prints beside it; threshold: as in air with protection
# (-850 mV), none without (8.2.3.6). All from memory.
FREE, PROTECTED = "marine", "marine with protection"
_SEA = "BS 7910:2013 cl. 8, steels in a marine environment, from memory"
LAWS |= {
    f"simplified, {FREE}": Law(
        "simplified, sea water, corroding freely", ((2.3e-12, 3.0),), ((2.3e-12, 3.0),), _SEA, stops=False
    ),
    f"simplified, {PROTECTED}": _one("simplified, sea water with protection", (2.3e-12, 3.0), _SEA),
    f"two-stage mean, {FREE}": Law(
        "two-stage, mean, sea water, corroding freely",
        ((3.0e-14, 3.42), (1.27e-7, 1.30)),
        ((5.37e-14, 3.42), (5.67e-7, 1.11)),
        _SEA,
        stops=False,
    ),
    f"two-stage upper, {FREE}": Law(
        "two-stage, mean + 2 standard deviations, sea water, corroding freely",
        ((8.55e-14, 3.42), (1.93e-7, 1.30)),
        ((1.72e-13, 3.42), (7.48e-7, 1.11)),
        _SEA,
        f"two-stage mean, {FREE}",
        stops=False,
    ),
    f"two-stage mean, {PROTECTED}": Law(
        "two-stage, mean, sea water with protection",
        ((1.21e-26, 8.16), (5.16e-12, 2.67)),
        ((4.80e-18, 5.10), (6.00e-12, 2.67)),
        _SEA,
    ),
    f"two-stage upper, {PROTECTED}": Law(
        "two-stage, mean + 2 standard deviations, sea water with protection",
        ((4.37e-26, 8.16), (1.32e-11, 2.67)),
        ((2.10e-17, 5.10), (2.02e-11, 2.67)),
        _SEA,
        f"two-stage mean, {PROTECTED}",
    ),
}


def law_in(environment: str, name: str) -> Law:
    """The law of this name in an environment; one that is published for air alone gives way to the two-stage upper line there."""
    if environment == "air":
        return LAWS[name]
    return LAWS.get(f"{name}, {environment}", LAWS[f"two-stage upper, {environment}"])
