"""Response of D designs to their load cases, all the checks need: mass, forces, internal forces, stresses, movements."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from analysis.mechanics.deflection import flexibility, hub_flexibility, tip
from analysis.mechanics.internal_forces import (
    Extremes,
    Forces,
    Pin,
    along,
    extremes,
    forces,
    of_arm,
    outer_mass,
    stations_of,
)
from analysis.mechanics.mass import Mass, mass
from analysis.mechanics.sections import Section, warping_stress
from analysis.mechanics.sizes import Sizes
from analysis.mechanics.spans import spans
from analysis.mechanics.statics import Statics, statics
from params.schema.arm import Arm
from params.schema.material import Material
from params.steps.arrays import Floats

STATIONS = 9


@dataclass(frozen=True)
class Limb:
    """One arm of D designs."""

    name: str  # input or output
    length: float
    s: Floats  # (D, S) stations from hub edge to boss edge
    part: Section  # (D, S)
    pin: Pin
    reach: Floats  # (D, S) from the stations to the pin
    outer: tuple[Floats, Floats]  # (D, S) mass outside the stations, and its first moment
    taper: Floats  # (D, S) change of depth over the lever of the flange forces
    warp: Floats  # (D, S) normal stress at flange tips per unit of torque
    face: Floats  # (D, S) stress along the flange's sloping outer face over that along the arm
    root: Forces  # (D, C, P, 1) at the hub edge
    worst: Extremes  # (D, C, P)
    movement: tuple[Floats, Floats]  # of the pin along eta and z, (D, C, P) mm
    gravity: Floats  # (2, C, P)

    @property
    def forces(self) -> Forces:
        """Internal forces at every station, (D, C, P, S)."""
        return forces(self.pin, self.gravity, self.reach, self.outer, self.taper)

    def worst_at(self, k: int) -> Extremes:
        """The most stressed point of station k alone."""
        one = slice(k, k + 1)
        outer = (self.outer[0][:, one], self.outer[1][:, one])
        part = stations_of(self.part, one)
        return extremes(
            self.pin,
            self.gravity,
            self.reach[:, one],
            outer,
            self.taper[:, one],
            part,
            self.warp[:, one],
            self.face[:, one],
        )


@dataclass(frozen=True)
class Response:
    """Response of D designs in C load cases at P positions of the swing."""

    arm: Arm
    material: Material
    sizes: Sizes
    mass: Mass
    statics: Statics
    limbs: tuple[Limb, Limb]


def response(
    arm: Arm, material: Material, sizes: Sizes, fraction: ArrayLike, stations: int = STATIONS
) -> Response:
    """Forces, internal forces and movements at the fractions (P,) or (C, P) of the swing."""
    heavy = mass(arm, sizes, material.density)
    acting = statics(arm, heavy, fraction)
    span = spans(arm, sizes)
    s = span.stations(stations)
    part = span.section(s)
    outer = outer_mass(span, heavy, s)
    flex = flexibility(span, heavy, material.elastic_modulus, material.poisson_ratio)
    flex += hub_flexibility(span, arm.geometry.pivot, material.elastic_modulus, material.poisson_ratio)
    taper = span.slope_at(s) / part.lever
    warp = warping_stress(part, span.sizes.width, span.length - s, material.poisson_ratio)
    face = 1.0 + np.square(span.slope_at(s) / 2.0)
    limbs = []
    for index, (name, pin, gravity) in enumerate(along(arm, acting)):
        one = of_arm(part, index)
        beam = ((span.length - s)[:, index], (outer[0][:, index], outer[1][:, index]), taper[:, index])
        hub_edge = (beam[0][:, :1], (beam[1][0][:, :1], beam[1][1][:, :1]), beam[2][:, :1])
        limbs.append(
            Limb(
                name,
                float(span.length[index, 0]),
                s[:, index],
                one,
                pin,
                *beam,
                warp[:, index],
                face[:, index],
                forces(pin, gravity, *hub_edge),
                extremes(pin, gravity, *beam, one, warp[:, index], face[:, index]),
                tip(flex, index, pin, gravity),
                gravity,
            )
        )
    return Response(arm, material, sizes, heavy, acting, (limbs[0], limbs[1]))
