"""Cracked bodies that grow: sizes in, stress intensity at the growing ends and reference stress out.

Sizes are arrays (P, n): P dimensions of one crack (depth, and half length where it has one) of n cracks at once.
K is linear in the stress, so `influence` gives K per MPa of membrane and of bending stress, at the end where each
dimension grows, (P, n) each. `most` is the range of the solutions, beyond which growth is not followed.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Protocol

import numpy as np
from numpy.typing import ArrayLike, NDArray

from analysis.life import cracks_hole, cracks_plate, limit_load, weight_function
from analysis.life.weight_function import Profile

Floats = NDArray[np.float64]

_TABLE = 500  # depths in a table of K


class Body(Protocol):
    """What growth asks of a cracked body."""

    @property
    def names(self) -> tuple[str, ...]: ...
    def influence(self, sizes: Floats) -> tuple[Floats, Floats]: ...
    def reference(self, sizes: Floats, membrane: ArrayLike, bending: ArrayLike) -> Floats: ...
    def inside(self, sizes: Floats) -> NDArray[np.bool_]: ...


@dataclass(frozen=True)
class Surface:
    """Semi-elliptical crack in the face of a plate; sizes depth and half length."""

    thickness: float
    width: float = np.inf
    names = ("depth", "half length")

    def influence(self, sizes: Floats) -> tuple[Floats, Floats]:
        a, c = sizes
        aspect, share = a / c, a / self.thickness
        root = np.sqrt(np.pi * a / cracks_plate.shape_factor(aspect))
        angles = (cracks_plate.DEEPEST, 0.0)
        across = 2.0 * c / self.width
        tension = np.stack(
            [root * cracks_plate.surface_tension(aspect, share, phi, across) for phi in angles]
        )
        turned = np.stack([cracks_plate.bending_multiplier(aspect, share, phi) for phi in angles])
        return tension, tension * turned

    def reference(self, sizes: Floats, membrane: ArrayLike, bending: ArrayLike) -> Floats:
        return limit_load.surface(membrane, bending, sizes[0], sizes[1], self.thickness, self.width)

    def inside(self, sizes: Floats) -> NDArray[np.bool_]:
        """a/t to 0.8 (the finite elements behind the equation end there), a/c to 2, half the width."""
        a, c = sizes
        shallow = np.where(a / c < 0.2, 1.25 * (a / c + 0.6), 1.0)
        share = a / self.thickness
        return (share <= np.minimum(0.8, shallow)) & (a / c <= 2.0) & (2.0 * c <= 0.5 * self.width)


@dataclass(frozen=True)
class Edge:
    """Straight crack along a plate's edge, ends free to turn; size depth."""

    width: float
    names = ("depth",)

    def influence(self, sizes: Floats) -> tuple[Floats, Floats]:
        root = np.sqrt(np.pi * sizes)
        share = sizes / self.width
        return root * cracks_plate.edge_tension(share), root * cracks_plate.edge_bending(share)

    def reference(self, sizes: Floats, membrane: ArrayLike, bending: ArrayLike) -> Floats:
        return limit_load.edge(membrane, bending, sizes[0], self.width)

    def inside(self, sizes: Floats) -> NDArray[np.bool_]:
        return sizes[0] <= 0.6 * self.width


@dataclass(frozen=True)
class Through:
    """Central crack through the wall; size half the length. Bending counts as tension: the worse face."""

    width: float = np.inf
    names = ("half length",)

    def influence(self, sizes: Floats) -> tuple[Floats, Floats]:
        k = cracks_plate.through(1.0, sizes, self.width)
        return k, k

    def reference(self, sizes: Floats, membrane: ArrayLike, bending: ArrayLike) -> Floats:
        return limit_load.through(membrane, bending, sizes[0], self.width)

    def inside(self, sizes: Floats) -> NDArray[np.bool_]:
        return 2.0 * sizes[0] <= 0.8 * self.width


@dataclass(frozen=True)
class HoleThrough:
    """One or two cracks through the wall at a hole; size length from the hole's edge.

    Stress is the gross one far away; bending over the thickness counts as tension: the worse face.
    """

    radius: float
    thickness: float
    width: float
    cracks: int = 1
    names = ("length",)

    def influence(self, sizes: Floats) -> tuple[Floats, Floats]:
        k = cracks_hole.through(1.0, sizes, self.radius, self.width, self.cracks)
        return k, k

    def reference(self, sizes: Floats, membrane: ArrayLike, bending: ArrayLike) -> Floats:
        stress = np.asarray(membrane, float) + np.maximum(np.asarray(bending, float), 0.0)
        area = self.cracks * sizes[0] * self.thickness
        return limit_load.hole(stress, area, self.radius, self.thickness, self.width)

    def inside(self, sizes: Floats) -> NDArray[np.bool_]:
        return (self.radius + sizes[0] <= 0.4 * self.width) & _net(
            self, self.cracks * sizes[0] * self.thickness
        )


@dataclass(frozen=True)
class HoleCorner:
    """One or two quarter-elliptical cracks at a hole's edge; sizes depth along the wall, length on the face."""

    radius: float
    thickness: float
    width: float
    cracks: int = 1
    names = ("depth", "length")

    def influence(self, sizes: Floats) -> tuple[Floats, Floats]:
        a, c = sizes
        ends = (cracks_hole.WALL, cracks_hole.FACE)
        k = np.stack(
            [
                cracks_hole.corner(1.0, a, c, self.radius, self.thickness, self.width, self.cracks, phi)
                for phi in ends
            ]
        )
        return k, k

    def reference(self, sizes: Floats, membrane: ArrayLike, bending: ArrayLike) -> Floats:
        stress = np.asarray(membrane, float) + np.maximum(np.asarray(bending, float), 0.0)
        area = self.cracks * np.pi / 4.0 * sizes[0] * sizes[1]
        return limit_load.hole(stress, area, self.radius, self.thickness, self.width)

    def inside(self, sizes: Floats) -> NDArray[np.bool_]:
        """a/t to 0.8, a/c 0.2 to 2, hole and crack within 0.4 of the width."""
        a, c = sizes
        fits = (a <= 0.8 * self.thickness) & (self.radius + c <= 0.4 * self.width)
        shaped = (a / c <= 2.0) & (a / c >= 0.2)
        return fits & shaped & _net(self, self.cracks * np.pi / 4.0 * a * c)


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


def _net(body: HoleThrough | HoleCorner, area: Floats) -> NDArray[np.bool_]:
    """Whether some net section is left."""
    return 2.0 * body.radius * body.thickness + area < 0.95 * body.width * body.thickness
