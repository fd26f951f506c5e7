"""Remaining life of a found crack: cycles, years, the day it ends, and how much of the section is used today."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

import numpy as np
from numpy.typing import NDArray

from analysis.fracture.bodies import Body
from analysis.fracture.growth import End, Growth, Service, grow, use
from analysis.fracture.survival import date_after

Floats = NDArray[np.float64]
MOST_FACTOR = 1e6  # where there is hardly any load


@dataclass(frozen=True)
class Remaining:
    """Infinite cycles and years, and no day, where the end does not come within the horizon."""

    cycles: float
    years: float
    day: date | None
    end: End
    sizes: Floats  # at the end, (P,) mm
    kr: float  # today
    lr: float
    load_factor: float  # on the highest load, until the crack breaks the section today; residual stress stays
    growth: Growth


def remaining_life(
    body: Body, sizes: Floats, service: Service, found_on: date, horizon: float = 500.0
) -> Remaining:
    """Life of one crack of sizes (P,) mm found on a day, under the law of the service, without scatter."""
    grown = grow(body, sizes, service, horizon=horizon)
    years = float(grown.years[0])
    kr, lr, _ = (float(part[0]) for part in use(body, np.asarray(sizes, float)[:, None], service))
    return Remaining(
        cycles=float(grown.cycles(service)[0]),
        years=years,
        day=date_after(found_on, years),
        end=End(str(grown.cause[0])),
        sizes=grown.sizes[:, 0],
        kr=kr,
        lr=lr,
        load_factor=load_factor(body, sizes, service),
        growth=grown,
    )


def load_factor(body: Body, sizes: Floats, service: Service) -> float:
    """Factor on the highest load at which the crack breaks the section, to 1e-9; 0 where residual stress alone breaks it."""
    at, low, high = np.asarray(sizes, float)[:, None], 0.0, 1.0
    while use(body, at, service, high)[2][0] < 1.0 and high < MOST_FACTOR:
        low, high = high, 2.0 * high
    while high - low > 1e-9 * high and high > 1e-9:
        middle = 0.5 * (low + high)
        low, high = (low, middle) if use(body, at, service, middle)[2][0] >= 1.0 else (middle, high)
    return low
