"""Stress intensity of cracks in plates: through, edge and semi-elliptical surface cracks. For arrays.

a is the depth of a surface or edge crack and half the length of a through crack, c half the length of a
surface crack, t the full plate thickness, W or 2b the full plate width; mm, MPa, N/mm^1.5. phi is the
parametric angle of the ellipse, 0 at the surface and pi/2 at the deepest point.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray

from analysis.clauses.bounds import checked

Floats = NDArray[np.float64]
DEEPEST = np.pi / 2.0


def through(stress: ArrayLike, half_length: ArrayLike, width: ArrayLike = np.inf) -> Floats:
    """Central through crack of length 2a: K = S sqrt(pi a) sqrt(sec(pi a/W)).

    Irwin; width factor of Feddersen, ASTM STP 410 (1966), 2a/W up to 0.8 (0.3 %, from memory).

    >>> round(float(through(100.0, 10.0)), 2)
    560.5
    """
    a, w = np.asarray(half_length, float), np.asarray(width, float)
    return np.asarray(stress, float) * np.sqrt(np.pi * a) * width_factor(2.0 * a / w)


def width_factor(share: ArrayLike) -> Floats:
    """sqrt(sec(pi a/W)) for the share 2a/W of the width, 0 to 0.8 (Feddersen 1966)."""
    x = checked("2a/W", share, 0.0, 0.8, source="Feddersen")
    return 1.0 / np.sqrt(np.cos(np.pi * x / 2.0))


def edge_tension(share: ArrayLike) -> Floats:
    """F of an edge crack under tension, ends free to turn, x = a/W up to 0.6; K = S sqrt(pi a) F.

    1.12 - 0.231 x + 10.55 x^2 - 21.72 x^3 + 30.39 x^4, 0.5 % (Gross and Brown; Tada's Handbook).
    """
    x = checked("a/W", share, 0.0, 0.6, source="edge crack polynomial")
    return 1.12 - 0.231 * x + 10.55 * x**2 - 21.72 * x**3 + 30.39 * x**4


def edge_bending(share: ArrayLike) -> Floats:
    """F of an edge crack under pure bending, x = a/W up to 0.6; S is the outer fibre's.

    1.122 - 1.40 x + 7.33 x^2 - 13.08 x^3 + 14.0 x^4, 0.2 % (Brown and Srawley; Tada's Handbook, from memory).
    """
    x = checked("a/W", share, 0.0, 0.6, source="edge crack polynomial")
    return 1.122 - 1.40 * x + 7.33 * x**2 - 13.08 * x**3 + 14.0 * x**4


def shape_factor(aspect: ArrayLike) -> Floats:
    """Q = 1 + 1.464 (a/c)^1.65, and with c/a where the ellipse is deeper than half its length.

    Newman & Raju, Eng. Fract. Mech. 15 (1981) 185-192; the square of the elliptic integral within 0.15 %.
    """
    x = np.asarray(aspect, float)
    return 1.0 + 1.464 * np.where(x <= 1.0, x, 1.0 / np.maximum(x, 1e-300)) ** 1.65


class Factors(NamedTuple):
    """What surface and corner cracks have in common: M1 + M2 (a/t)^2 + M3 (a/t)^4, g and f_phi."""

    depth: Floats
    free_surface: Floats
    angle: Floats


def ellipse_factors(aspect: Floats, share: Floats, phi: float) -> Factors:
    """Newman and Raju's factors for x = a/c and s = a/t at the angle phi; both branches of a/c."""
    x, s2 = np.minimum(aspect, 1.0), share**2
    y = 1.0 / np.maximum(aspect, 1.0)  # c/a where the crack is deep, else 1
    flat = aspect <= 1.0
    m1 = np.where(flat, 1.13 - 0.09 * x, np.sqrt(y) * (1.0 + 0.04 * y))
    m2 = np.where(flat, -0.54 + 0.89 / (0.2 + x), 0.2 * y**4)
    m3 = np.where(flat, 0.5 - 1.0 / (0.65 + x) + 14.0 * _power_24(1.0 - x), -0.11 * y**4)
    sine, cosine = np.sin(phi), np.cos(phi)
    g = 1.0 + (0.1 + 0.35 * np.where(flat, 1.0, y) * s2) * (1.0 - sine) ** 2
    angle = np.where(flat, x**2 * cosine**2 + sine**2, cosine**2 + y**2 * sine**2) ** 0.25
    return Factors(m1 + (m2 + m3 * s2) * s2, g, angle)


def _power_24(x: Floats) -> Floats:
    """x^24 by multiplications: ten times faster than the general power of an array."""
    cube = x * x * x
    sixth = cube * cube
    twelfth = sixth * sixth
    return twelfth * twelfth


def surface_tension(aspect: ArrayLike, share: ArrayLike, phi: float, across: ArrayLike = 0.0) -> Floats:
    """F of a semi-elliptical surface crack; K = S sqrt(pi a/Q) F.

    aspect a/c over 0 up to 2 (Newman & Raju 1981; over 1 NASA TM-85793, 1984, from memory), share a/t with the
    full thickness t, under 1 (under 1.25 (a/c + 0.6) where a/c is below 0.2), across 2c/2b the share of the
    width, up to 0.5.

    >>> round(float(surface_tension(0.4, 0.4, DEEPEST)), 4)
    1.2334
    """
    x, s, w = _valid(aspect, share, across)
    factors = ellipse_factors(x, s, phi)
    width = 1.0 / np.sqrt(np.cos(np.pi * w / 2.0 * np.sqrt(s)))
    return factors.depth * factors.free_surface * factors.angle * width


def bending_multiplier(aspect: ArrayLike, share: ArrayLike, phi: float) -> Floats:
    """H: a bending stress S (outer fibre) counts as H S of tension; limits as `surface_tension`.

    H = H1 + (H2 - H1) sin^p phi, Newman & Raju 1981; over a/c = 1 NASA TM-85793 (1984), from memory.
    """
    x, s, _ = _valid(aspect, share, 0.0)
    u, y = np.minimum(x, 1.0), 1.0 / np.maximum(x, 1.0)
    flat = x <= 1.0
    p = 0.2 + np.where(flat, u, y) + 0.6 * s
    deep1 = 1.0 - (0.04 + 0.41 * y) * s + (0.55 - 1.93 * y**0.75 + 1.38 * y**1.5) * s**2
    h1 = np.where(flat, 1.0 - 0.34 * s - 0.11 * u * s, deep1)
    g1 = np.where(flat, -1.22 - 0.12 * u, -2.11 + 0.77 * y)
    g2 = np.where(flat, 0.55 - 1.05 * u**0.75 + 0.47 * u**1.5, 0.55 - 0.72 * y**0.75 + 0.14 * y**1.5)
    return h1 + (1.0 + g1 * s + g2 * s**2 - h1) * np.sin(phi) ** p


def surface(
    membrane: ArrayLike,
    bending: ArrayLike,
    depth: ArrayLike,
    half_length: ArrayLike,
    thickness: ArrayLike,
    width: ArrayLike = np.inf,
    phi: float = DEEPEST,
) -> Floats:
    """K of a surface crack under membrane plus bending (outer fibre) stress: (Sm + H Sb) sqrt(pi a/Q) F."""
    a, c, t = (np.asarray(part, float) for part in (depth, half_length, thickness))
    factor = surface_tension(a / c, a / t, phi, 2.0 * c / np.asarray(width, float))
    multiplier = bending_multiplier(a / c, a / t, phi)
    stress = np.asarray(membrane, float) + multiplier * np.asarray(bending, float)
    return stress * np.sqrt(np.pi * a / shape_factor(a / c)) * factor


def corner_tension(aspect: ArrayLike, share: ArrayLike, phi: float) -> Floats:
    """F of a quarter-elliptical corner crack in a wide plate; K = S sqrt(pi a/Q) F.

    [M1 + M2 s^2 + M3 s^4] g1 g2 f_phi for a/c = x from 0.2 to 2 and s = a/t under 1; phi 0 where c ends, pi/2 where the depth
    a ends. Up to x = 1: M1 = 1.08 - 0.03 x, M2 = -0.44 + 1.06/(0.3 + x), M3 = -0.5 + 0.25 x + 14.8 (1 - x)^15, g1 = 1 + (0.08
    + 0.4 s^2)(1 - sin phi)^3, g2 = 1 + (0.08 + 0.15 s^2)(1 - cos phi)^3; beyond, with y = c/a: M1 = sqrt(y)(1.08 - 0.03 y),
    M2 = 0.375 y^2, M3 = -0.25 y^2, g1 and g2 with y^2 s^2. Newman & Raju, NASA TM-85793 (1984), from memory.
    """
    x = checked("a/c", aspect, 0.2 - 1e-9, 2.0, source="corner crack")
    s2 = checked("a/t", share, 0.0, 1.0 - 1e-9, source="corner crack") ** 2
    flat, u, y = x <= 1.0, np.minimum(x, 1.0), 1.0 / np.maximum(x, 1.0)
    m1 = np.where(flat, 1.08 - 0.03 * u, np.sqrt(y) * (1.08 - 0.03 * y))
    m2 = np.where(flat, -0.44 + 1.06 / (0.3 + u), 0.375 * y**2)
    m3 = np.where(flat, -0.5 + 0.25 * u + 14.8 * (1.0 - u) ** 15, -0.25 * y**2)
    sine, cosine, deep = np.sin(phi), np.cos(phi), np.where(flat, s2, y**2 * s2)
    g1 = 1.0 + (0.08 + 0.4 * deep) * (1.0 - sine) ** 3
    g2 = 1.0 + (0.08 + 0.15 * deep) * (1.0 - cosine) ** 3
    angle = np.where(flat, u**2 * cosine**2 + sine**2, cosine**2 + y**2 * sine**2) ** 0.25
    return (m1 + (m2 + m3 * s2) * s2) * g1 * g2 * angle


def _valid(aspect: ArrayLike, share: ArrayLike, across: ArrayLike) -> tuple[Floats, Floats, Floats]:
    x = checked("a/c", aspect, 1e-6, 2.0, source="Newman and Raju")
    s = checked("a/t", share, 0.0, 1.0 - 1e-9, source="Newman and Raju")
    w = checked("2c/2b", across, 0.0, 0.5, source="Newman and Raju")
    slack = s - np.where(x < 0.2, 1.25 * (x + 0.6), 1.0)
    checked("a/t over its limit 1.25 (a/c + 0.6) by", slack, -2.0, 0.0, source="Newman and Raju")
    return x, s, w
