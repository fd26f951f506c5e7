"""Deflection of a tapered cantilever's tip by the unit-load method with Gauss quadrature, bending and shear."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from analysis.mechanics.internal_forces import Pin, outer_mass
from analysis.mechanics.mass import Mass
from analysis.mechanics.sections import hub_net
from analysis.mechanics.spans import Spans
from params.schema.arm import Bore
from params.steps.arrays import Floats


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

    `points` Gauss points on either part of each arm. In the web's shear the
    inclined flanges carry their share, as in `internal_forces.forces`.
    """
    s, weight = span.gauss(points)
    heavy, outer = outer_mass(span, mass, s)
    part, shear = span.section(s), modulus / (2.0 * (1.0 + poisson))
    reach, slope = span.length - s, span.slope_at(s)
    web = 1.0 + reach * slope / part.lever
    bend, twist = modulus * part.i3, modulus * part.i2
    drag = outer * slope / part.lever + heavy
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


def hub_flexibility(span: Spans, pivot: Bore, modulus: float, poisson: float) -> Flexibility:
    """Share of the hub in the flexibility of both arms, (D, 2).

    From the hub's edge to the edge of the bore the arm's own section is taken to carry on, for its flange forces pass into the
    wider hub only gradually; from there to the pivot centre the section of the hub less its bore bends and shears. This
    project's own reading of the meshes of its demo arms, no source: the mesh then moves 7 % less to 5 % more in the
    plane, and 11 to 25 % less sideways. `to_centres` bounds it.
    """
    shear = modulus / (2.0 * (1.0 + poisson))
    bore, edge, reach = 0.5 * pivot.bore, span.start[..., 0], span.length[..., 0]
    arm = span.section(span.start)
    outside = 2.0 * edge
    area, second = hub_net(pivot.width, outside, pivot.bore)
    across = (outside - pivot.bore) * pivot.width**3 / 12.0
    in_shear = 5.0 / 6.0 * area
    i3, i2 = arm.i3[..., 0], arm.i2[..., 0]
    shear2, shear3 = (np.broadcast_to(value, arm.depth.shape)[..., 0] for value in (arm.shear2, arm.shear3))
    outer, inner = (
        (reach - bore) ** 3 / 3.0 - (reach - edge) ** 3 / 3.0,
        reach**3 / 3.0 - (reach - bore) ** 3 / 3.0,
    )
    turn_outer, turn_inner = (
        (reach - bore) ** 2 / 2.0 - (reach - edge) ** 2 / 2.0,
        reach**2 / 2.0 - (reach - bore) ** 2 / 2.0,
    )
    return Flexibility(
        outer / (modulus * i3)
        + inner / (modulus * second)
        + (edge - bore) / (shear * shear2)
        + bore / (shear * in_shear),
        outer / (modulus * i2)
        + inner / (modulus * across)
        + (edge - bore) / (shear * shear3)
        + bore / (shear * in_shear),
        turn_outer / (modulus * i2) + turn_inner / (modulus * across),
        np.zeros_like(outer),
    )


def to_centres(span: Spans, modulus: float, poisson: float) -> Flexibility:
    """Flexibility (D, 2) that hub and boss would add were they no stiffer than the arm's own section at their edges.

    They are wider and deeper, so that an arm moves less than with this added, and more than with nothing (rigid hub and boss).
    """
    shear = modulus / (2.0 * (1.0 + poisson))
    reach, hub, boss = span.length[..., 0], span.start[..., 0], (span.length - span.end)[..., 0]
    parts = []
    for place, outer, inner in ((span.start, reach, reach - hub), (span.end, boss, 0.0 * boss)):
        part = span.section(place)
        names = ("i3", "i2", "shear2", "shear3")
        i3, i2, shear2, shear3 = (
            np.broadcast_to(getattr(part, name), part.depth.shape)[..., 0] for name in names
        )
        cube, square, way = (outer**3 - inner**3) / 3.0, (outer**2 - inner**2) / 2.0, outer - inner
        parts.append(
            Flexibility(
                cube / (modulus * i3) + way / (shear * shear2),
                cube / (modulus * i2) + way / (shear * shear3),
                square / (modulus * i2),
                np.zeros_like(cube),
            )
        )
    return parts[0] + parts[1]
