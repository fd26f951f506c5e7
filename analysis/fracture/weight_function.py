"""Stress intensity from the stress along the crack's path, as a mesh gives it: points of depth and stress.

The stress is that of the uncracked arm, normal to the crack, at rising depths from the surface (the first is 0),
straight between the points; no crack may be deeper than the last. mm, MPa, N/mm^1.5.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from analysis.clauses.bounds import checked

Floats = NDArray[np.float64]
_POINTS, _WEIGHTS = np.polynomial.legendre.leggauss(48)
_AT, _BY = (_POINTS + 1.0) / 2.0, _WEIGHTS / 2.0  # on 0 to 1


@dataclass(frozen=True)
class Profile:
    """Stress (S,) MPa at depths (S,) mm."""

    depth: Floats
    stress: Floats

    def __post_init__(self) -> None:
        x, s = np.asarray(self.depth, float), np.asarray(self.stress, float)
        if x.ndim != 1 or x.shape != s.shape or len(x) < 2:
            raise ValueError(
                f"stress along the crack path: {x.shape} depths and {s.shape} stresses, 2 or more pairs expected"
            )
        if abs(x[0]) > 1e-9 or not (np.diff(x) > 0.0).all() or not np.isfinite(s).all():
            raise ValueError(
                "stress along the crack path: depths must start at 0 and rise, stresses be finite"
            )
        object.__setattr__(self, "depth", x)
        object.__setattr__(self, "stress", s)

    def at(self, depth: ArrayLike) -> Floats:
        """Stress at depths (mm), none beyond the last point."""
        x = checked("depth along the crack path", depth, 0.0, self.depth[-1] * (1.0 + 1e-9), "mm")
        return np.interp(x, self.depth, self.stress)


def edge(profile: Profile, depth: ArrayLike, width: float = np.inf) -> Floats:
    """K of edge cracks of depths (n,) under the profile; `width` is the plate's in the crack's direction.

    K = integral over 0..a of S(x) 2/sqrt(2 pi (a - x)) [1 + m1 (1 - x/a) + m2 (1 - x/a)^2] dx with
    m1 = 0.6147 + 17.1844 w^2 + 8.7822 w^6 and m2 = 0.2502 + 3.2889 w^2 + 70.0444 w^6, w = a/W up to 0.5:
    Bueckner, Z. angew. Math. Mech. 50 (1970) 529 and 51 (1971) 97; 1 % against the handbook's cases.
    """
    a = np.atleast_1d(np.asarray(depth, float))
    w = checked("a/W", a / width, 0.0, 0.5, source="Bueckner's weight function")[:, None]
    m1 = 0.6147 + 17.1844 * w**2 + 8.7822 * w**6
    m2 = 0.2502 + 3.2889 * w**2 + 70.0444 * w**6
    u = _AT**2  # 1 - x/a: the root at the tip goes away
    stress = profile.at(a[:, None] * (1.0 - u))
    kernel = 4.0 * np.sqrt(a / (2.0 * np.pi))[:, None] * (1.0 + m1 * u + m2 * u**2)
    return ((kernel * stress) @ _BY).reshape(np.shape(depth))


def linearise(profile: Profile, depth: ArrayLike, thickness: float) -> tuple[Floats, Floats]:
    """Membrane and bending stress (outer fibre) for cracks of depths (n,): the straight line through the plate
    that has the profile's force and moment over the crack's own depth (BS 7910:2013 6.4.4 allows to
    linearise over the flaw). Exact for a straight profile.
    """
    a = np.asarray(depth, float)
    stress = profile.at(a[..., None] * _AT)
    mean, first = stress @ _BY, (stress * _AT) @ _BY
    rise = 12.0 * (first - mean / 2.0)  # over the crack's depth
    slope = rise / np.maximum(a, 1e-12)
    mouth = mean - rise / 2.0
    return mouth + slope * thickness / 2.0, -slope * thickness / 2.0


def hole_stress(profile: Profile, length: ArrayLike, radius: float) -> Floats:
    """Gross stress far away that would drive cracks of lengths (n,) at a hole as the profile from its edge does.

    The ratio of the half plane's K under the profile to that under Kirsch's stress for 1 MPa, 0.5 (2 + (r/x)^2 +
    3 (r/x)^4): exact for Kirsch's stress, and within 4 % of Bowie's cracks under biaxial tension. The half plane
    alone is 7 to 30 % high there, because a round hole opens less than a straight edge.
    """
    at = np.asarray(length, float)
    c = np.atleast_1d(at)[:, None]
    u = _AT**2
    x = radius / (radius + c * (1.0 - u))
    weight = 1.0 + 0.6147 * u + 0.2502 * u**2
    own = (weight * 0.5 * (2.0 + x**2 + 3.0 * x**4)) @ _BY
    return ((weight * profile.at(c * (1.0 - u))) @ _BY / own).reshape(at.shape)
