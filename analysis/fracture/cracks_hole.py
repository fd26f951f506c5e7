"""Stress intensity of through and corner cracks at a round hole under uniaxial tension. For arrays.

r is the hole's radius, a the length of a through crack from the hole's edge, W = 2b the full plate width with
the hole in its middle. A corner crack is a quarter ellipse with the depth a along the hole's wall and c along
the face. `cracks` is 1, or 2 for one on each side. mm, MPa, N/mm^1.5.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

from analysis.clauses.bounds import checked
from analysis.fracture.cracks_plate import ellipse_factors, shape_factor

Floats = NDArray[np.float64]
FACE, WALL = 0.0, np.pi / 2.0  # ends of a corner crack's front: on the plate's face, on the hole's wall
_MU = 0.85  # angle at which the stress along the front is read, tension


def two_cracks(share: ArrayLike) -> Floats:
    """F of two equal through cracks in a wide plate, x = a/r; K = S sqrt(pi a) F.

    With s = 1/(1 + a/r): 1 + 0.358 s + 1.425 s^2 - 1.578 s^3 + 2.156 s^4, Newman, NASA TN D-6376 (1971) and
    NASA TM-85793 (1984). Bowie's own values (1956) lie up to 2.8 % below converged elasticity, these do not.

    >>> round(float(two_cracks(1.0)), 3)
    1.473
    """
    s = 1.0 / (1.0 + checked("a/r", share, 0.0, np.inf))
    return 1.0 + 0.358 * s + 1.425 * s**2 - 1.578 * s**3 + 2.156 * s**4


def one_crack(share: ArrayLike) -> Floats:
    """F of one through crack in a wide plate, x = a/r; K = S sqrt(pi a) F.

    With s = 1/(1 + a/r): 0.707 - 0.18 s + 6.55 s^2 - 10.54 s^3 + 6.85 s^4 (Newman, as `two_cracks`, from memory),
    but no less than hole and crack taken as one crack of length 2r + a: sqrt((2r + a)/(2a)) for long cracks.
    """
    x = checked("a/r", share, 0.0, np.inf)
    s = 1.0 / (1.0 + x)
    fitted = 0.707 - 0.18 * s + 6.55 * s**2 - 10.54 * s**3 + 6.85 * s**4
    # A hole that only opens the crack's mouth: the limit of long cracks, where the polynomial falls 5 % short.
    return np.maximum(fitted, np.where(x > 2.0, np.sqrt(1.0 / np.maximum(x, 1e-9) + 0.5), 0.0))


def width_factor(
    length: ArrayLike, radius: ArrayLike, width: ArrayLike, cracks: int, deep: ArrayLike = 1.0
) -> Floats:
    """f_w = sqrt(sec(pi r/2b) sec(pi (2r + n c) sqrt(a/t)/(4 (b - c) + 2 n c))), Newman & Raju 1984.

    deep is a/t, 1 for through cracks; (r + c)/b up to 0.5 in the source, and the net section fails long before
    0.8, which is the limit here.
    """
    c, r, b = (np.asarray(part, float) for part in (length, radius, np.asarray(width, float) / 2.0))
    checked("(r + c)/b", (r + c) / b, 0.0, 0.8, source="hole with cracks")
    wide = np.where(np.isinf(b), 1e30, b)
    inner = np.pi * (2.0 * r + cracks * c) / (4.0 * (wide - c) + 2.0 * cracks * c)
    cosine = np.cos(np.pi * r / (2.0 * wide)) * np.cos(inner * np.sqrt(np.asarray(deep, float)))
    return 1.0 / np.sqrt(cosine)


def through(
    stress: ArrayLike, length: ArrayLike, radius: ArrayLike, width: ArrayLike = np.inf, cracks: int = 1
) -> Floats:
    """K of one or two through cracks at a hole; S is the gross stress far away."""
    a, r = np.asarray(length, float), np.asarray(radius, float)
    factor = (one_crack if _count(cracks) == 1 else two_cracks)(a / r)
    return np.asarray(stress, float) * np.sqrt(np.pi * a) * factor * width_factor(a, r, width, cracks)


def corner(
    stress: ArrayLike,
    depth: ArrayLike,
    length: ArrayLike,
    radius: ArrayLike,
    thickness: ArrayLike,
    width: ArrayLike = np.inf,
    cracks: int = 1,
    phi: float = WALL,
) -> Floats:
    """K of one or two quarter-elliptical corner cracks at a hole, at phi (0 on the face, pi/2 on the wall).

    S sqrt(pi a/Q) [M1 + M2 (a/t)^2 + M3 (a/t)^4] g1 g2 g3 g4 f_phi f_w, Newman & Raju, NASA TM-85793 (1984), from
    memory; 0.2 <= a/c <= 2, a/t < 1, r/t 0.5 to 2 in the source (g2 hardly depends on it; 0.25 to 10 here). One
    crack by Shah, ASTM STP 590 (1976).
    """
    a, c, r, t = (np.asarray(part, float) for part in (depth, length, radius, thickness))
    aspect = checked("a/c", a / c, 0.2 - 1e-9, 2.0, source="corner crack at a hole")
    share = checked("a/t", a / t, 0.0, 1.0 - 1e-9, source="corner crack at a hole")
    checked("r/t", r / t, 0.25, 10.0, source="corner crack at a hole")
    base = ellipse_factors(aspect, share, phi)
    hole = _hole_stress(c / r, phi) * _front(aspect, share, phi)
    single = (4.0 / np.pi + a * c / (2.0 * t * r)) / (4.0 / np.pi + a * c / (t * r))
    factor = base.depth * base.free_surface * base.angle * hole * width_factor(c, r, width, cracks, share)
    factor = factor * (np.sqrt(single) if _count(cracks) == 1 else 1.0)
    return np.asarray(stress, float) * np.sqrt(np.pi * a / shape_factor(aspect)) * factor


def _hole_stress(share: Floats, phi: float) -> Floats:
    """g2: the hole's stress where the front stands, s = 1/(1 + (c/r) cos(mu phi))."""
    s = 1.0 / (1.0 + share * np.cos(_MU * phi))
    return (1.0 + 0.358 * s + 1.425 * s**2 - 1.578 * s**3 + 2.156 * s**4) / (1.0 + 0.13 * s**2)


def _front(aspect: Floats, share: Floats, phi: float) -> Floats:
    """g3 g4: the front's two free surfaces and its shape."""
    flat, y = aspect <= 1.0, 1.0 / np.maximum(aspect, 1.0)
    lead = np.where(flat, 1.0 + 0.04 * aspect, 1.13 - 0.09 * y)
    g3 = lead * (1.0 + 0.1 * (1.0 - np.cos(phi)) ** 2) * (0.85 + 0.15 * share**0.25)
    g4 = np.where(flat, 1.0 - 0.7 * (1.0 - share) * (aspect - 0.2) * (1.0 - aspect), 1.0)
    return g3 * g4


def _count(cracks: int) -> int:
    if cracks not in (1, 2):
        raise ValueError(f"cracks at the hole {cracks}: 1 or 2 expected")
    return cracks
