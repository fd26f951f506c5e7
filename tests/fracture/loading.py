"""Cycles for tests: a range of the body's basis stresses at a given stress ratio."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from analysis.fracture.growth import Block


def cycle(per_year: float, change: ArrayLike, ratio: float) -> Block:
    """From R/(1 - R) of the range to 1/(1 - R) of it."""
    whole = np.asarray(change, float)
    return Block(per_year, np.array([ratio, 1.0])[:, None] / (1.0 - ratio) * whole)
