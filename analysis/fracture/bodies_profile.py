"""Cracked bodies under the stress along the crack's path, as a mesh gives it, in place of membrane and bending.

The basis stresses are the profile's: K of each by a weight function, so that every state has its own. Functions of the crack's
depth alone are tabled once. Otherwise as `bodies`.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from analysis.fracture import (
    cracks_hole,
    cracks_plate,
    hole_weight,
    limit_load,
    surface_weight,
    weight_function,
)
from analysis.fracture.bodies import HoleCorner, HoleThrough, Surface
from analysis.fracture.moments import Table
from analysis.fracture.weight_function import Profile

Floats = NDArray[np.float64]


def straight(profile: Profile, far: float, thickness: float) -> Floats:
    """Membrane and bending stress (2, B) of the straight line with the profile's force and moment down to `far`."""
    return np.stack(weight_function.linearise(profile, [far], thickness))[..., 0]


def pulled(line: Floats, state: Floats) -> Floats:
    """Membrane and bending stress of a state on the basis `line` (2, B); what presses or closes counts as none."""
    return np.maximum(line @ state, 0.0)


@dataclass(frozen=True)
class ProfileEdge:
    """Edge crack. The weight function carries a/W to 0.5. Net section: the profile's force and moment over the width."""

    profile: Profile
    width: float
    names = ("depth",)

    @property
    def deepest(self) -> float:
        return min(0.5 * self.width, self.profile.last)

    @cached_property
    def _table(self) -> Table:
        return Table.of(
            lambda a: weight_function.edge(self.profile, a, self.width) / np.sqrt(a), self.deepest
        )

    @cached_property
    def _line(self) -> Floats:
        far = min(self.width, self.profile.last)
        return straight(self.profile, far, far)

    def influence(self, sizes: Floats) -> Floats:
        return (np.sqrt(sizes[0]) * self._table(sizes[0]))[:, None, :]

    def reference(self, sizes: Floats, state: Floats) -> Floats:
        m, b = pulled(self._line, state)
        return limit_load.edge(m, b, sizes[0], self.width)

    def inside(self, sizes: Floats) -> NDArray[np.bool_]:
        return sizes[0] <= self.deepest


@dataclass(frozen=True)
class ProfileSurface:
    """Surface crack, by `surface_weight`. Net section: force and moment over the wall, as far as the profile goes."""

    profile: Profile
    thickness: float
    width: float = np.inf
    names = ("depth", "half length")

    @property
    def plain(self) -> Surface:
        return Surface(self.thickness, self.width)

    @cached_property
    def _table(self) -> Table:
        """Moments about tip and mouth, rows (2, 4, B)."""
        both = (self.profile.to_tip, self.profile.to_mouth)
        return Table.of(
            lambda a: np.concatenate([np.concatenate(moments(a, surface_weight.POWERS)) for moments in both]),
            min(self.profile.last, self.thickness),
        )

    @cached_property
    def _line(self) -> Floats:
        return straight(self.profile, min(self.thickness, self.profile.last), self.thickness)

    def influence(self, sizes: Floats) -> Floats:
        a, c = sizes
        root = np.sqrt(np.pi * a / cracks_plate.shape_factor(a / c))
        moments = self._table(a).reshape(2, 4, -1, a.size)
        parts = []
        for weight, phi, own, at in (
            (surface_weight.deepest, cracks_plate.DEEPEST, np.sqrt(2.0 * a / np.pi), moments[0]),
            (surface_weight.at_surface, 0.0, 2.0 * np.sqrt(a / np.pi), moments[1]),
        ):
            tension = (
                root
                * cracks_plate.surface_tension(a / c, a / self.thickness, phi, 2.0 * c / self.width)
                / own
            )
            turned = cracks_plate.bending_multiplier(a / c, a / self.thickness, phi)
            falling = tension * (1.0 - (1.0 - turned) * self.thickness / (2.0 * a))  # of 1 - x/a
            parts.append(own * weight(tension, falling, at))
        return np.stack(parts, axis=1)

    def reference(self, sizes: Floats, state: Floats) -> Floats:
        return self.plain.reference(sizes, pulled(self._line, state))

    def inside(self, sizes: Floats) -> NDArray[np.bool_]:
        return self.plain.inside(sizes) & (sizes[0] <= self.profile.last)


@dataclass(frozen=True)
class ProfileHole:
    """Through or corner crack at a hole under the stress along the face from the hole's edge outward, by `hole_weight`.

    The profile is that of the uncracked arm, so the plate's width without a crack is in it already. Net section, whichever is
    worse: the strip with the hole in it, both sides under the profile's mean and one of them cracked; the cracked ligament alone
    under the profile's force and moment, as far as its points go.
    """

    profile: Profile
    plain: HoleThrough | HoleCorner

    @property
    def names(self) -> tuple[str, ...]:
        return self.plain.names

    @property
    def ligament(self) -> float:
        return self.plain.width / 2.0 - self.plain.radius

    @cached_property
    def _table(self) -> Table:
        """What drives cracks along this path, `cracks_hole.DRIVING`, all rows in one."""
        return Table.of(self._driving, min(self.profile.last, hole_weight.LONGEST * self.plain.radius))

    def _driving(self, length: Floats) -> Floats:
        kinds = cracks_hole.DRIVING
        return np.concatenate([kind(self.profile, length, self.plain.radius) for kind in kinds])

    @cached_property
    def _line(self) -> Floats:
        far = min(self.ligament, self.profile.last)
        return straight(self.profile, far, far)

    def influence(self, sizes: Floats) -> Floats:
        body, c = self.plain, sizes[-1]
        driving = self._table(c).reshape(len(cracks_hole.DRIVING), -1, c.size)
        if isinstance(body, HoleThrough):
            k = cracks_hole.from_stress(driving, c, body.cracks)[:, None]
        else:
            k = cracks_hole.corner_from_stress(driving, sizes[0], c, body.radius, body.thickness, body.cracks)
        deep = 1.0 if isinstance(body, HoleThrough) else sizes[0] / body.thickness
        whole = cracks_hole.width_factor(c, body.radius, body.width, body.cracks, deep)
        return k * (whole / cracks_hole.width_factor(0.0, body.radius, body.width, body.cracks, deep))

    def reference(self, sizes: Floats, state: Floats) -> Floats:
        m, b = pulled(self._line, state)
        area, _ = self.plain.lost(sizes)
        gross = m * (1.0 - 2.0 * self.plain.radius / self.plain.width)
        strip = self.plain.reference(sizes, np.array([gross, 0.0]))
        return np.maximum(strip, limit_load.ligament(m, b, area, self.plain.thickness, self.ligament))

    def inside(self, sizes: Floats) -> NDArray[np.bool_]:
        return self.plain.inside(sizes) & (sizes[-1] <= self.profile.last)
