"""A cycle with a mean stress as the fully reversed amplitude that does the same damage.

Dowling, Mechanical Behavior of Materials, chapter on mean stress; Walker's exponent for steels after Dowling,
Calhoun and Arcari, Fatigue Fract. Eng. Mater. Struct. 32 (2009) 163-179, from memory. Amplitudes and means in
MPa, tension positive. A compressive mean gives no credit with the straight-line and parabola rules, unless it is asked for; with
`swt` and `walker` a cycle wholly in compression does no damage.

The credit is a slope c of the line of equal damage: an amplitude a with a compressive mean m is worth a + c max(m, -a), so
1 - c of itself where it never leaves compression. Two sources, of which the lesser credit holds (`compression_credit`):

- EN 1993-1-9:2005 7.2.1(2), from memory, counts of a range in a detail without welds, or stress-relieved, the part in tension in
  full and 60 % of the part in compression; the common structural rules for oil tankers say the same in their appendix on fatigue
  (C 1.4.5.11 of the 2014 print). Neither says what that is on a curve of fully reversed ranges, whose own half in compression has
  counted in full. Our own step, not the standard's: both ranges are cut the same way, (tension + 0.6 compression)/1.6, c = 0.25.
- The FKM guideline on analytical strength assessment, from memory, compared with a public table of its constants: sensitivity to
  mean stress 0.35 Rm/1000 MPa - 0.1 of rolled steel, + 0.05 of cast steel, constant beyond R = -infinity. That is made for local
  elastic stress and curves of fully reversed ranges; mild rolled steel hardly feels a mean, at 450 MPa c = 0.06.
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
COMPRESSED = 0.6  # share of the part in compression that counts, EN 1993-1-9:2005 7.2.1(2)


@dataclass(frozen=True)
class MeanRule:
    """A rule and its one number: the stress at which no amplitude is left (MPa), or Walker's exponent; and the credit that a
    compressive mean gets, see above."""

    kind: int
    number: float
    title: str
    credit: float = 0.0

    def equivalent(self, amplitude: ArrayLike, mean: ArrayLike) -> Floats:
        """Equivalent fully reversed amplitude, broadcast over the two; infinite where the mean leaves
        nothing.
        """
        a, m = np.broadcast_arrays(np.asarray(amplitude, float), np.asarray(mean, float))
        flat = _all(a.ravel(), m.ravel(), self.kind, self.number, self.credit)
        return flat.reshape(a.shape)


def mean_rule(
    rule: Rule,
    tensile: float = math.nan,
    yield_strength: float = math.nan,
    true_fracture: float | None = None,
    walker_exponent: float | None = None,
    credit: float = 0.0,
) -> MeanRule:
    """The rule by name, with what it needs of the material (MPa).

    morrow without a true fracture strength takes tensile strength + 345 MPa (Shigley, 9th ed., Eq. 6-11, for
    steels); walker without an exponent takes gamma = 0.8818 - 0.0002 Su (steels). `credit`: what goodman, gerber, morrow
    and soderberg give a compressive mean.

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
    return MeanRule(PARABOLA if rule == "gerber" else LINE, limit, rule.capitalize(), credit)


def compression_credit(tensile: float, cast: bool) -> float:
    """What a compressive mean counts less in a steel of this tensile strength, MPa: the lesser of the two credits above.

    >>> round(compression_credit(450.0, cast=False), 4), round(compression_credit(830.0, cast=True), 4)
    (0.0575, 0.25)
    """
    by_range = (1.0 - COMPRESSED) / (1.0 + COMPRESSED)
    by_strength = 0.35 * tensile / 1000.0 + (0.05 if cast else -0.1)
    return min(by_range, max(0.0, by_strength))


@numba.njit(cache=True)
def equivalent_amplitude(a: float, m: float, kind: int, number: float, credit: float) -> float:
    """One cycle: amplitude `a`, mean `m`; the compiled search over planes calls this too."""
    if kind == NONE or a == 0.0:
        return a
    if kind == POWER:  # (peak^(1 - gamma)) a^gamma; gamma = 1/2 is Smith-Watson-Topper
        peak = m + a
        return peak ** (1.0 - number) * a**number if peak > 0.0 else 0.0
    if m <= 0.0:
        return a + credit * max(m, -a)
    share = m / number
    left = 1.0 - share if kind == LINE else 1.0 - share * share
    return a / left if left > 0.0 else np.inf


@numba.njit(cache=True)
def _all(a: Floats, m: Floats, kind: int, number: float, credit: float) -> Floats:
    out = np.empty(len(a))
    for i in range(len(a)):
        out[i] = equivalent_amplitude(a[i], m[i], kind, number, credit)
    return out
