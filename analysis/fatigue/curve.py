"""An S-N curve: two straight lines in log-log, perhaps a limit under constant amplitude and a cut-off.

Ranges in MPa (twice the amplitude), cycles to a crack. Every source of fatigue strength in this room ends as
one of these, so that one search over planes serves them all.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import ArrayLike

from params.steps.arrays import Floats


@dataclass(frozen=True)
class Curve:
    """N = cycles_at_knee (knee / range)^slope above the knee, with slope_beyond below it."""

    title: str
    knee: float  # range at the knee, MPa
    cycles_at_knee: float
    slope: float
    slope_beyond: float
    limit: float = (
        0.0  # a history whose every range stays below does no damage, MPa; 0: there is no such limit
    )
    cut_off: float = 0.0  # ranges below never count, MPa
    most: float = math.inf  # largest range the curve holds for, MPa
    source: str = ""

    def __post_init__(self) -> None:
        if not (
            0.0 < self.knee < math.inf and self.cycles_at_knee > 0.0 and 1.0 < self.slope <= self.slope_beyond
        ):
            raise ValueError(
                f"{self.title}: knee, cycles and slopes must be positive, the second slope no steeper"
            )

    def cycles(self, ranges: ArrayLike) -> Floats:
        """Cycles to a crack at constant range; infinite below the cut-off. The limit is left to the whole
        history.
        """
        s = np.asarray(ranges, float)
        with np.errstate(divide="ignore", over="ignore"):
            life = self.cycles_at_knee * (self.knee / s) ** np.where(
                s >= self.knee, self.slope, self.slope_beyond
            )
        return np.where((s <= 0.0) | (s < self.cut_off), np.inf, life)

    def allowable(self, cycles: ArrayLike) -> Floats:
        """Range that a number of cycles allows, variable amplitude (no use of the limit), MPa."""
        n = np.asarray(cycles, float)
        slope = np.where(n <= self.cycles_at_knee, self.slope, self.slope_beyond)
        return np.maximum(self.knee * (self.cycles_at_knee / n) ** (1.0 / slope), self.cut_off)

    def weakened(self, factor: float, why: str) -> Curve:
        """The same curve with every range times `factor` (size effect, fretting, partial factor)."""
        if not 0.0 < factor <= 1.0:
            raise ValueError(f"{self.title}: factor {factor:g} ({why}) must be over 0 and at most 1")
        scaled = {name: getattr(self, name) * factor for name in ("knee", "limit", "cut_off")}
        return replace(self, title=f"{self.title}, {why} {factor:.3g}", **scaled)

    def shortened(self, share: float) -> Curve:
        """The same curve with every number of cycles times `share`: a Miner sum of less than 1."""
        return replace(self, cycles_at_knee=self.cycles_at_knee * share)
