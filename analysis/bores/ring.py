"""Concentric rings pressed together: shaft, bush, hub, each elastic and of its own material.

Thick-walled rings in plane stress (free ends), after Lame: Timoshenko, Strength of Materials Part II, thick
cylinders; Budynas and Nisbett, Shigley's Mechanical Engineering Design, 9th ed. (2011), Eq. 3-49 to 3-57.
Units N, mm, MPa.

A ring's surface moves outward by u = r/E (hoop + nu p) there. Between rings i and i+1, of common radius R,
half of the diametral interference must be made up by both: u(outer ring, its bore) - u(inner ring, its
outside) = delta / 2. With a pressure at each interface this is a small linear system; an interface that would
have to pull is open instead.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise, product

import numpy as np
from numpy.typing import ArrayLike

from params.steps.arrays import Floats


@dataclass(frozen=True)
class Ring:
    """A ring between two diameters in mm (inside 0: a solid shaft), elastic modulus in MPa."""

    inside: float
    outside: float
    modulus: float
    poisson: float

    def __post_init__(self) -> None:
        if not 0.0 <= self.inside < self.outside:
            raise ValueError(
                f"ring {self.inside:g} to {self.outside:g} mm: the outside must be larger than the inside"
            )
        if not (self.modulus > 0.0 and 0.0 <= self.poisson < 0.5):
            raise ValueError(
                f"ring of E = {self.modulus:g} MPa, nu = {self.poisson:g}: E must be above 0, nu from 0 to below 0.5"
            )


@dataclass(frozen=True)
class Stress:
    """Stresses in a ring at a radius, MPa, tension positive."""

    hoop: Floats
    radial: Floats

    @property
    def mises(self) -> Floats:
        return np.sqrt(self.hoop**2 - self.hoop * self.radial + self.radial**2)


def stress(ring: Ring, inner: ArrayLike, outer: ArrayLike, radius: ArrayLike) -> Stress:
    """Lame's stresses at `radius` (mm) under pressures `inner` on the bore and `outer` on the outside
    (MPa).
    """
    p_i, p_o, r = np.asarray(inner, float), np.asarray(outer, float), np.asarray(radius, float)
    a2, b2 = (ring.inside / 2.0) ** 2, (ring.outside / 2.0) ** 2
    if np.any(r < ring.inside / 2.0 - 1e-9) or np.any(r > ring.outside / 2.0 + 1e-9):
        raise ValueError(f"radius outside the ring of {ring.inside:g} to {ring.outside:g} mm diameter")
    constant = (p_i * a2 - p_o * b2) / (b2 - a2)
    # A solid shaft has no 1/r2 part; the quotient is not formed, so that the centre is no special case.
    falling = (
        (p_i - p_o) * a2 * b2 / (b2 - a2) / r**2
        if ring.inside > 0.0
        else np.zeros(np.broadcast(p_o, r).shape)
    )
    return Stress(constant + falling, constant - falling)


def movement(ring: Ring, inner: ArrayLike, outer: ArrayLike, radius: float) -> Floats:
    """Outward movement of the ring at `radius`, mm."""
    at = stress(ring, inner, outer, radius)
    return radius / ring.modulus * (at.hoop - ring.poisson * at.radial)


def closing_in(ring: Ring, outer: ArrayLike) -> Floats:
    """By how much the bore's diameter shrinks under a pressure on the outside, mm (a bush pressed into its
    hub).
    """
    return -2.0 * movement(ring, 0.0, outer, ring.inside / 2.0)


def interface_pressures(rings: Sequence[Ring], interference: ArrayLike) -> Floats:
    """Pressures between rings listed from the inside out, MPa.

    Parameters
    ----------
    interference
        diametral, mm, before assembly, shape (..., len(rings) - 1); negative is clearance.

    Returns
    -------
    Pressures of the same shape, none below zero; zero where the interface stays open.
    """
    delta = np.asarray(interference, float)
    count = len(rings) - 1
    _meet(rings)
    if count < 1 or delta.shape[-1:] != (count,):
        raise ValueError(f"{len(rings)} rings have {count} interfaces; interference has shape {delta.shape}")
    matrix, flat = _compliance(rings), delta.reshape(-1, count) / 2.0
    pressure, solved = np.zeros_like(flat), np.zeros(len(flat), bool)
    for closed in product((True, False), repeat=count):
        here = np.flatnonzero(closed)
        trial = np.zeros_like(flat)
        if len(here):
            trial[:, here] = np.linalg.solve(matrix[np.ix_(here, here)], flat[:, here].T).T
        gap = trial @ matrix.T - flat
        scale = 1e-12 * np.maximum(np.abs(flat).max(axis=1), 1e-12)
        fits = (trial >= 0.0).all(axis=1) & (gap >= -scale[:, None]).all(axis=1) & ~solved
        pressure[fits], solved = trial[fits], solved | fits
    return pressure.reshape(delta.shape)


def _meet(rings: Sequence[Ring]) -> None:
    """The rings' nominal diameters must meet; interferences are small beside them."""
    for inner, outer in pairwise(rings):
        if abs(outer.inside - inner.outside) > 0.005 * inner.outside:
            raise ValueError(
                f"rings do not meet: {inner.outside:g} mm outside against a bore of {outer.inside:g} mm"
            )


def _compliance(rings: Sequence[Ring]) -> Floats:
    """Matrix C, mm/MPa: opening of each interface's two surfaces apart by unit pressure at each interface."""
    count = len(rings) - 1
    matrix = np.zeros((count, count))
    for j in range(count):
        inner, outer = rings[j], rings[j + 1]
        matrix[j, j] = movement(outer, 1.0, 0.0, outer.inside / 2.0) - movement(
            inner, 0.0, 1.0, inner.outside / 2.0
        )
        if j > 0:  # pressure outside ring j moves its bore, the other side of interface j - 1
            matrix[j - 1, j] = movement(inner, 0.0, 1.0, inner.inside / 2.0)
        if j + 1 < count:  # pressure in ring j + 1 moves its outside
            matrix[j + 1, j] = -movement(outer, 1.0, 0.0, outer.outside / 2.0)
    return matrix
