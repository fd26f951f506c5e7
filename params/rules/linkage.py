"""Kinematics of the arm in the world frame: where the pins and the cylinder stand over the swing."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from params.schema.arm import Arm
from params.steps.arrays import Floats


@dataclass(frozen=True)
class Poses:
    """The linkage at P fractions of the swing (0 lowered, 1 raised); mm and rad, world frame."""

    fraction: Floats  # (P,)
    phi: Floats  # (P,) angle of the output arm above the horizontal
    input_pin: Floats  # (P, 2)
    output_pin: Floats  # (P, 2)
    cylinder_length: Floats  # (P,) pin to pin
    push: Floats  # (P, 2) unit vector of an extending cylinder's force on the arm
    push_arm: Floats  # (P,) signed moment arm of that force about the pivot, counter-clockwise positive
    pull: Floats  # (P, 2) unit vector of the load's force on the output pin
    pull_arm: Floats  # (P,) signed moment arm of that force about the pivot


def direction(angle: ArrayLike) -> Floats:
    """Unit vectors (..., 2) at `angle` in rad from +x, counter-clockwise."""
    angle = np.asarray(angle, dtype=float)
    return np.stack([np.cos(angle), np.sin(angle)], axis=-1)


def cross(a: Floats, b: Floats) -> Floats:
    """z component of a x b for vectors (..., 2)."""
    return a[..., 0] * b[..., 1] - a[..., 1] * b[..., 0]


def poses(arm: Arm, fraction: ArrayLike) -> Poses:
    """Pose of the linkage at each fraction of the swing, shape (P,)."""
    fraction = np.atleast_1d(np.asarray(fraction, dtype=float))
    drive, geometry = arm.drive, arm.geometry
    phi = drive.lowered + fraction * (drive.raised - drive.lowered)
    input_pin = geometry.input_arm * direction(phi + geometry.included_angle)
    output_pin = geometry.output_arm * direction(phi)
    push, cylinder_length = unit(input_pin - np.array([drive.anchor.x, drive.anchor.y]))
    pull = _pull(arm, output_pin)
    return Poses(
        fraction=fraction,
        phi=phi,
        input_pin=input_pin,
        output_pin=output_pin,
        cylinder_length=cylinder_length,
        push=push,
        push_arm=cross(input_pin, push),
        pull=pull,
        pull_arm=cross(output_pin, pull),
    )


def unit(along: Floats) -> tuple[Floats, Floats]:
    """Unit vectors (P, 2) and lengths (P,) of vectors (P, 2); where a length is 0 the vector stays (0, 0)."""
    length = np.hypot(along[:, 0], along[:, 1])
    return along / np.where(length > 0.0, length, 1.0)[:, None], length


def _pull(arm: Arm, output_pin: Floats) -> Floats:
    if arm.driven.anchor is None:
        return np.broadcast_to(direction(arm.driven.direction or 0.0), output_pin.shape)
    return unit(np.array([arm.driven.anchor.x, arm.driven.anchor.y]) - output_pin)[0]
