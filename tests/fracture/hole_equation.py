"""K of radial cracks at a round hole by a singular integral equation, independent of the project: dislocations beside a circle.

An edge dislocation at (c, 0) with its Burgers vector along y outside a free circle of radius 1 has the potentials A ln(z - c) and
A ln(z - c) - A c/(z - c); the circle adds the functions outside of it that take the traction off (Muskhelishvili, Some Basic
Problems, 1953), and a dislocation in the hole's middle closes the displacement. Unknown is the density of dislocations along
the crack, square-root singular at the tip and none at the mouth; Gauss-Chebyshev points (Erdogan & Gupta, Q. Appl. Math. 29
(1972) 525).
"""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]


def image(x: Array, c: Array) -> Array:
    """Stress sigma_yy/(2 A) at (x, 0) that the free circle adds to a dislocation at (c, 0), its middle closed."""
    q = c * x - 1.0
    first = (c - 1.0 / c) / q**2 - 1.0 / (x * q)  # phi', phi'' and psi' of what the circle adds, over A
    second = -2.0 * c * (c - 1.0 / c) / q**3 + 1.0 / (x**2 * q) + c / (x * q**2)
    psi = -1.0 / (x * q) - 1.0 / (c * x**2) + first / x**2 - second / x
    return 0.5 * (2.0 * first + x * second + psi) - (1.0 / x + 1.0 / x**3)


def intensity(pressure: Callable[[Array], Array], length: float, cracks: int, points: int = 200) -> float:
    """K of one crack, or of two opposite ones, of this length beside a hole of radius 1; pressure at distances from its edge."""
    k = np.arange(1, points + 1)
    turn = (2 * k - 1) * np.pi / (4 * points)
    c = 1.0 + length * (1.0 + np.cos(2.0 * turn)) / 2.0
    x = 1.0 + length * (1.0 + np.cos(np.arange(1, points) * np.pi / points)) / 2.0
    at, by = x[:, None], c[None, :]
    kernel = 1.0 / (at - by) + image(at, by)
    if (
        cracks == 2
    ):  # turned by half a circle, the other crack's dislocation is this one's, seen from the other side
        kernel = kernel + 1.0 / (-at - by) + image(-at, by)
    end = (
        np.sin((2 * points - 1) * turn) / np.sin(turn) / points
    )  # the density's regular part, read at the tip
    matrix = np.vstack([kernel * (np.pi / points) * (length / 2.0), end[::-1]])  # none at the mouth
    density = np.linalg.solve(matrix, np.append(pressure(x - 1.0), 0.0))
    return float(-end @ density * np.pi * np.sqrt(np.pi * length / 2.0))
