"""Cracks at a round hole under any stress along their path, by weight functions. mm, MPa, N/mm^1.5.

K of a through crack of length c from the edge of a hole of radius r in a wide plate, under the stress S(x) of the uncracked
plate at the distance x from the edge: K = integral over 0..c of S(x) 2/sqrt(2 pi (c - x)) [1 + B1 u + B2 u^2 + B3 u^3] dx with
u = 1 - x/c and B_j polynomials of s = 1/(1 + c/r). The coefficients are fits of this project, within 0.06 %, to the singular
integral equation of a crack beside a free hole (dislocations near a circle; Muskhelishvili's potentials, Erdogan's
quadrature), solved anew in the tests; c/r up to 10. In the limit of a small crack they meet the edge crack's 1.1215.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

from analysis.clauses.bounds import checked
from analysis.fracture.weight_function import Profile

Floats = NDArray[np.float64]
LONGEST = 10.0  # c/r
EDGE = 1.1215  # of an edge crack in a half plane (Tada, Paris & Irwin, Handbook)
# Rows B1, B2, B3; columns s^0 to s^5.
BRACKET = {
    1: np.array(
        [
            [-0.5948, 2.3497, -7.6486, 16.175, -16.4003, 6.7031],
            [0.3765, -6.0448, 31.2628, -72.2773, 78.0202, -31.1195],
            [-0.5926, 6.9761, -32.2617, 72.1738, -75.9827, 29.738],
        ]
    ),
    2: np.array(
        [
            [0.2576, -0.1788, -0.6981, 2.1752, -2.6122, 1.6026],
            [0.0431, -0.2909, 1.7377, -3.7315, 4.505, -1.8875],
            [0.109, -0.1687, -0.5164, 1.9829, -2.5181, 1.0296],
        ]
    ),
}


def through(profile: Profile, length: ArrayLike, radius: float, cracks: int = 1) -> Floats:
    """K (B, n) of one or of each of two equal through cracks of lengths (n,)."""
    c = np.atleast_1d(np.asarray(length, float))
    bracket = _bracket(c / radius, cracks)
    at = profile.to_tip(c, (-0.5, 0.5, 1.5, 2.5))
    return np.sqrt(2.0 * c / np.pi) * (at[0] + (bracket[:, None, :] * at[1:]).sum(axis=0))


def opening(length: ArrayLike, radius: float, cracks: int = 1) -> Floats:
    """K under an even stress over that of an edge crack in a half plane: under 1, a round edge opens less than a straight one."""
    x = checked("c/r", np.asarray(length, float) / radius, 0.0, LONGEST, source="crack at a hole")
    b1, b2, b3 = _bracket(x, cracks)
    return np.sqrt(2.0) / np.pi * (2.0 + b1 / 1.5 + b2 / 2.5 + b3 / 3.5) / EDGE


def at_tip(profile: Profile, length: ArrayLike, radius: float, cracks: int = 1) -> Floats:
    """Even stress (B, n) in a half plane that would drive an edge crack of length c as the profile at the hole does."""
    c = np.atleast_1d(np.asarray(length, float))
    return through(profile, c, radius, cracks) / (EDGE * np.sqrt(np.pi * c))


def at_mouth(profile: Profile, length: ArrayLike) -> Floats:
    """Mean of the stress (B, n) that the end of a corner crack's front on the hole's wall reads: with the weight
    v^-1/2 (1 - v) (1 - v/2), v = x/c, this project's, after elements with a crack front.
    """
    at = profile.to_mouth(np.atleast_1d(np.asarray(length, float)), (-0.5, 0.5, 1.5))
    return (at[0] - 1.5 * at[1] + 0.5 * at[2]) / 1.2


def _bracket(share: Floats, cracks: int) -> Floats:
    """B1, B2, B3 (3, n) at c/r."""
    if cracks not in BRACKET:
        raise ValueError(f"cracks at the hole {cracks}: 1 or 2 expected")
    s = 1.0 / (1.0 + checked("c/r", share, 0.0, LONGEST, source="crack at a hole"))
    return np.stack([np.polyval(row[::-1], s) for row in BRACKET[cracks]])
