"""Cracked bodies that grow: sizes in, stress intensity at the growing ends and reference stress out.

Sizes are arrays (P, n): P dimensions of one crack (depth, and half length where it has one) of n cracks at once.
K is linear in the stress, so `influence` gives K of each of the body's B basis stresses, at the end where each dimension
grows, (B, P, n); a state of stress is B factors on them. Here the two are 1 MPa of membrane and of bending stress (outer
fibre); in `bodies_profile` they are stresses along the crack's path. `inside` is the range of the solutions, beyond which
growth is not followed.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Protocol

import numpy as np
from numpy.typing import NDArray

from analysis.fracture import cracks_hole, cracks_plate, hole_weight, limit_load

Floats = NDArray[np.float64]


class Body(Protocol):
    """What growth asks of a cracked body."""

    @property
    def names(self) -> tuple[str, ...]: ...
    def influence(self, sizes: Floats) -> Floats: ...
    def reference(self, sizes: Floats, state: Floats) -> Floats: ...
    def inside(self, sizes: Floats) -> NDArray[np.bool_]: ...


@dataclass(frozen=True)
class Surface:
    """Semi-elliptical crack in the face of a plate; sizes depth and half length."""

    thickness: float
    width: float = np.inf
    names = ("depth", "half length")

    def influence(self, sizes: Floats) -> Floats:
        a, c = sizes
        aspect, share = a / c, a / self.thickness
        root = np.sqrt(np.pi * a / cracks_plate.shape_factor(aspect))
        angles = (cracks_plate.DEEPEST, 0.0)
        across = 2.0 * c / self.width
        tension = np.stack(
            [root * cracks_plate.surface_tension(aspect, share, phi, across) for phi in angles]
        )
        turned = np.stack([cracks_plate.bending_multiplier(aspect, share, phi) for phi in angles])
        return np.stack([tension, tension * turned])

    def reference(self, sizes: Floats, state: Floats) -> Floats:
        return limit_load.surface(state[0], state[1], sizes[0], sizes[1], self.thickness, self.width)

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

    def influence(self, sizes: Floats) -> Floats:
        root = np.sqrt(np.pi * sizes)
        share = sizes / self.width
        return np.stack([root * cracks_plate.edge_tension(share), root * cracks_plate.edge_bending(share)])

    def reference(self, sizes: Floats, state: Floats) -> Floats:
        return limit_load.edge(state[0], state[1], sizes[0], self.width)

    def inside(self, sizes: Floats) -> NDArray[np.bool_]:
        return sizes[0] <= 0.6 * self.width


@dataclass(frozen=True)
class Through:
    """Central crack through the wall; size half the length. Bending counts as tension: the worse face."""

    width: float = np.inf
    names = ("half length",)

    def influence(self, sizes: Floats) -> Floats:
        k = cracks_plate.through(1.0, sizes, self.width)
        return np.stack([k, k])

    def reference(self, sizes: Floats, state: Floats) -> Floats:
        return limit_load.through(state[0], state[1], sizes[0], self.width)

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

    def influence(self, sizes: Floats) -> Floats:
        k = cracks_hole.through(1.0, sizes, self.radius, self.width, self.cracks)
        return np.stack([k, k])

    def reference(self, sizes: Floats, state: Floats) -> Floats:
        return _strip(self, state, *self.lost(sizes))

    def lost(self, sizes: Floats) -> tuple[Floats, Floats]:
        """Area of one crack, and the distance of its middle from the hole's edge."""
        return sizes[0] * self.thickness, sizes[0] / 2.0

    def inside(self, sizes: Floats) -> NDArray[np.bool_]:
        """Hole and crack within 0.4 of the width, the crack within 10 radii (`hole_weight`)."""
        c = sizes[0]
        fits = (self.radius + c <= 0.4 * self.width) & (c <= hole_weight.LONGEST * self.radius)
        return fits & _net(self, self.cracks * self.lost(sizes)[0])


@dataclass(frozen=True)
class HoleCorner:
    """One or two quarter-elliptical cracks at a hole's edge; sizes depth along the wall, length on the face."""

    radius: float
    thickness: float
    width: float
    cracks: int = 1
    names = ("depth", "length")

    def influence(self, sizes: Floats) -> Floats:
        a, c = sizes
        k = np.stack(cracks_hole.corner(1.0, a, c, self.radius, self.thickness, self.width, self.cracks))
        return np.stack([k, k])

    def reference(self, sizes: Floats, state: Floats) -> Floats:
        return _strip(self, state, *self.lost(sizes))

    def lost(self, sizes: Floats) -> tuple[Floats, Floats]:
        """Area of one crack, and the distance of its middle (that of a quarter ellipse) from the hole's edge."""
        return np.pi / 4.0 * sizes[0] * sizes[1], 4.0 / (3.0 * np.pi) * sizes[1]

    def inside(self, sizes: Floats) -> NDArray[np.bool_]:
        """a/t to 0.8, a/c 0.2 to 2, hole and crack within 0.4 of the width, the crack within 10 radii."""
        a, c = sizes
        fits = (a <= 0.8 * self.thickness) & (self.radius + c <= 0.4 * self.width)
        shaped = (a / c <= 2.0) & (a / c >= 0.2) & (c <= hole_weight.LONGEST * self.radius)
        return fits & shaped & _net(self, self.cracks * self.lost(sizes)[0])


def _strip(body: HoleThrough | HoleCorner, state: Floats, area: Floats, middle: Floats) -> Floats:
    """Of the strip with the hole in it; bending over the thickness counts as tension."""
    stress = state[0] + max(float(state[1]), 0.0)
    if body.cracks == 2:
        return limit_load.hole(stress, 2.0 * area, body.radius, body.thickness, body.width)
    return limit_load.hole_one_side(stress, area, middle, body.radius, body.thickness, body.width)


def _net(body: HoleThrough | HoleCorner, area: Floats) -> NDArray[np.bool_]:
    """Whether some net section is left."""
    return 2.0 * body.radius * body.thickness + area < 0.95 * body.width * body.thickness
