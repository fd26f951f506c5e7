"""The normal approximation beside the drawn networks: means and variances added up along the path of the means.

As published for PERT (Malcolm, Roseboom, Clark & Fazar, Operations Research 7 (1959) 646). It takes the tasks as independent and
looks at one path only: with common causes, or several paths about as long, it is too sure of an early end.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from scipy.special import ndtr

from analysis.making.dates.network import Network, driving, forward
from analysis.making.dates.threepoint import mean, variance
from params.schema.route import Route
from params.schema.schedule import Outage
from params.steps.arrays import Floats


@dataclass(frozen=True)
class Normal:
    """Mean end and its standard deviation, calendar days from the order."""

    mean: float
    deviation: float

    def after(self, limit: float, more: float = 0.0, spread: float = 0.0) -> float:
        """Chance to end after `limit` with further work of mean `more` and variance `spread` behind it."""
        away, deviation = limit - self.mean - more, math.hypot(self.deviation, math.sqrt(spread))
        return float(ndtr(-away / deviation)) if deviation else float(away < 0.0)


def normal(net: Network, route: Route, outage: Outage, three: Floats, chance: Floats) -> Normal:
    """Each task with its mean times its chance; a day of a five-day week counts as 7/5 calendar days in the variance."""
    each, spread = mean(outage.distribution, *three.T), variance(outage.distribution, *three.T)
    early = forward(net, chance * each)
    week = np.array([7.0 / len(route.calendars[task.calendar].days) for task in route.tasks.values()])
    own = (chance * spread + chance * (1.0 - chance) * each**2) * week**2
    return Normal(float(early.finish.max()), float(np.sqrt(own[driving(net, early)].sum())))
