"""Cracked bodies under the stress along the crack's path, as a mesh gives it, in place of membrane and bending.

The membrane of their stress is a factor on the profile, the bending is unused; otherwise as `bodies`.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from analysis.fracture import cracks_hole, limit_load, weight_function
from analysis.fracture.bodies import HoleCorner, HoleThrough, Surface
from analysis.fracture.weight_function import Profile

Floats = NDArray[np.float64]
_TABLE = 500  # depths in a table of K


@dataclass(frozen=True)
class ProfileEdge:
    """Edge crack under the stress along its path; membrane is then a factor on that profile, bending unused.

    The weight function carries a/W to 0.5. Net section: the profile's force and moment over the width.
    """

    profile: Profile
    width: float
    names = ("depth",)

    def influence(self, sizes: Floats) -> tuple[Floats, Floats]:
        a = sizes[0]
        if a.size <= 2 * _TABLE:
            k = weight_function.edge(self.profile, a, self.width)
        else:  # thousands of sampled cracks: K over the root of depth is smooth, read it from a table
            at = np.geomspace(a.min(), a.max(), _TABLE)
            k = np.sqrt(a) * np.interp(
                a, at, weight_function.edge(self.profile, at, self.width) / np.sqrt(at)
            )
        return k[None, :], np.zeros((1, a.size))

    def reference(self, sizes: Floats, membrane: ArrayLike, bending: ArrayLike) -> Floats:
        far = min(self.width, float(self.profile.depth[-1]))
        mean, turned = weight_function.linearise(self.profile, far, far)
        factor = np.asarray(membrane, float)
        return limit_load.edge(factor * float(mean), factor * float(turned), sizes[0], self.width)

    def inside(self, sizes: Floats) -> NDArray[np.bool_]:
        return sizes[0] <= min(0.5 * self.width, float(self.profile.depth[-1]))


@dataclass(frozen=True)
class ProfileSurface:
    """Surface crack under the stress along its path, linearised over the crack's depth as it grows;
    membrane is a factor on that profile, bending unused.
    """

    profile: Profile
    thickness: float
    width: float = np.inf
    names = ("depth", "half length")

    @property
    def plain(self) -> Surface:
        return Surface(self.thickness, self.width)

    def influence(self, sizes: Floats) -> tuple[Floats, Floats]:
        m, b = weight_function.linearise(self.profile, sizes[0], self.thickness)
        tension, turned = self.plain.influence(sizes)
        k = np.maximum(m * tension + b * turned, 0.0)
        return k, np.zeros_like(k)

    def reference(self, sizes: Floats, membrane: ArrayLike, bending: ArrayLike) -> Floats:
        far = min(self.thickness, float(self.profile.depth[-1]))
        m, b = weight_function.linearise(self.profile, far, self.thickness)
        factor = np.asarray(membrane, float)
        return self.plain.reference(sizes, factor * float(m), factor * float(b))

    def inside(self, sizes: Floats) -> NDArray[np.bool_]:
        return self.plain.inside(sizes) & (sizes[0] <= self.profile.depth[-1])


@dataclass(frozen=True)
class ProfileHole:
    """Through or corner crack at a hole under the stress along the face from the hole's edge outward; membrane is
    a factor on that profile, bending unused.

    The profile is that of the uncracked arm, so the plate's width without a crack is in it already. Net section:
    the profile's mean over the ligament as far as its points go.
    """

    profile: Profile
    plain: HoleThrough | HoleCorner

    @property
    def names(self) -> tuple[str, ...]:
        return self.plain.names

    def influence(self, sizes: Floats) -> tuple[Floats, Floats]:
        deep = 1.0 if isinstance(self.plain, HoleThrough) else 0.0
        width = cracks_hole.width_factor(0.0, self.plain.radius, self.plain.width, self.plain.cracks, deep)
        stress = np.maximum(self._gross(sizes[-1]), 0.0) / width
        k = self.plain.influence(sizes)[0] * stress
        return k, np.zeros_like(k)

    def reference(self, sizes: Floats, membrane: ArrayLike, bending: ArrayLike) -> Floats:
        hole = 2.0 * self.plain.radius
        far = min((self.plain.width - hole) / 2.0, float(self.profile.depth[-1]))
        m, _ = weight_function.linearise(self.profile, far, far)
        gross = float(m) * (1.0 - hole / self.plain.width)
        return self.plain.reference(sizes, np.asarray(membrane, float) * max(gross, 0.0), 0.0)

    def inside(self, sizes: Floats) -> NDArray[np.bool_]:
        return self.plain.inside(sizes) & (sizes[-1] <= self.profile.depth[-1])

    def _gross(self, length: Floats) -> Floats:
        if length.size <= 2 * _TABLE:
            return weight_function.hole_stress(self.profile, length, self.plain.radius)
        at = np.geomspace(length.min(), length.max(), _TABLE)
        return np.interp(length, at, weight_function.hole_stress(self.profile, at, self.plain.radius))
