"""Where the arms begin and end as beams: from the hub circle to the boss circle, input arm first, for D designs.

Arrays carry the axes (D, 2, S): design, arm, station. `s` runs along an arm from the pivot centre to its pin in mm.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache, cached_property
from itertools import pairwise

import numpy as np
from numpy.typing import ArrayLike

from analysis.mechanics.sections import Section, area_of, section
from analysis.mechanics.sizes import Sizes
from geometry.datums import ARMS, MEETING, arm_datum
from params.schema.arm import Arm, Bore
from params.steps.arrays import Floats


@dataclass(frozen=True)
class Spans:
    """Both arms of D designs between hub and boss."""

    sizes: Sizes  # shaped (D, 1, 1)
    length: Floats  # (2, 1) pivot centre to pin centre
    hub: Floats  # (D, 1, 1) radius of the hub circle
    boss: Floats  # (2, 1) radius of the boss circle

    @property
    def start(self) -> Floats:
        return np.broadcast_to(self.hub, (len(self.hub), 2, 1))

    @property
    def end(self) -> Floats:
        return self.length - self.boss

    @property
    def slope(self) -> Floats:
        """Change of depth along s from the hub circle on, (D, 2, 1): negative where the arm tapers to its pin."""
        return (self.sizes.depth_at_pins - self.sizes.depth_at_hub) / (self.length - self.hub)

    @cached_property
    def turn(self) -> tuple[Floats, Floats]:
        """Where the edges turn in toward the boss, and the change of slope there, (D, 2, 1); see `datums.ArmDatum.corners`."""
        at = self.end - np.minimum(0.5 * (self.end - self.hub), self.boss)
        over = np.maximum(self.sizes.depth_at_pins - 2.0 * self.boss * np.cos(MEETING), 0.0)
        return at, -over / (self.length - at)

    def slope_at(self, s: ArrayLike) -> Floats:
        """Change of depth along s at stations between hub and boss."""
        at, more = self.turn
        return self.slope + more * (np.asarray(s) > at)

    def depth(self, s: ArrayLike) -> Floats:
        """Depth at s: that of the hub up to the hub circle, then straight to the pin centre or to where it turns in."""
        at, more = self.turn
        place = np.asarray(s)
        straight = self.sizes.depth_at_hub + self.slope * np.maximum(place - self.hub, 0.0)
        return straight + more * np.maximum(place - at, 0.0) if np.any(more) else straight

    def section(self, s: ArrayLike) -> Section:
        return section(self.sizes.kind, self.depth(s), *self._plates)

    def area(self, s: ArrayLike) -> Floats:
        return area_of(self.sizes.kind, self.depth(s), *self._plates)

    @property
    def _plates(self) -> tuple[Floats, Floats, Floats, Floats]:
        return self.sizes.width, self.sizes.flange_thickness, self.sizes.web_thickness, self.sizes.fillet

    def stations(self, count: int) -> Floats:
        """`count` even stations from hub edge to boss edge, both included, (D, 2, S)."""
        return self.start + (self.end - self.start) * np.linspace(0.0, 1.0, count)

    def gauss(self, count: int) -> tuple[Floats, Floats]:
        """Gauss points and weights from hub edge to boss edge, (D, 2, S): `count` on either side of the turn of the edges."""
        ends = [self.start, self.turn[0], self.end]
        point, weight = gauss_rule(count)
        halves = [0.5 * (high - low) for low, high in pairwise(ends)]
        places = [low + half * (1.0 + point) for low, half in zip(ends[:-1], halves, strict=True)]
        return np.concatenate(places, axis=-1), np.concatenate([half * weight for half in halves], axis=-1)


@cache
def gauss_rule(count: int) -> tuple[Floats, Floats]:
    """Points and weights on -1..1."""
    return np.polynomial.legendre.leggauss(count)


def spans(arm: Arm, sizes: Sizes) -> Spans:
    geometry = arm.geometry
    bosses = (geometry.input, geometry.output)
    return Spans(
        sizes.with_lead(2),
        np.array([[geometry.input_arm], [geometry.output_arm]]),
        0.5 * sizes.hub.reshape(-1, 1, 1),
        np.array([[0.5 * boss.outside] for boss in bosses]),
    )


def bores(arm: Arm) -> dict[str, Bore]:
    """The three bores by the name of their surface."""
    geometry = arm.geometry
    return {"pivot_bore": geometry.pivot, "input_bore": geometry.input, "output_bore": geometry.output}


def axes(arm: Arm) -> Floats:
    """Unit vectors along s of input and output arm in the arm's frame, (2, 2)."""
    return np.array([arm_datum(arm, name).along for name in ARMS])
