"""Fracture by hand: the elastic peak on a flaw at the bore's rim that the examination just finds."""

from __future__ import annotations

import numpy as np

from analysis.clauses.clause import Outcome, clause
from params.steps.arrays import Floats

CORNER = 0.80  # 1.12^2 2/pi


@clause(
    check="flaw at the rim",
    what="quarter-circular flaw at the rim of the bore, as deep as the coarsest examination can just find, under peak and"
    " steady stress",
    equation="p + r <= Kc/(0.8 sqrt(pi a))",
    kind="stress",
    symbols={
        "p": ("elastic peak at the bore", "stress"),
        "r": ("residual stress, with the steady hoop stress of an interference fit", "stress"),
        "a": ("depth of the flaw", "length"),
        "Kc": ("toughness at the coldest temperature", "toughness"),
    },
    limits="flaw small beside the bore; the peak is taken over the whole flaw, the safe side; other checks cover"
    " collapse",
    working=("demand = p + r", "capacity = Kc/(0.8*sqrt(pi*a))"),
    reference="quarter-circular corner crack, K = 1.12^2 (2/pi) S sqrt(pi a), from memory; toughness by BS 7910:2013 Annex J",
)
def rim_flaw(*, p: Floats, r: Floats | float, a: float, Kc: float) -> Outcome:
    """Stress that breaks the flaw against the stress there.

    >>> out = rim_flaw(p=100.0, r=50.0, a=3.0, Kc=1500.0)
    >>> float(out.demand), round(float(out.capacity), 1)
    (150.0, 610.8)
    """
    return Outcome(np.asarray(p) + np.asarray(r), np.asarray(Kc / (CORNER * np.sqrt(np.pi * a))))
