"""Deflection of a tapered cantilever's tip by the unit-load method with Gauss quadrature, bending and shear."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from analysis.beam import Pin, outer_mass
from analysis.mass import Mass
from analysis.spans import Spans

Floats = NDArray[np.float64]


def unit_load(weight: Floats, moment: Floats, unit_moment: Floats, stiffness: Floats) -> Floats:
    """Integral of M m / (E I) (or V v / (G A)) over quadrature points of the last axis; the theorem of virtual work."""
    return np.sum(weight * moment * unit_moment / stiffness, axis=-1)


@dataclass(frozen=True)
class Flexibility:
    """Movement of both pins by a part of the arms, (D, 2): mm per N, mm per N mm and mm per m/s2."""

    in_plane: Floats  # along eta by a force along eta
    sideways: Floats  # along z by a force along z
    tilt: Floats  # along z by a moment about -eta at the pin
    gravity: Floats  # along eta by gravity along eta

    def __add__(self, other: Flexibility) -> Flexibility:
        """Two parts of an arm, one behind the other."""
        return Flexibility(
            *(getattr(self, name) + getattr(other, name) for name in Flexibility.__annotations__)
        )


def flexibility(span: Spans, mass: Mass, modulus: float, poisson: float, points: int = 5) -> Flexibility:
    """Flexibility of D designs: the arm bends between hub edge and boss edge, hub and boss stay rigid.

    `points` Gauss points on each arm. In the web's shear the inclined flanges carry their share, as in `beam.forces`.
    """
    s, weight = span.gauss(points)
    heavy, outer = outer_mass(span, mass, s)
    part, shear = span.section(s), modulus / (2.0 * (1.0 + poisson))
    reach = span.length - s
    web = 1.0 + reach * span.slope / part.lever
    bend, twist = modulus * part.i3, modulus * part.i2
    drag = outer * span.slope / part.lever + heavy
    return Flexibility(
        unit_load(weight, reach, reach, bend) + unit_load(weight, web, web, shear * part.shear2),
        unit_load(weight, reach, reach, twist)
        + unit_load(weight, np.ones_like(s), np.ones_like(s), shear * part.shear3),
        unit_load(weight, np.ones_like(s), reach, twist),
        unit_load(weight, outer, reach, bend) + unit_load(weight, drag, web, shear * part.shear2),
    )


def tip(flex: Flexibility, index: int, pin: Pin, gravity: Floats) -> tuple[Floats, Floats]:
    """Movement of one arm's pin along eta and along z relative to the hub, mm, (D, C, P)."""
    at = lambda a: a[:, index, None, None]  # noqa: E731
    up = at(flex.in_plane) * pin.eta + at(flex.gravity) * gravity[1]
    return up, at(flex.sideways) * pin.z - at(flex.tilt) * pin.offset * pin.s
