"""Axes of the arrays: design, load case, position of the swing, station."""

from __future__ import annotations

from typing import Any

import numpy as np

from params.steps.arrays import Floats


def four(values: Any) -> Floats:
    """An array with axes for design, case, position and station in front of its own."""
    values = np.asarray(values, dtype=float)
    return values.reshape((1,) * (4 - values.ndim) + values.shape)


def lift(values: Floats) -> Floats:
    """(D,) or (D, C, P) with axes for case, position and station."""
    return values.reshape(-1, 1, 1, 1) if values.ndim == 1 else values[..., None]
