"""Normal stress of a bar whose web shear changes along it: the sections do not stay plane, and unevenly so.

Under a constant shear every section warps alike and bending theory stays exact; where V of the web or the section changes, the
change of the warping is strain. With g(y) the integral of Q/(I t) over the depth less its best straight line, so that it adds no
force and no moment, u = V g/G and

    sigma = N/A - M y/I + (E/G) d(V g)/ds

(odd in y: on the other side the sign turns). Across a flange, whose shear runs sideways to its tips, g has the mean (b^2/12) y/I
more than at the web. Jourawski's shear and Saint-Venant's flexure (Timoshenko and Goodier, Theory of Elasticity, ch. 12): the
shear strain V Q/(G I t) tilts every layer against its neighbour, u is its integral over the depth, and E du/ds the stress. Where a
stiff end holds the section plane, the stress (E/G) V g/length exp(-x/length) is added, length^2 = (E/G) integral of g^2 dA /
(c - 1/Av), c the slope of the straight line, Av the web's area.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from analysis.mechanics.sections import section
from params.steps.arrays import Floats

GAUSS = 12  # points on each plate: the integrands are polynomials of degree 6 and less
BAR = 0.25  # share of a bar's depth that stands for its flange


@dataclass(frozen=True)
class Warping:
    """Of one section per N of web shear, 1/mm: of the straight line through g over the flange on the side of positive y its mean
    and its value at the outer face."""

    mean: float
    outer: float
    length: float  # over which a held end fades, mm


def skin(kind: str, depth: float, flange: float) -> float:
    """Thickness of a flange, or of the outer quarter of a bar, mm."""
    return BAR * depth if kind == "solid" else flange


def warping(kind: str, depth: float, width: float, flange: float, web: float, poisson: float) -> Warping:
    """Warping of an I, a box or a bar; lengths in mm, root fillets left out.

    A bar b = 1, h = 2: the integral of Q/(I t) is (3/4) (y - y^3/3), its best line 0.6 y; the line through g over the outer
    quarter reaches -0.075 at the outer face.

    >>> round(warping("solid", 2.0, 1.0, 0.0, 0.0, 0.3).outer, 9)
    -0.075
    """
    tf = skin(kind, depth, flange)
    inner = depth - 2.0 * tf
    t = {"i": web, "box": 2.0 * web, "solid": width}[kind]
    clear = {"i": width, "box": width - web, "solid": 0.0}[kind]  # between shear-free tips, or between webs
    part = section(kind, depth, width, flange, web)
    second, area = float(part.i3), float(part.area)
    first = width * tf * (depth - tf) / 2.0  # of the flange
    middle = (depth - tf) / 2.0

    def in_web(y: Floats | float) -> Floats | float:
        return (first * y + t * (inner**2 / 4.0 * y - y**3 / 3.0) / 2.0) / (second * t)

    def in_flange(y: Floats | float, sideways: Floats | float) -> Floats | float:
        across = depth**2 / 4.0 * y - y**3 / 3.0
        edge = depth**2 / 8.0 * inner - inner**3 / 24.0
        return in_web(inner / 2.0) + sideways + (across - edge) / (2.0 * second)

    point, weight = np.polynomial.legendre.leggauss(GAUSS)
    y_web, w_web = inner / 4.0 * (1.0 + point), inner / 4.0 * weight * t
    y, w = inner / 2.0 + tf / 2.0 * (1.0 + point), tf / 2.0 * weight * width
    lag = middle * clear**2 / 12.0 / second
    slope = 2.0 * (np.sum(in_web(y_web) * y_web * w_web) + np.sum(in_flange(y, lag) * y * w)) / second
    g_web, g = in_web(y_web) - slope * y_web, in_flange(y, lag) - slope * y
    z = clear / 4.0 * (1.0 + point)
    spread = middle * (clear * z / 2.0 - z**2 / 2.0) / second - lag  # across the flange, its mean taken off
    squares = 2.0 * (
        np.sum(g_web**2 * w_web) + np.sum(g**2 * w) + np.sum(w) * np.sum(spread**2 * weight) / 2.0
    )
    mean, steep = straight(y, g, w)
    vertical = t * depth if kind != "solid" else area
    fading = np.sqrt(2.0 * (1.0 + poisson) * squares / max(slope - 1.0 / vertical, 1e-12))
    return Warping(mean, mean + steep * (depth / 2.0 - middle), float(fading))


def straight(y: Floats, value: Floats, weight: Floats) -> tuple[float, float]:
    """Mean and slope of the line that fits values at y best under the weights."""
    middle = np.sum(weight * y) / np.sum(weight)
    mean = np.sum(weight * value) / np.sum(weight)
    return float(mean), float(np.sum(weight * (y - middle) * value) / np.sum(weight * (y - middle) ** 2))
