"""Limits of validity of a formula, enforced: one clear line names the value and the range."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

from params.steps.problems import OutOfRange

Floats = NDArray[np.float64]


def checked(
    name: str, values: ArrayLike, least: float, most: float, unit: str = "", source: str = ""
) -> Floats:
    """The values as an array of floats, all of them from `least` to `most` (both allowed).

    Raises OutOfRange, a ValueError, for the first that is not (nan is not).

    >>> checked("a/W", 0.7, 0.0, 0.6)
    Traceback (most recent call last):
    ...
    params.steps.problems.OutOfRange: a/W 0.7 is outside 0 to 0.6
    """
    array = np.asarray(values, float)
    inside = (array >= least) & (array <= most)
    if not inside.all():
        wrong = float(array[~inside].flat[0]) if array.ndim else float(array)
        behind = f" {unit}" if unit else ""
        told = f"{name} {wrong:.6g}{behind} is outside {least:.6g} to {most:.6g}{behind}"
        raise OutOfRange(told + (f" ({source})" if source else ""))
    return array
