"""Datums of the arm, without CAD: pin centres, arm directions, hub and boss circles, depth along the arms.

Arm frame: pivot at the origin, output arm along +x, input pin at the included angle from it. Local axes of an arm:
s from the pivot centre to the pin, eta = z x s.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from params.schema.arm import Arm, Bore
from params.schema.geometry import ARMS, BORES

__all__ = ["ARMS", "BORES", "ArmDatum", "Floats", "arm_datum", "bore", "centre"]

Floats = NDArray[np.float64]
MEETING = np.radians(
    15.0
)  # least angle at which an arm's edge runs into the boss's circle, so that no element there is a sliver
CORNER = 1.2  # corner radius of a pocket (i) over its floor's fillet, so that the fillet goes round it


@dataclass(frozen=True)
class ArmDatum:
    """One of the two arms; lengths in mm."""

    name: str
    length: float  # pivot centre to pin centre
    along: Floats  # (2,) unit vector s in the arm frame
    across: Floats  # (2,) unit vector eta
    hub_edge: float  # s where the arm leaves the hub circle
    boss_edge: float  # s where the arm enters the boss circle
    depth_at_hub: float
    depth_at_pin: float

    @property
    def pin(self) -> Floats:
        """Pin centre (2,)."""
        return self.length * self.along

    @property
    def boss(self) -> float:
        """Radius of the boss's circle."""
        return self.length - self.boss_edge

    def corners(self) -> tuple[Floats, Floats]:
        """Places along the arm, and its depth there, between which its edges are straight: pivot, hub circle, pin centre.

        Where the taper would run almost along the boss's circle, the edges turn in before it to meet it at MEETING.
        """
        s, depth = (
            [0.0, self.hub_edge, self.length],
            [self.depth_at_hub, self.depth_at_hub, self.depth_at_pin],
        )
        most = 2.0 * self.boss * float(np.cos(MEETING))
        if depth[-1] > most:
            at = self.boss_edge - min(0.5 * (self.boss_edge - self.hub_edge), self.boss)
            share = (at - self.hub_edge) / (self.length - self.hub_edge)
            s.insert(2, at)
            depth[2:] = [depth[1] + share * (self.depth_at_pin - depth[1]), most]
        return np.array(s), np.array(depth)

    def depth(self, s: ArrayLike) -> Floats:
        """Depth at s between pivot and pin."""
        return np.interp(np.asarray(s, dtype=float), *self.corners())

    def point(self, s: ArrayLike, eta: ArrayLike = 0.0) -> Floats:
        """Arm-frame points (..., 2) at s and eta."""
        s, eta = np.broadcast_arrays(np.asarray(s, dtype=float), np.asarray(eta, dtype=float))
        return s[..., None] * self.along + eta[..., None] * self.across


def arm_datum(arm: Arm, name: str) -> ArmDatum:
    """Datums of the `input` or the `output` arm."""
    geometry = arm.geometry
    angle = 0.0 if name == "output" else geometry.included_angle
    along = np.array([np.cos(angle), np.sin(angle)])
    length = float(getattr(geometry, f"{name}_arm"))
    return ArmDatum(
        name=name,
        length=length,
        along=along,
        across=np.array([-along[1], along[0]]),
        hub_edge=geometry.pivot.outside / 2.0,
        boss_edge=length - getattr(geometry, name).outside / 2.0,
        depth_at_hub=geometry.section.depth_at_hub,
        depth_at_pin=geometry.section.depth_at_pins,
    )


def centre(arm: Arm, name: str) -> Floats:
    """Centre (2,) of the `pivot`, `input` or `output` bore in the arm frame."""
    return np.zeros(2) if name == "pivot" else arm_datum(arm, name).pin


def bore(arm: Arm, name: str) -> Bore:
    """The bore, hub or boss of this name."""
    return getattr(arm.geometry, name)


def slant(datum: ArmDatum, s: float) -> float:
    """Depth taken across the arm at s for a unit of thickness square to its edge there; between two stretches the mean of both."""
    at, depth = datum.corners()
    each = np.hypot(1.0, np.diff(depth) / 2.0 / np.diff(at))
    return float(
        np.mean(
            [
                each[np.clip(np.searchsorted(at, s, side=side) - 1, 0, len(each) - 1)]
                for side in ("left", "right")
            ]
        )
    )
