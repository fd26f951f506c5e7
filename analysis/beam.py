"""Internal forces and stresses along both arms as tapered cantilevers from the hub, axes (D, C, P, S) for one arm.

On the face of a section whose normal is +s, in the arm's own axes s (outward), eta (90 degrees counter-clockwise of s), z:
N tension, V2 along eta, V3 along z, T about s, M2 about eta, M3 about z, all as the outer part acts on the inner part.
Normal stress is N/A - M3 eta/I3 + M2 z/I2.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from analysis.mass import Mass
from analysis.sections import Section
from analysis.spans import ARMS, Spans, axes
from analysis.statics import Statics
from params.arm import Arm

Floats = NDArray[np.float64]


@dataclass(frozen=True)
class Pin:
    """Force at an arm's pin in the arm's own axes, N, each (D, C, P), and its offset along z in mm, (C, 1)."""

    s: Floats
    eta: Floats
    z: Floats
    offset: Floats


@dataclass(frozen=True)
class Forces:
    """Internal forces in N and N mm at the stations of one arm, (D, C, P, S)."""

    n: Floats
    v2: Floats
    v3: Floats
    t: Floats
    m2: Floats
    m3: Floats
    web: Floats  # V2 less the share that the inclined flanges carry


def along(arm: Arm, state: Statics) -> Iterator[tuple[str, Pin, Floats]]:
    """Name, pin force and gravity (2, C, P) in m/s2 of each arm in its own axes, input arm first."""
    for name, (x, y), force in zip(ARMS, axes(arm), (state.input, state.output), strict=True):
        pin = Pin(x * force[0] + y * force[1], x * force[1] - y * force[0], force[2], state.eccentricity)
        g = state.gravity
        yield name, pin, np.stack([x * g[0] + y * g[1], x * g[1] - y * g[0]])


def outer_mass(span: Spans, mass: Mass, s: Floats) -> tuple[Floats, Floats]:
    """Mass in kg outside each s and its first moment about s in kg mm, (D, 2, S).

    Exact where the area is linear along s (i and box without taper of other sizes, bars); the boss counts at the pin.
    """
    length = span.end - s
    here, there = span.section(s).area, span.section(span.end).area
    bar = mass.area_density * length * (here + there) / 2.0
    first = mass.area_density * length**2 * (here + 2.0 * there) / 6.0
    return bar + mass.boss, first + mass.boss * (span.length - s)


def forces(pin: Pin, gravity: Floats, reach: Floats, outer: tuple[Floats, Floats], taper: Floats) -> Forces:
    """Internal forces of one arm.

    Parameters
    ----------
    pin, gravity
        as `along` gives them.
    reach
        distance from each station to the pin centre, (D, S) mm.
    outer
        mass outside and its first moment, (D, S) each.
    taper
        change of depth along s over the lever of the flange forces, (D, S), 1/mm: inclined flanges carry M3 times this.
    """
    at = lambda a: a[:, None, None, :]  # noqa: E731  stations, for every case and position
    every = lambda a: a[..., None]  # noqa: E731  cases and positions, for every station
    heavy, first = at(outer[0]), at(outer[1])
    v2 = every(pin.eta) + heavy * every(gravity[1])
    m3 = at(reach) * every(pin.eta) + first * every(gravity[1])
    offset = every(pin.offset)
    v3 = every(pin.z)
    return Forces(
        n=every(pin.s) + heavy * every(gravity[0]),
        v2=v2,
        v3=v3,
        t=-offset * every(pin.eta),
        m2=offset * every(pin.s) - at(reach) * v3,
        m3=m3,
        web=v2 + m3 * at(taper),
    )


def at_points(force: Forces, part: Section) -> Iterator[tuple[Floats, Floats]]:
    """Largest normal stress and the shear there, MPa (D, C, P, S), at each of `sections.POINTS`.

    Every force counts with the sign that adds: exact at corners, where all signs occur. `part` is of shape (D, S).
    """
    points, at = part.points, lambda a: a[:, None, None, :]
    axial = np.abs(force.n) * at(1.0 / part.area)
    m3, m2, web, v3, t = (np.abs(getattr(force, name)) for name in ("m3", "m2", "web", "v3", "t"))
    for p in range(len(points.m3)):
        sigma = axial + m3 * at(points.m3[p]) + m2 * at(points.m2[p])
        yield sigma, web * at(points.v2[p]) + v3 * at(points.v3[p]) + t * at(points.t[p])


def worst_point(force: Forces, part: Section) -> tuple[Floats, Floats, Floats, NDArray[np.intp]]:
    """Equivalent stress (von Mises), its normal and shear part and the index of the point with most, (D, C, P, S)."""
    sigma, tau = (np.stack(values) for values in zip(*at_points(force, part), strict=True))
    square = sigma**2 + 3.0 * tau**2
    worst = np.argmax(square, axis=0)
    chosen = [np.take_along_axis(values, worst[None], axis=0)[0] for values in (square, sigma, tau)]
    return np.sqrt(chosen[0]), chosen[1], chosen[2], worst


def greatest(force: Forces, part: Section) -> Floats:
    """The equivalent stress alone, for sweeps."""
    best = np.zeros(1)
    for sigma, tau in at_points(force, part):
        best = np.maximum(best, sigma * sigma + 3.0 * (tau * tau))
    return np.sqrt(best)


def fibre(force: Forces, part: Section, side: float) -> Floats:
    """Signed stress along s at the middle of the flange: side +1 for eta > 0, -1 for eta < 0, MPa."""
    at = lambda a: a[:, None, None, :]  # noqa: E731
    return force.n * at(1.0 / part.area) - side * force.m3 * at(1.0 / part.s3)


def of_arm(part: Section, index: int) -> Section:
    """Properties (D, S) of one arm out of (D, 2, S)."""
    points = type(part.points)(*(value[:, :, index] for value in vars(part.points).values()))
    plain = {name: value[:, index] for name, value in vars(part).items() if name != "points"}
    return Section(**plain, points=points)
