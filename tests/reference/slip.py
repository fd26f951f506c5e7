"""Moment and axial force together on an interference fit."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from analysis.bores.holding import axial_hold
from params.steps.arrays import Floats


def slip_use(
    moment: ArrayLike, axial: ArrayLike, pressure: ArrayLike, diameter: float, length: float, friction: float
) -> Floats:
    """Share of the friction that a moment (N mm) and an axial force (N) together use; above 1 the fit
    slips.
    """
    wanted = np.hypot(2.0 * np.asarray(moment, float) / diameter, np.asarray(axial, float))
    held = axial_hold(pressure, diameter, length, friction)
    with np.errstate(divide="ignore", invalid="ignore"):
        return np.where(wanted == 0.0, 0.0, np.where(held > 0.0, wanted / held, np.inf))
