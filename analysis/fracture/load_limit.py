"""Up to which share of the load, and until when, an arm with a found crack may run: its life at every share of its loads."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

import numpy as np
from numpy.typing import NDArray

from analysis.fracture.bodies import Body
from analysis.fracture.growth import Factors, Service, grow
from analysis.fracture.survival import date_after

Floats = NDArray[np.float64]
SHARES = np.arange(200, 20, -5) / 100.0  # of all loads, the cycles' and the highest; residual stress stays


@dataclass(frozen=True)
class Limit:
    """Life in years at a share of the loads (0: broken at once; infinite: no end within the horizon), and the day until which the
    arm may run at that share, after its life over the factor; None where no day comes, the day of finding where it may not run.
    """

    share: float
    years: float
    until: date | None
    end: str


def load_limits(
    body: Body, sizes: Floats, service: Service, found_on: date, factor: float, horizon: float = 500.0
) -> list[Limit]:
    """Limits at `SHARES`, under the law of the service, without scatter; `factor` on life 1 or more."""
    if factor < 1.0:
        raise ValueError(f"factor on life {factor:g}: 1 or more expected")
    start = np.repeat(np.asarray(sizes, float)[:, None], len(SHARES), axis=1)
    growth = grow(body, start, service, Factors(load=SHARES), horizon)
    return [
        Limit(float(share), float(years), date_after(found_on, float(years) / factor), str(end))
        for share, years, end in zip(SHARES, growth.years, growth.cause, strict=True)
    ]
