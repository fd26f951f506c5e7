"""Internal forces and stresses along both arms as tapered cantilevers from the hub, axes (D, C, P, S) for one arm.

On the face of a section whose normal is +s, in the arm's own axes s (outward), eta (90 degrees counter-clockwise of s), z:
N tension, V2 along eta, V3 along z, T about s, M2 about eta, M3 about z, all as the outer part acts on the inner part.
Normal stress is N/A - M3 eta/I3 + M2 z/I2.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, fields
from itertools import pairwise

import numpy as np
from numba import njit
from numpy.typing import NDArray

from analysis.mechanics.mass import Mass
from analysis.mechanics.sections import Points, Section
from analysis.mechanics.spans import Spans, axes
from analysis.mechanics.statics import Statics
from geometry.datums import ARMS
from params.schema.arm import Arm
from params.steps.arrays import Floats

FACE = 2  # of the points of a section the first two lie on the flange's outer face


@dataclass(frozen=True)
class Pin:
    """Force at an arm's pin in the arm's own axes, N, and its offset along z in mm, each (D, C, P)."""

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


@dataclass(frozen=True)
class Extremes:
    """Of one arm over its stations, (D, C, P)."""

    equivalent: Floats  # largest von Mises stress, MPa
    normal: Floats  # its normal part
    shear: Floats  # its shear part
    station: NDArray[np.intp]
    point: NDArray[np.intp]  # index into `sections.POINTS`
    drag: Floats  # web shear force where the shear stress at the neutral axis is largest, N
    flow: Floats  # Q / (I t) there, 1/mm2
    drag_station: NDArray[np.intp]


def along(arm: Arm, statics: Statics) -> Iterator[tuple[str, Pin, Floats]]:
    """Name, pin force and gravity (2, C, P) in m/s2 of each arm in its own axes, input arm first."""
    forces = (statics.input, statics.output)
    for name, (x, y), force, offset in zip(ARMS, axes(arm), forces, statics.eccentricity, strict=True):
        pin = Pin(x * force[0] + y * force[1], x * force[1] - y * force[0], force[2], offset)
        g = statics.gravity
        yield name, pin, np.stack([x * g[0] + y * g[1], x * g[1] - y * g[0]])


def outer_mass(span: Spans, mass: Mass, s: Floats) -> tuple[Floats, Floats]:
    """Mass in kg outside each s and its first moment about s in kg mm, (D, 2, S).

    Exact for straight edges, between which the area is linear along s; the boss counts at the pin.
    """
    ends = [s, np.maximum(s, span.turn[0]), span.end]
    bar, first = mass.boss, mass.boss * (span.length - s)
    for low, high in pairwise(ends):
        length, here, there = high - low, span.area(low), span.area(high)
        part = mass.area_density * length * (here + there) / 2.0
        bar = bar + part
        first = first + mass.area_density * length**2 * (here + 2.0 * there) / 6.0 + part * (low - s)
    return bar, first


def _inside(fs, feta, fz, offset, gs, geta, reach, heavy, first, taper):
    """N, V2, V3, T, M2, M3 and the web's share of V2 at a section: the pin's force and the weight outside it."""
    v2 = feta + heavy * geta
    m3 = reach * feta + first * geta
    return fs + heavy * gs, v2, fz, -offset * feta, offset * fs - reach * fz, m3, v2 + m3 * taper


_at_once = njit(inline="always")(_inside)


@njit(cache=True, fastmath=True)
def _extremes(acting, along_arm, points, real, whole):
    """`Extremes` of every design, case and position into real (D, C, P, 5) and whole (D, C, P, 3)."""
    each = acting.shape[0] > 1  # else one set of forces for all designs
    for d in range(real.shape[0]):
        for c in range(real.shape[1]):
            for i in range(real.shape[2]):
                _worst(acting[d if each else 0, c, i], along_arm[d], points[d], real[d, c, i], whole[d, c, i])


@njit(cache=True, fastmath=True)
def _worst(acting, along_arm, points, real, whole):
    """The most stressed point over the stations (S, 6) and points (S, points, 5) of one arm: real (5,), whole (3,)."""
    best, normal, shear, station, point = -1.0, 0.0, 0.0, 0, 0
    most, drag, flow, drag_station = -1.0, 0.0, 0.0, 0
    fs, feta, fz, offset, gs, geta = acting[0], acting[1], acting[2], acting[3], acting[4], acting[5]
    last = points.shape[1] - 1
    for k in range(along_arm.shape[0]):
        here = along_arm[k]
        n, _, v3, t, m2, m3, web = _at_once(
            fs, feta, fz, offset, gs, geta, here[0], here[1], here[2], here[3]
        )
        axial, m3, m2, v2, v3, t = abs(n) / here[4], abs(m3), abs(m2), abs(web), abs(v3), abs(t)
        for p in range(last + 1):
            by = points[k, p]
            sigma = axial + m3 * by[0] + m2 * by[1]
            if p == 0:
                sigma += t * here[5]
            if p < FACE:
                sigma *= here[6]
            tau = v2 * by[2] + v3 * by[3] + t * by[4]
            square = sigma * sigma + 3.0 * tau * tau
            if square > best:
                best, normal, shear, station, point = square, sigma, tau, k, p
        if v2 * points[k, last, 2] > most:
            most, drag, flow, drag_station = v2 * points[k, last, 2], web, points[k, last, 2], k
    real[0], real[1], real[2], real[3], real[4] = np.sqrt(best), normal, shear, drag, flow
    whole[0], whole[1], whole[2] = station, point, drag_station


def forces(pin: Pin, gravity: Floats, reach: Floats, outer: tuple[Floats, Floats], taper: Floats) -> Forces:
    """Internal forces of one arm at S stations.

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
    every = lambda a: a[..., None]  # noqa: E731  cases and positions, for every station
    along_arm = [value[:, None, None, :] for value in (reach, *outer, taper)]
    acting = [every(value) for value in (pin.s, pin.eta, pin.z, pin.offset, gravity[0], gravity[1])]
    return Forces(*np.broadcast_arrays(*_inside(*acting, *along_arm)))


def extremes(
    pin: Pin,
    gravity: Floats,
    reach: Floats,
    outer: tuple[Floats, Floats],
    taper: Floats,
    part: Section,
    warp: Floats,
    face: Floats,
) -> Extremes:
    """The most stressed point and station of one arm, arguments as for `forces`.

    `part` and `warp`, the normal stress at flange tips per unit of torque (`sections.warping_stress`), are of shape (D, S), as is
    `face`, by which the stress along a sloping outer face is larger than that along the arm: 1/cos^2 of its slope.

    Every force counts with the sign that adds: exact at corners, where all signs occur. Compiled, since a sweep spends
    most of its time here, and without storing an array of all stations.
    """
    acting = np.stack(np.broadcast_arrays(pin.s, pin.eta, pin.z, pin.offset, gravity[0], gravity[1]), axis=-1)
    along_arm = np.stack([reach, *outer, taper, part.area, warp, face], axis=-1)
    points = np.stack([getattr(part.points, name) for name in ("m3", "m2", "v2", "v3", "t")], axis=-1)
    shape = (along_arm.shape[0], *acting.shape[1:3])
    real, whole = np.empty((*shape, 5)), np.empty((*shape, 3), np.intp)
    _extremes(acting, along_arm, points, real, whole)
    equivalent, normal, shear, drag, flow = np.moveaxis(real, -1, 0)
    station, point, drag_station = np.moveaxis(whole, -1, 0)
    return Extremes(equivalent, normal, shear, station, point, drag, flow, drag_station)


def fibre(force: Forces, part: Section, side: float) -> Floats:
    """Signed stress along s at the middle of the flange: side +1 for eta > 0, -1 for eta < 0, MPa."""
    at = lambda a: a[:, None, None, :]  # noqa: E731
    return force.n * at(1.0 / part.area) - side * force.m3 * at(1.0 / part.s3)


def of_arm(part: Section, index: int) -> Section:
    """Properties (D, S) of one arm out of (D, 2, S)."""
    return chosen(part, (slice(None), index))


def stations_of(part: Section, some: slice) -> Section:
    """Properties of some of the stations of (D, S)."""
    return chosen(part, (slice(None), some))


def chosen(part: Section, which: tuple[slice | int, ...]) -> Section:
    plain = {field.name: getattr(part, field.name)[which] for field in fields(part) if field.name != "stress"}
    return Section(**plain, stress=lambda: Points(*(value[which] for value in vars(part.points).values())))
