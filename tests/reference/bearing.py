"""How a pin bears on one side of its bore: three limits of the contact pressure. Units N, mm, MPa, radians.

With almost no clearance the pressure is near a half cosine over the loaded half; with a clearance that is
large beside the load it is Hertz's line contact; between them stands Persson's solution for a frictionless
pin in a large plate of the same material.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike
from scipy.optimize import brentq

from params.steps.arrays import Floats


@dataclass(frozen=True)
class Line:
    """A line contact: half width and depth of the greatest shear in mm, pressures and shear in MPa."""

    half_width: float
    peak: float
    shear: float
    depth: float
    in_range: (
        bool  # half width at most 0.1 of the smaller radius, so that the surfaces are nearly flat across it
    )


def half_cosine_peak(force: ArrayLike, diameter: float, length: float) -> Floats:
    """Peak of p0 cos(theta) over +-90 degrees whose resultant is `force`: p0 = 4 P/(pi D L).

    >>> round(float(half_cosine_peak(100e3, 100.0, 50.0)), 2)
    25.46
    """
    return 4.0 * np.asarray(force, float) / (math.pi * diameter * length)


def hertz_line(
    force: float,
    length: float,
    d1: float,
    d2: float,
    modulus: tuple[float, float],
    poisson: tuple[float, float],
) -> Line:
    """Two cylinders of diameters d1 and d2 in line contact (math.inf: flat; negative: a bore).

    b = sqrt(2 F/(pi L) sum((1 - nu2)/E) / (1/d1 + 1/d2)), p = 2 F/(pi b L), greatest shear 0.300 p at 0.786
    b. Shigley's Mechanical Engineering Design, 9th ed. (2011), Eq. 3-73, 3-74 and Fig. 3-39; Hertz 1881.
    """
    curvature = 1.0 / d1 + 1.0 / d2
    if curvature <= 0.0 or force <= 0.0 or length <= 0.0:
        raise ValueError(
            f"line contact of d1 = {d1:g}, d2 = {d2:g} mm, {force:g} N over {length:g} mm: "
            "the pin must be smaller than its bore, force and length positive"
        )
    softness = sum((1.0 - nu**2) / e for e, nu in zip(modulus, poisson, strict=True))
    half = math.sqrt(2.0 * force / (math.pi * length) * softness / curvature)
    peak = 2.0 * force / (math.pi * half * length)
    return Line(half, peak, 0.300 * peak, 0.786 * half, half <= 0.05 * min(abs(d1), abs(d2)))


@dataclass(frozen=True)
class Conforming:
    """A pin with clearance: half angle of the contact arc in radians and peak pressure in MPa."""

    half_angle: float
    peak: float
    load_ratio: float  # E* dR/Q, the one number that decides


# b = tan(half angle / 2) at which the clearance vanishes, rounded up: 2 = ln(1 + b2) + 2 b4.
_NO_CLEARANCE = 0.9135728


def persson_ratio(b: ArrayLike) -> Floats:
    """E* dR/Q for a contact whose half angle is 2 arctan(b); like materials, no friction.

    Persson, On the Stress Distribution of Cylindrical Elastic Bodies in Contact (dissertation, 1964), in the
    form of Ciavarella and Decuzzi, Int. J. Solids Struct. 38 (2001) 4507-4523, from memory; tests hold it
    against equilibrium and against Hertz for small arcs. E* = E/(1 - nu2) in plane strain, E in plane stress;
    dR radial clearance; Q force over length.
    """
    b2 = np.asarray(b, float) ** 2
    return (2.0 - np.log(b2 + 1.0) - 2.0 * b2**2) / (math.pi * b2 * (b2 + 1.0))


def persson_pressure(angle: ArrayLike, b: float) -> Floats:
    """Pressure times R/Q at `angle` (radians) from the load's line, zero outside the arc."""
    y = np.tan(np.asarray(angle, float) / 2.0)
    root, one = np.sqrt(np.maximum(b * b - y * y, 0.0)), math.sqrt(b * b + 1.0)
    spread = 2.0 / (math.pi * one) * root / (1.0 + y * y)
    return spread + np.log((one + root) / (one - root)) / (2.0 * math.pi * b * b * (b * b + 1.0))


def conforming(force: float, length: float, bore: float, pin: float, modulus: float) -> Conforming:
    """A pin of the plate's own material in a bore larger by a small clearance.

    `modulus` is E for a thin plate (plane stress), E/(1 - nu2) for a wide hub (plane strain). Valid for a hub
    that is large beside its bore and a clearance small beside the radius (at most 1 per cent).
    """
    clearance, radius = (bore - pin) / 2.0, bore / 2.0
    if not 0.0 <= clearance <= 0.01 * radius or force <= 0.0:
        raise ValueError(
            f"pin {pin:g} mm in bore {bore:g} mm under {force:g} N: "
            "radial clearance must be 0 to 1 % of the radius"
        )
    line_load = force / length
    ratio = modulus * clearance / line_load
    b = _root(lambda x: float(persson_ratio(x)) - ratio, 1e-6, _NO_CLEARANCE)
    return Conforming(2.0 * math.atan(b), float(persson_pressure(0.0, b)) * line_load / radius, ratio)


def _root(f: Callable[[float], float], least: float, most: float) -> float:
    root, result = brentq(f, least, most, full_output=True)
    if not result.converged:
        raise ValueError(
            "conforming contact: no contact arc carries this force; check force, clearance and modulus"
        )
    return float(root)
