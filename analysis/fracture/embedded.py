"""Elliptical flaw inside the wall, as radiography and ultrasonics look for: stress intensity and body. mm, MPa, N/mm^1.5.

The ellipse is 2a high, through the wall, and 2c long along it; its middle lies `middle` below the nearer surface, so that
p = middle - a of metal is left there.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import ArrayLike, NDArray

from analysis.clauses.bounds import checked
from analysis.fracture.bodies_profile import pulled, straight
from analysis.fracture.cracks_plate import shape_factor
from analysis.fracture.weight_function import Profile

Floats = NDArray[np.float64]
NEAREST = 0.8  # a over the middle's depth: nearer to the surface it is judged as a crack in the surface
TOWARD, LENGTH = np.pi / 2.0, 0.0  # ends of the front: toward the surface, along the wall


def tension(aspect: ArrayLike, share: ArrayLike, phi: float) -> Floats:
    """F of an embedded elliptical crack; K = S sqrt(pi a/Q) F.

    F = (M1 + M2 s^2 + M3 s^4) g f_phi, x = a/c up to 2, s = 2a/(2a + 2p) up to 0.8: M1 = 1, M2 = 0.05/(0.11 + x^1.5), M3 =
    0.29/(0.23 + x^1.5), g = 1 - s^4 sqrt(2.6 - 2 s)/(1 + 4 x) |cos phi|; for x over 1 M1 = sqrt(c/a). Newman & Raju, NASA
    TM-85793 (1984), with the nearer surface as in BS 7910:2013 M.4.3; both from memory.

    >>> float(tension(1.0, 0.0, TOWARD))
    1.0
    """
    x = checked("a/c", aspect, 1e-6, 2.0, source="embedded flaw")
    s = checked("2a/(2a + 2p)", share, 0.0, NEAREST + 1e-9, source="embedded flaw")
    y = 1.0 / np.maximum(x, 1.0)
    m1, m2, m3 = np.sqrt(y), 0.05 / (0.11 + x**1.5), 0.29 / (0.23 + x**1.5)
    g = 1.0 - s**4 * np.sqrt(2.6 - 2.0 * s) / (1.0 + 4.0 * x) * np.abs(np.cos(phi))
    u, sine, cosine = np.minimum(x, 1.0), np.sin(phi) ** 2, np.cos(phi) ** 2
    angle = np.where(x <= 1.0, u**2 * cosine + sine, cosine + y**2 * sine) ** 0.25
    return (m1 + m2 * s**2 + m3 * s**4) * g * angle


def reference(
    membrane: ArrayLike,
    bending: ArrayLike,
    half_height: Floats,
    half_length: Floats,
    left: Floats,
    thickness: float,
) -> Floats:
    """Reference stress: (H + sqrt(H^2 + 9 Pm^2 D))/(3 D), H = Pb + 3 Pm al, D = (1 - al)^2 + 4 p al/B, al = (2a/B)/(1 + B/c).

    BS 7910:2013 Annex P (embedded flaws), from memory; a flaw in mid-wall as long as the plate leaves the net section, one at
    the surface the edge crack: plain equilibrium.
    """
    share = 2.0 * half_height / thickness / (1.0 + thickness / half_length)
    checked("lost share", share, 0.0, 1.0 - 1e-9, source="limit load of an embedded flaw")
    m = np.asarray(membrane, float)
    turned = np.maximum(np.asarray(bending, float), 0.0) + 3.0 * m * share
    rest = (1.0 - share) ** 2 + 4.0 * left * share / thickness
    return (turned + np.sqrt(turned**2 + 9.0 * m**2 * rest)) / (3.0 * rest)


@dataclass(frozen=True)
class ProfileEmbedded:
    """Embedded flaw under a profile of the wall; sizes half height and half length, its middle stays where it is.

    The stress over the flaw's height counts as the straight line with its force and moment; the line's slope counts at the end
    toward the surface by 1/2 (a long flaw) to 2/3 (a round one): closed forms of both, straight between.
    """

    profile: Profile
    middle: float
    thickness: float
    width: float = np.inf
    names = ("half height", "half length")

    @cached_property
    def _knots(self) -> tuple[Floats, Floats]:
        """Force and first moment about the surface (2, B, S) of the stress down to each point, and its rise (B, S - 1)."""
        x, stress = self.profile.depth, self.profile.stress
        step, rise = np.diff(x), np.diff(stress, axis=1) / np.diff(x)
        parts = _straight(x[:-1], step, stress[:, :-1], rise)
        return np.pad(np.cumsum(parts, axis=2), ((0, 0), (0, 0), (1, 0))), rise

    @cached_property
    def _line(self) -> Floats:
        return straight(self.profile, min(self.thickness, self.profile.last), self.thickness)

    def _sums(self, depth: Floats) -> Floats:
        """Force and first moment about the surface (2, B, n) of the stress down to depths (n,), exact."""
        x, (sums, rise) = self.profile.depth, self._knots
        at = np.clip(np.searchsorted(x, depth, side="right") - 1, 0, len(x) - 2)
        return sums[:, :, at] + _straight(x[at], depth - x[at], self.profile.stress[:, at], rise[:, at])

    def influence(self, sizes: Floats) -> Floats:
        a, c = sizes
        force, first = self._sums(self.middle + a) - self._sums(self.middle - a)
        mean = force / (2.0 * a)
        slope = 1.5 * (first - self.middle * force) / a**3  # over depth
        toward = mean - slope * a * (0.5 + np.minimum(a / c, 1.0) / 6.0)
        root = np.sqrt(np.pi * a / shape_factor(a / c))
        share = a / self.middle
        return root * np.stack(
            [toward * tension(a / c, share, TOWARD), mean * tension(a / c, share, LENGTH)], axis=1
        )

    def reference(self, sizes: Floats, state: Floats) -> Floats:
        m, b = pulled(self._line, state)
        return reference(m, b, sizes[0], sizes[1], self.middle - sizes[0], self.thickness)

    def inside(self, sizes: Floats) -> NDArray[np.bool_]:
        """a/c to 2, a within 0.8 of the middle's depth and within the profile, a quarter of the width each way."""
        a, c = sizes
        deep = (a <= NEAREST * self.middle) & (self.middle + a <= self.profile.last)
        return deep & (a / c <= 2.0) & (2.0 * c <= 0.5 * self.width)


def _straight(start: Floats, step: Floats, stress: Floats, rise: Floats) -> Floats:
    """Force and first moment about x = 0, (2, B, n), of a stress that rises straight over a step from x = start."""
    force = step * (stress + rise * step / 2.0)
    return np.stack([force, start * force + step**2 * (stress / 2.0 + rise * step / 3.0)])
