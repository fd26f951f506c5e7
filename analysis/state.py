"""Everything the checks need of D designs, computed once: mass, forces, internal forces, stresses, movements."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from analysis.beam import Forces, Pin, along, forces, of_arm, outer_mass
from analysis.deflection import flexibility, tip
from analysis.mass import Mass, mass
from analysis.sections import Section
from analysis.sizes import Sizes
from analysis.spans import spans
from analysis.statics import Statics, statics
from params.arm import Arm
from params.material import Material

Floats = NDArray[np.float64]
STATIONS = 9


@dataclass(frozen=True)
class Limb:
    """One arm of D designs."""

    name: str  # input or output
    length: float
    s: Floats  # (D, S) stations from hub edge to boss edge
    part: Section  # (D, S)
    pin: Pin
    forces: Forces  # (D, C, P, S)
    movement: tuple[Floats, Floats]  # of the pin along eta and z, (D, C, P) mm
    gravity: Floats  # (2, C, P)


@dataclass(frozen=True)
class State:
    """D designs in C cases at P positions."""

    arm: Arm
    material: Material
    sizes: Sizes
    mass: Mass
    statics: Statics
    limbs: tuple[Limb, Limb]


def state(arm: Arm, material: Material, sizes: Sizes, fraction: ArrayLike, stations: int = STATIONS) -> State:
    """Forces, internal forces and movements at the fractions (P,) or (C, P) of the swing."""
    heavy = mass(arm, sizes, material.density)
    acting = statics(arm, heavy, fraction)
    span = spans(arm, sizes)
    s = span.stations(stations)
    part = span.section(s)
    outer = outer_mass(span, heavy, s)
    flex = flexibility(span, heavy, material.elastic_modulus, material.poisson_ratio)
    # Newtons from kg and m/s2; the flexibility to gravity is per m/s2 too.
    taper = span.slope / part.lever
    limbs = []
    for index, (name, pin, gravity) in enumerate(along(arm, acting)):
        inner = forces(pin, gravity, (span.length - s)[:, index], tuple(o[:, index] for o in outer), taper[:, index])
        length = float(span.length[index, 0])
        moved = tip(flex, index, pin, gravity)
        limbs.append(Limb(name, length, s[:, index], of_arm(part, index), pin, inner, moved, gravity))
    return State(arm, material, sizes, heavy, acting, (limbs[0], limbs[1]))
