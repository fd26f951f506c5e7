"""Remaining life of a found crack: cycles, years, the day it ends, and how much of the section is used today."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

import numpy as np
from numpy.typing import NDArray

from analysis.life.bodies import Body
from analysis.life.growth import End, Growth, Service, grow, use
from analysis.life.survival import date_after

Floats = NDArray[np.float64]


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
    load_factor: float  # on the highest load until the crack breaks the section today
    growth: Growth


def remaining_life(
    body: Body, sizes: Floats, service: Service, found: date, horizon: float = 500.0
) -> Remaining:
    """Life of one crack of sizes (P,) mm found on a day, under the law of the service, without scatter."""
    grown = grow(body, sizes, service, horizon=horizon)
    years = float(grown.years[0])
    kr, lr, _ = (float(part[0]) for part in use(body, np.asarray(sizes, float)[:, None], service))
    return Remaining(
        cycles=float(grown.cycles(service)[0]),
        years=years,
        day=date_after(found, years),
        end=End(str(grown.cause[0])),
        sizes=grown.sizes[:, 0],
        kr=kr,
        lr=lr,
        load_factor=float(service.diagram.load_factor(kr, lr)),
        growth=grown,
    )
