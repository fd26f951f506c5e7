"""A cycle with a mean stress as the fully reversed amplitude that does the same damage.

Dowling, Mechanical Behavior of Materials, chapter on mean stress; Walker's exponent for steels after Dowling,
Calhoun and Arcari, Fatigue Fract. Eng. Mater. Struct. 32 (2009) 163-179, from memory. Amplitudes and means in
MPa, tension positive. A compressive mean gives no credit with the straight-line and parabola rules, unless it is asked for; with
`swt` and `walker` a cycle wholly in compression does no damage.

The credit: EN 1993-1-9:2005 7.2.1(2) counts of the range in a detail without welds, or stress-relieved, the part in tension in full
and 60 % of the part in compression. A curve of fully reversed ranges has its half in compression counted in full already, so a
cycle is worth (tension + 0.6 compression) / 1.6 as an amplitude: all of it at a mean of 0, 3/4 where it never leaves compression.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

import numba
import numpy as np
from numpy.typing import ArrayLike

from params.steps.arrays import Floats

Rule = Literal["none", "goodman", "gerber", "morrow", "soderberg", "swt", "walker"]

NONE, LINE, PARABOLA, POWER = 0, 1, 2, 3
CREDIT = 4  # added to LINE or PARABOLA: a compressive mean counts less
COMPRESSED = 0.6  # share of the part in compression, EN 1993-1-9:2005 7.2.1(2)


@dataclass(frozen=True)
class MeanRule:
    """A rule and its one number: the stress at which no amplitude is left (MPa), or Walker's exponent."""

    kind: int
    number: float
    title: str

    def equivalent(self, amplitude: ArrayLike, mean: ArrayLike) -> Floats:
        """Equivalent fully reversed amplitude, broadcast over the two; infinite where the mean leaves
        nothing.
        """
        a, m = np.broadcast_arrays(np.asarray(amplitude, float), np.asarray(mean, float))
        flat = _all(a.ravel(), m.ravel(), self.kind, self.number)
        return flat.reshape(a.shape)


def mean_rule(
    rule: Rule,
    tensile: float = math.nan,
    yield_strength: float = math.nan,
    true_fracture: float | None = None,
    walker_exponent: float | None = None,
    credit: bool = False,
) -> MeanRule:
    """The rule by name, with what it needs of the material (MPa).

    morrow without a true fracture strength takes tensile strength + 345 MPa (Shigley, 9th ed., Eq. 6-11, for
    steels); walker without an exponent takes gamma = 0.8818 - 0.0002 Su (steels). `credit`: goodman, gerber, morrow and
    soderberg take a compressive mean as EN 1993-1-9 7.2.1 does.

    >>> round(float(mean_rule("goodman", tensile=600.0).equivalent(135.0, 165.0)), 1)
    186.2
    """
    if rule == "none":
        return MeanRule(NONE, 0.0, "no mean-stress correction")
    if rule == "swt":
        return MeanRule(POWER, 0.5, "Smith-Watson-Topper")
    if rule == "walker":
        gamma = 0.8818 - 0.0002 * tensile if walker_exponent is None else walker_exponent
        if not 0.0 < gamma <= 1.0:
            raise ValueError(f"Walker exponent {gamma:g}: over 0 and at most 1 expected (steels 0.45 to 0.8)")
        return MeanRule(POWER, gamma, f"Walker, exponent {gamma:.3g}")
    limit = {
        "goodman": tensile,
        "gerber": tensile,
        "soderberg": yield_strength,
        "morrow": tensile + 345.0 if true_fracture is None else true_fracture,
    }[rule]
    if not limit > 0.0:
        raise ValueError(f"{rule}: needs a positive strength, got {limit:g} MPa")
    kind = (PARABOLA if rule == "gerber" else LINE) + (CREDIT if credit else 0)
    return MeanRule(kind, limit, rule.capitalize())


@numba.njit(cache=True)
def lessened(a: float, m: float) -> float:
    """Amplitude of a fully reversed cycle worth one of amplitude `a` about a compressive mean `m`."""
    tension, compression = max(m + a, 0.0), a - m - max(-m - a, 0.0)
    return (tension + COMPRESSED * compression) / (1.0 + COMPRESSED)


@numba.njit(cache=True)
def equivalent_amplitude(a: float, m: float, kind: int, number: float) -> float:
    """One cycle: amplitude `a`, mean `m`; the compiled search over planes calls this too."""
    if kind == NONE or a == 0.0:
        return a
    if kind == POWER:  # (peak^(1 - gamma)) a^gamma; gamma = 1/2 is Smith-Watson-Topper
        peak = m + a
        return peak ** (1.0 - number) * a**number if peak > 0.0 else 0.0
    if m <= 0.0:
        return lessened(a, m) if kind >= CREDIT else a
    share = m / number
    left = 1.0 - share if kind % CREDIT == LINE else 1.0 - share * share
    return a / left if left > 0.0 else np.inf


@numba.njit(cache=True)
def _all(a: Floats, m: Floats, kind: int, number: float) -> Floats:
    out = np.empty(len(a))
    for i in range(len(a)):
        out[i] = equivalent_amplitude(a[i], m[i], kind, number)
    return out
