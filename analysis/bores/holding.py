"""Friction grip of an interference fit, and the forces and temperatures of its assembly. Units N, mm, MPa, degrees C.

Friction and assembly forces from uniform pressure: Shigley's Mechanical Engineering Design, 9th ed. (2011),
Sec. 7-8 (press and shrink fits). The loss by smoothed roughness is that of DIN 7190-1, from memory. Real fits
bear unevenly at the hub's ends, so the grip is for review against the lowest friction and the smallest
interference.
"""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import ArrayLike

from params.steps.arrays import Floats


def axial_hold(pressure: ArrayLike, diameter: float, length: float, friction: float) -> Floats:
    """Axial force at which the fit slips, N: mu p pi d L.

    >>> round(float(axial_hold(10.0, 100.0, 50.0, 0.1)))
    15708
    """
    _positive(diameter=diameter, length=length, friction=friction)
    return friction * np.asarray(pressure, float) * math.pi * diameter * length


def slip_moment(pressure: ArrayLike, diameter: float, length: float, friction: float) -> Floats:
    """Moment about the axis at which the fit slips, N mm: mu p pi d2 L / 2."""
    return axial_hold(pressure, diameter, length, friction) * diameter / 2.0


def lift_off_force(pressure: ArrayLike, diameter: float, length: float) -> Floats:
    """Force at which a pin held by a uniform fit pressure begins to lift off on its far side, N: p pi D L / 2.

    Until then bore and pin stay in contact all round, the problem is linear and a frictionless pin of like
    material adds p1 cos(theta) with p1 = 2 P/(pi D L); the far side opens as p1 reaches the fit pressure.
    """
    return np.asarray(pressure, float) * math.pi * diameter * length / 2.0


def after_smoothing(interference: ArrayLike, roughness_bore: float, roughness_shaft: float) -> Floats:
    """Interference left once the peaks are smoothed, mm: delta - 0.8 (Rz bore + Rz shaft), DIN 7190-1 (from
    memory).
    """
    if min(roughness_bore, roughness_shaft) < 0.0:
        raise ValueError(f"roughness {roughness_bore:g} and {roughness_shaft:g} mm: must not be negative")
    delta = np.asarray(interference, float)
    return np.where(delta > 0.0, np.maximum(delta - 0.8 * (roughness_bore + roughness_shaft), 0.0), delta)


def warmed(
    interference: ArrayLike, diameter: float, hub_expansion: float, shaft_expansion: float, rise: ArrayLike
) -> Floats:
    """Interference after both parts warm by `rise` kelvin, mm; expansions in 1/K. Unlike materials loosen or
    tighten.
    """
    return np.asarray(interference, float) + (shaft_expansion - hub_expansion) * diameter * np.asarray(
        rise, float
    )


def heating(
    interference: float, clearance: float, diameter: float, expansion: float, shaft_shrinkage: float = 0.0
) -> float:
    """By how many kelvin the hub must be warmer for the shaft to drop in with `clearance` (mm, diametral).

    `shaft_shrinkage` is what a cooled shaft gives (see `shrinkage`), mm. Zero where no heating is needed.
    """
    _positive(diameter=diameter, expansion=expansion)
    if clearance < 0.0:
        raise ValueError(f"clearance for assembly {clearance:g} mm: must not be negative")
    return max(0.0, (interference + clearance - shaft_shrinkage) / (expansion * diameter))


def shrinkage(diameter: float, expansion: float, room: float, cold: float) -> float:
    """By how much a shaft shrinks in diameter from room to cold temperature (degrees C), mm.

    The mean expansion of steel falls in the cold: give the mean over the range (8.5e-6/K to -190 C, common
    practice, no source) rather than the value at room temperature.
    """
    if cold > room:
        raise ValueError(f"cold {cold:g} C is above room {room:g} C; it must be below")
    return diameter * expansion * (room - cold)


def _positive(**values: float) -> None:
    for name, value in values.items():
        if not (math.isfinite(value) and value > 0.0):
            raise ValueError(f"{name} {value:g}: must be positive")
