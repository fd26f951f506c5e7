"""The section on the line that halves the angle between the arms, where their inner edges meet in a knee outside the hub's circle.

From the bore outward: both walls of the hub, and on the inner side the metal of the arms between the hub's circle and the blend of
the knee. Its bar is sharply curved about the centre of that blend, so plane sections stress it after Winkler and Bach,

    sigma = N/A + M (rn - r)/(A (rc - rn) r),  rn = A/integral of dA/r,

r from the centre of curvature, M about the centroid: the knee draws moment off the walls of the hub. Timoshenko, Strength of
Materials Part II, ch. 2.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from params.schema.arm import Arm
from params.steps.arrays import Floats


@dataclass(frozen=True)
class Knee:
    """Strips of the section, from `low` to `high` along the bisector, inward positive from the pivot, and `width` wide; mm."""

    low: Floats
    high: Floats
    width: Floats
    centre: float  # of curvature, along the bisector

    @classmethod
    def of(cls, arm: Arm) -> Knee | None:
        """None where the inner edges of the arms meet within the hub's circle."""
        geometry = arm.geometry
        hub, bore = geometry.pivot.outside / 2.0, geometry.pivot.bore / 2.0
        halved = float(np.sin(geometry.included_angle / 2.0))
        centre = (geometry.section.depth_at_hub / 2.0 + geometry.blend_radius) / halved
        edge = centre - geometry.blend_radius
        if edge <= hub:
            return None
        strips = np.array([[-hub, -bore], [bore, hub], [hub, edge]])
        width = np.array([geometry.pivot.width, geometry.pivot.width, geometry.section.width])
        return cls(strips[:, 0], strips[:, 1], width, centre)

    @property
    def edge(self) -> float:
        """Inner edge of the knee along the bisector, mm."""
        return float(self.high[-1])

    @property
    def area(self) -> float:
        return float(np.sum(self.width * (self.high - self.low)))

    @property
    def centroid(self) -> float:
        return float(np.sum(self.width * (self.high**2 - self.low**2)) / 2.0 / self.area)

    @property
    def neutral(self) -> float:
        """Radius of the neutral line about the centre of curvature under a moment alone."""
        return self.area / float(
            np.sum(self.width * np.log((self.centre - self.low) / (self.centre - self.high)))
        )

    def stress(self, force: float, moment: float, at: Floats) -> Floats:
        """Normal stress, MPa, at places along the bisector; tension and moment about the pivot that stretches the inner side."""
        about = moment - force * self.centroid
        r, rn, rc = self.centre - np.asarray(at, dtype=float), self.neutral, self.centre - self.centroid
        return force / self.area + about * (rn - r) / (self.area * (rc - rn) * r)

    def mean(self, force: float, moment: float, strip: int) -> float:
        """Mean normal stress of one strip, MPa: of (rn - r)/r it is rn ln(r1/r2)/(r1 - r2) - 1."""
        about = moment - force * self.centroid
        outer, inner = self.centre - self.low[strip], self.centre - self.high[strip]
        rn, rc = self.neutral, self.centre - self.centroid
        share = rn * np.log(outer / inner) / (outer - inner) - 1.0
        return float(force / self.area + about * share / (self.area * (rc - rn)))
