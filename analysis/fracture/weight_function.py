"""Stress intensity from the stress along the crack's path, as a mesh gives it: points of depth and stress of each state.

The stress is that of the uncracked arm, normal to the crack, at rising depths from the surface (the first is 0),
straight between the points; no crack may be deeper than the last. K is linear in the stress: every state has its K from its
own profile. mm, MPa, N/mm^1.5.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from analysis.clauses.bounds import checked
from analysis.fracture.moments import mouth_moments, tip_moments

Floats = NDArray[np.float64]


@dataclass(frozen=True)
class Profile:
    """Stress (B, S) MPa of B states at depths (S,) mm; one state may be given as (S,)."""

    depth: Floats
    stress: Floats

    def __post_init__(self) -> None:
        x, s = np.asarray(self.depth, float), np.atleast_2d(np.asarray(self.stress, float))
        if x.ndim != 1 or s.ndim != 2 or s.shape[1] != len(x) or len(x) < 2:
            raise ValueError(
                f"stress along the crack path: {x.shape} depths and {s.shape} stresses, 2 or more pairs expected"
            )
        if abs(x[0]) > 1e-9 or not (np.diff(x) > 0.0).all() or not np.isfinite(s).all():
            raise ValueError(
                "stress along the crack path: depths must start at 0 and rise, stresses be finite"
            )
        object.__setattr__(self, "depth", x)
        object.__setattr__(self, "stress", s)

    @property
    def last(self) -> float:
        """Deepest point, mm."""
        return float(self.depth[-1])

    def to_tip(self, cracks: ArrayLike, powers: Sequence[float]) -> Floats:
        """Moments (powers, B, n) about the tips of cracks of depths (n,)."""
        return tip_moments(self.depth, self.stress, self._held(cracks), powers)

    def to_mouth(self, cracks: ArrayLike, powers: Sequence[float]) -> Floats:
        """Moments (powers, B, n) about the mouths of cracks of depths (n,)."""
        return mouth_moments(self.depth, self.stress, self._held(cracks), powers)

    def _held(self, cracks: ArrayLike) -> Floats:
        return checked("depth along the crack path", cracks, 0.0, self.last * (1.0 + 1e-9), "mm")


def edge(profile: Profile, depth: ArrayLike, width: float = np.inf) -> Floats:
    """K (B, n) of edge cracks of depths (n,) under each state; `width` is the plate's in the crack's direction.

    K = integral over 0..a of S(x) 2/sqrt(2 pi (a - x)) [1 + m1 (1 - x/a) + m2 (1 - x/a)^2] dx with
    m1 = 0.6147 + 17.1844 w^2 + 8.7822 w^6 and m2 = 0.2502 + 3.2889 w^2 + 70.0444 w^6, w = a/W up to 0.5:
    Bueckner, Z. angew. Math. Mech. 50 (1970) 529 and 51 (1971) 97; 1 % against the handbook's cases.
    """
    a = np.atleast_1d(np.asarray(depth, float))
    w = checked("a/W", a / width, 0.0, 0.5, source="Bueckner's weight function")
    m1 = 0.6147 + 17.1844 * w**2 + 8.7822 * w**6
    m2 = 0.2502 + 3.2889 * w**2 + 70.0444 * w**6
    at = profile.to_tip(a, (-0.5, 0.5, 1.5))
    return np.sqrt(2.0 * a / np.pi) * (at[0] + m1 * at[1] + m2 * at[2])


def linearise(profile: Profile, depth: ArrayLike, thickness: float) -> tuple[Floats, Floats]:
    """Membrane and bending stress (outer fibre), (B, n), for cracks of depths (n,): the straight line through the plate
    that has the profile's force and moment over that depth (BS 7910:2013 6.4.4). Exact for a straight profile.
    """
    a = np.atleast_1d(np.asarray(depth, float))
    mean, first = profile.to_mouth(a, (0.0, 1.0))
    rise = 12.0 * (first - mean / 2.0)  # over that depth
    slope = rise / np.maximum(a, 1e-12)
    mouth = mean - rise / 2.0
    return mouth + slope * thickness / 2.0, -slope * thickness / 2.0
