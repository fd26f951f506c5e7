"""Fatigue by hand: the range of the elastic peak that one cycle of the duty makes, all cycles as one equivalent range."""

from __future__ import annotations

import numpy as np

from analysis.clauses.clause import Outcome, clause
from params.steps.arrays import Floats


@clause(
    check="fatigue",
    what="peak ranges of the duty's cycles, made fully reversed by the mean-stress rule and combined into one range"
    " of N cycles: s = (sum n_i s_i^m / sum n_i)^(1/m)",
    equation="s <= sk (Nk/N)^(1/mN)",
    kind="stress",
    symbols={
        "s": ("equivalent range of the peak", "stress"),
        "largest": ("largest range of one cycle, not made fully reversed", "stress"),
        "sk": ("range at the knee of the S-N curve", "stress"),
        "Nk": ("cycles at the knee", "-"),
        "N": ("cycles in the service life", "-"),
        "mN": ("slope of the curve at N", "-"),
        "m": ("slope above the knee, by which ranges are combined", "-"),
    },
    limits="peaks by stress concentration factor; ranges from the extremes of the swing in both load cases;"
    " no use of the fatigue limit",
    working=("demand = s", "capacity = sk*(Nk/N)^(1/mN)"),
    reference="Palmgren-Miner on the S-N curve of the surface: Shigley's Mechanical Engineering Design, 9th ed. (2011), chapter 6",
)
def peak_range(*, s: Floats, largest: Floats, sk: float, Nk: float, N: float, mN: float, m: float) -> Outcome:
    """Equivalent range of the peak against the curve at the cycles of the service life.

    At ten times the knee's cycles on a line of slope 5 the range falls by 10^(1/5).

    >>> out = peak_range(s=50.0, largest=60.0, sk=100.0, Nk=1e6, N=1e7, mN=5.0, m=3.0)
    >>> round(float(out.capacity), 3)
    63.096
    """
    return Outcome(s, np.asarray(sk * (Nk / N) ** (1.0 / mN)))
