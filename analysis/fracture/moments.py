"""Moments of stress profiles over a crack against powers of the distance from its tip or from its mouth, exact for profiles
that are straight between their points, and tables of functions of the crack's depth for many cracks at once.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from analysis.clauses.bounds import checked

Floats = NDArray[np.float64]
_LEAST, _COUNT = 1e-5, 800  # depths of a table: from this share of the deepest, 1.5 % apart


def tip_moments(depth: Floats, stress: Floats, cracks: ArrayLike, powers: Sequence[float]) -> Floats:
    """Integral over u = 0..1 of S(a (1 - u)) u^p for cracks of depths a (n,), u from the tip: (powers, B, n).

    depth (S,) mm rising from 0; stress (B, S) MPa; powers over -1.
    """
    a = np.asarray(cracks, float)[:, None]
    end = np.clip(depth, 0.0, a)  # (n, S); points beyond the tip close on it
    u = 1.0 - end / a
    rise = np.diff(stress, axis=1) / np.diff(depth)  # (B, S-1)
    base = stress[:, :-1] - rise * depth[:-1]  # stress = base + rise x, x = a (1 - u)
    moments = [_powers(u, p) @ base.T + (_powers(u, p) - _powers(u, p + 1.0)) * a @ rise.T for p in powers]
    return np.stack(moments).swapaxes(1, 2)


def mouth_moments(depth: Floats, stress: Floats, cracks: ArrayLike, powers: Sequence[float]) -> Floats:
    """Integral over v = 0..1 of S(a v) v^p, v from the mouth; otherwise as `tip_moments`."""
    a = np.asarray(cracks, float)[:, None]
    v = np.clip(depth, 0.0, a) / a
    rise = np.diff(stress, axis=1) / np.diff(depth)
    base = stress[:, :-1] - rise * depth[:-1]
    return np.stack([-_powers(v, p) @ base.T - _powers(v, p + 1.0) * a @ rise.T for p in powers]).swapaxes(
        1, 2
    )


def _powers(u: Floats, p: float) -> Floats:
    """Integral of u^p over each segment, from its end to its start (u falls with depth): (n, S-1)."""
    whole = u ** (p + 1.0) / (p + 1.0)
    return whole[:, :-1] - whole[:, 1:]


@dataclass(frozen=True)
class Table:
    """Rows (R, N) of functions at depths evenly apart in their logarithm, read straight between them."""

    first: float  # mm
    step: float  # of the logarithm
    rows: Floats

    @classmethod
    def of(cls, function: Callable[[Floats], Floats], deepest: float) -> Table:
        """function gives (R, N) at depths (N,); read from 1e-5 of `deepest` (its value counts below) to `deepest`."""
        at = deepest * np.geomspace(_LEAST, 1.0, _COUNT)
        return cls(float(at[0]), float(np.log(at[1] / at[0])), np.ascontiguousarray(function(at)))

    def __call__(self, depth: ArrayLike) -> Floats:
        """(R, n) at depths (n,) mm."""
        a = np.asarray(depth, float)
        last = self.rows.shape[1] - 1
        deepest = self.first * np.exp(self.step * last)
        place = np.log(
            np.maximum(checked("crack", a, 0.0, deepest * (1.0 + 1e-6), "mm"), self.first) / self.first
        )
        place = np.clip(place / self.step, 0.0, last)
        low = np.minimum(place.astype(np.int64), last - 1)
        part = place - low
        return self.rows[:, low] * (1.0 - part) + self.rows[:, low + 1] * part
