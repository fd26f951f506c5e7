"""Where a setup stands: arm = scale R x + t, with the point x in the setup's axes."""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np
from scipy.spatial.transform import Rotation

from geometry.datums import Floats


@dataclass(frozen=True)
class Pose:
    turn: Rotation = field(default_factory=Rotation.identity)
    shift: Floats = field(default_factory=lambda: np.zeros(3))

    def __call__(self, points: Floats, scale: float = 1.0) -> Floats:
        """Points (n, 3) of the setup in the arm's axes."""
        return scale * self.turn.apply(points) + self.shift

    def back(self, points: Floats) -> Floats:
        """Points of the arm in the setup's axes."""
        return self.turn.inv().apply(points - self.shift)

    def inverse(self) -> Pose:
        return Pose(self.turn.inv(), -self.turn.inv().apply(self.shift))

    def moved(self, step: Floats) -> Pose:
        """Turned about the arm's pivot by the rotation vector step[:3], then shifted by step[3:]."""
        by = Rotation.from_rotvec(step[:3])
        return Pose(by * self.turn, by.apply(self.shift) + step[3:])

    def after(self, first: Pose) -> Pose:
        """This pose applied to what `first` gives."""
        return Pose(self.turn * first.turn, self.turn.apply(first.shift) + self.shift)


def onto(points: Floats, wanted: Floats) -> Pose:
    """The pose that best brings points (n, 3) onto others, least squares."""
    middle, aim = points.mean(axis=0), wanted.mean(axis=0)
    turn, _ = Rotation.align_vectors(wanted - aim, points - middle)
    return Pose(turn, aim - turn.apply(middle))
