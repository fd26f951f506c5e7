"""Stress intensity of through and corner cracks at a round hole, under uniaxial tension and under any stress along the face.

r is the hole's radius, a the length of a through crack from the hole's edge, W = 2b the full plate width with
the hole in its middle. A corner crack is a quarter ellipse with the depth a along the hole's wall and c along
the face. `cracks` is 1, or 2 for one on each side. mm, MPa, N/mm^1.5.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import cache

import numpy as np
from numpy.typing import ArrayLike, NDArray

from analysis.clauses.bounds import checked
from analysis.fracture import cracks_plate, hole_weight
from analysis.fracture.cracks_plate import shape_factor
from analysis.fracture.moments import Table
from analysis.fracture.weight_function import Profile

Floats = NDArray[np.float64]
FACE, WALL = 0.0, np.pi / 2.0  # ends of a corner crack's front: on the plate's face, on the hole's wall


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

    With s = 1/(1 + a/r): 0.7058 + 0.7967 s - 0.0614 s^2 + 2.0210 s^3 - 1.0301 s^4 + 0.9320 s^5. A fit of this project, within
    0.2 % for every a/r, to the singular integral equation that `hole_weight` names; the tests solve it anew and set elements
    beside it. The table of Bowie (1956) lies up to 5 % off both.

    >>> round(float(one_crack(1.0)), 3)
    1.306
    """
    s = 1.0 / (1.0 + checked("a/r", share, 0.0, np.inf))
    return 0.7058 + s * (0.7967 + s * (-0.0614 + s * (2.021 + s * (-1.0301 + s * 0.932))))


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


# What a stress along the path has in place of an even one, (B, n) each: the even stress in a half plane that drives an edge
# crack alike, for two through cracks and for one; the moments about the tip that the face's end of a corner crack reads; the
# mean about the mouth that its wall's end reads.
DRIVING: tuple[Callable[[Profile, Floats, float], Floats], ...] = (
    lambda profile, length, radius: hole_weight.at_tip(profile, length, radius, 2),
    lambda profile, length, radius: hole_weight.at_tip(profile, length, radius, 1),
    lambda profile, length, radius: profile.to_tip(length, (-0.5,))[0],
    lambda profile, length, radius: profile.to_tip(length, (0.5,))[0],
    lambda profile, length, radius: hole_weight.at_mouth(profile, length),
)


def from_stress(driving: Floats, length: Floats, cracks: int) -> Floats:
    """K (B, n) of through cracks, from what drives them (5, B, n)."""
    return hole_weight.EDGE * np.sqrt(np.pi * length) * driving[0 if _count(cracks) == 2 else 1]


def corner_from_stress(
    driving: Floats, depth: Floats, length: Floats, radius: float, thickness: float, cracks: int
) -> Floats:
    """K (B, 2, n) of quarter-elliptical corner cracks, depth a on the wall and length c on the face: at the ends of a and of c.

    A corner crack in a plate (`cracks_plate.corner_tension`) under the even stress that acts alike at each end, less what the
    round edge opens less than a straight one. Face: mean of the stress with the weight u^-1/2 (1 + b u), u = 1 - x/c, b = FACE
    terms of c/a; wall: `hole_weight.at_mouth`. Between one crack and two as through cracks differ, by the share a/t. The weights
    and shares are this project's, after elements with a crack front: within 4 % for a/c 0.4 to 2, a/t 0.06 to 0.55, c/r 0.1 to 0.5,
    one crack and two, even and falling stresses, and 7 % high at c/r = 1. Newman and Raju's equation for corner cracks at holes
    (NASA TM-85793, as remembered) lies 16 % low to 6 % high there, lowest for flat cracks that are small beside the wall.
    """
    a, c, t = depth, length, thickness
    plate = np.sqrt(np.pi * a / shape_factor(a / c))
    local = _local(a / c)
    face = (driving[2] + local * driving[3]) / (2.0 + local / 1.5)
    round_ = _round(a, c, radius, t, cracks)
    return np.stack(
        [
            plate * cracks_plate.corner_tension(a / c, a / t, WALL) * round_[0] * driving[4],
            plate * cracks_plate.corner_tension(a / c, a / t, FACE) * round_[1] * face,
        ],
        axis=1,
    )


def _local(aspect: Floats) -> Floats:
    """b of the face's weight: the deeper the front, the more it reads like a through crack."""
    return np.maximum(0.4 - 0.6 / aspect, -1.0)


def _round(a: Floats, c: Floats, radius: float, thickness: float, cracks: int) -> tuple[Floats, Floats]:
    """What a round edge opens less than a straight one, at the wall's and the face's end."""
    two, one = (hole_weight.opening(c, radius, n) for n in (2, 1))
    less, aspect = 1.0 - two, a / c
    other = 1.0 if _count(cracks) == 2 else 1.0 - (1.0 - one / two) * a / thickness
    wall, face = np.clip(1.65 - 0.65 * aspect, 0.35, 1.0), np.clip((aspect - 0.5) / 0.6, 0.0, 0.9)
    return (1.0 - wall * less) * other, (1.0 - face * less) * other


def corner(
    stress: ArrayLike,
    depth: ArrayLike,
    length: ArrayLike,
    radius: float,
    thickness: float,
    width: ArrayLike = np.inf,
    cracks: int = 1,
) -> tuple[Floats, Floats]:
    """K of one or two corner cracks at a hole under uniaxial tension, at the ends of the depth (wall) and of the length (face).

    `corner_from_stress` under Kirsch's stress, and `width_factor`; 0.2 <= a/c <= 2, a/t < 1, c/r up to 10.
    """
    a, c = (np.atleast_1d(np.asarray(part, float)) for part in (depth, length))
    driving = _kirsch()(c / radius).reshape(len(DRIVING), 1, -1)
    whole = np.asarray(stress, float) * width_factor(c, radius, width, cracks, a / thickness)
    wall, face = whole * corner_from_stress(driving, a, c, radius, thickness, cracks)[0]
    return wall, face


@cache
def _kirsch() -> Table:
    """What drives cracks at a hole of radius 1 under 1 MPa: Kirsch's stress 0.5 (2 + (r/x)^2 + 3 (r/x)^4)."""
    depth = np.concatenate([[0.0], np.geomspace(1e-4, hole_weight.LONGEST, 4000)])
    x = 1.0 / (1.0 + depth)
    profile = Profile(depth, 0.5 * (2.0 + x**2 + 3.0 * x**4))
    return Table.of(
        lambda c: np.concatenate([kind(profile, c, 1.0) for kind in DRIVING]), hole_weight.LONGEST
    )


def _count(cracks: int) -> int:
    if cracks not in (1, 2):
        raise ValueError(f"cracks at the hole {cracks}: 1 or 2 expected")
    return cracks
