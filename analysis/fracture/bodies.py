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

from analysis.fracture import cracks_hole, cracks_plate, limit_load

Floats = NDArray[np.float64]


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


def _net(body: HoleThrough | HoleCorner, area: Floats) -> NDArray[np.bool_]:
    """Whether some net section is left."""
    return 2.0 * body.radius * body.thickness + area < 0.95 * body.width * body.thickness
