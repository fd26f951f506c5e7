"""Cycles of a measured history by rainflow counting, ASTM E1049-85 section 5.4.4, with the `rainflow`
library.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import rainflow
from numpy.typing import ArrayLike

from params.steps.arrays import Floats


@dataclass(frozen=True)
class Counted:
    """Cycles of a history: lower and upper end in the history's unit, and how often (halves for open
    ones).
    """

    lower: Floats
    upper: Floats
    cycles: Floats

    @property
    def range(self) -> Floats:
        return self.upper - self.lower

    @property
    def mean(self) -> Floats:
        return 0.5 * (self.upper + self.lower)


def count(history: ArrayLike, least: float = 0.0, steps: int | None = None, repeats: bool = False) -> Counted:
    """Rainflow cycles of a history, equal ones together, ordered by range.

    Parameters
    ----------
    least
        ranges smaller than this are noise and left out.
    steps
        ends are rounded to this many steps over the history's span (None: as measured). A lower end is
        rounded down and an upper end up, so that no range becomes smaller.

    repeats
        the history comes again and again: it is opened at its highest point, so that every cycle closes
        (5.4.5).

    Raises
    ------
    ValueError
        for fewer than two points, or a value that is not finite.

    >>> counted = count([-2, 1, -3, 5, -1, 3, -4, 4, -2])
    >>> [(float(r), float(n)) for r, n in zip(counted.range, counted.cycles, strict=True)]
    [(3.0, 0.5), (4.0, 0.5), (4.0, 1.0), (6.0, 0.5), (8.0, 0.5), (8.0, 0.5), (9.0, 0.5)]
    """
    values = np.asarray(history, float)
    if values.ndim != 1 or len(values) < 2 or not np.isfinite(values).all():
        raise ValueError(f"history of shape {values.shape}: at least two finite values in a row expected")
    if repeats:
        top = int(values.argmax())
        values = np.concatenate([values[top:], values[: top + 1]])
    # The library sees no reversal in two points; the first one twice is the same history in three.
    points = values if len(values) > 2 else np.insert(values, 0, values[0])
    extracted = [(m - s / 2.0, m + s / 2.0, n) for s, m, n, _, _ in rainflow.extract_cycles(points)]
    cycles = np.array(extracted).reshape(-1, 3)
    span = cycles[:, 1] - cycles[:, 0]
    cycles = cycles[(span > 0.0) & (span >= least)]
    lower, upper = cycles[:, 0], cycles[:, 1]
    if steps is not None:
        start, width = values.min(), (np.ptp(values) or 1.0) / steps
        lower = start + width * np.floor((lower - start) / width + 1e-9)
        upper = start + width * np.ceil((upper - start) / width - 1e-9)
    return _together(lower, upper, cycles[:, 2])


def _together(lower: Floats, upper: Floats, cycles: Floats) -> Counted:
    """Equal cycles as one, smallest range first."""
    ends, which = np.unique(np.column_stack([upper - lower, lower]), axis=0, return_inverse=True)
    summed = np.zeros(len(ends))
    np.add.at(summed, which.ravel(), cycles)
    return Counted(ends[:, 1], ends[:, 1] + ends[:, 0], summed)
