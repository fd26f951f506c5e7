"""Section properties of an I, a box and a bar, in closed form and for arrays of any shape.

Axes: eta is the depth direction (in the arm's plane), z the width direction. Index 3 belongs to bending about z (in
plane), 2 to bending about eta (sideways). Lengths in mm, so areas in mm2, second moments in mm4, warping in mm6.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import cached_property
from typing import Any

import numpy as np
from numpy.typing import ArrayLike

from params.steps.arrays import Floats

POINTS = {
    "i": ("flange tip", "flange middle", "flange-web junction", "neutral axis"),
    "box": ("corner", "flange middle", "flange-web junction", "neutral axis"),
    "solid": ("corner", "middle of top", "quarter depth", "neutral axis"),
}


def hub_net(width: ArrayLike, outside: ArrayLike, bore: ArrayLike) -> tuple[Any, Any]:
    """Area (mm2) and second moment about z (mm4) of the hub's section through its bore: two walls, for bending in the plane.

    >>> hub_net(60.0, 300.0, 100.0)
    (np.float64(12000.0), np.float64(130000000.0))
    """
    w, D, d = (np.asarray(value, dtype=float)[()] for value in (width, outside, bore))
    return w * (D - d), w * (D**3 - d**3) / 12.0


@dataclass(frozen=True)
class Points:
    """Stress per unit of internal force at the four points of `POINTS` (last axis): normal by M3, M2, shear by V2, V3, T."""

    m3: Floats
    m2: Floats
    v2: Floats
    v3: Floats
    t: Floats


@dataclass(frozen=True)
class Section:
    """Properties of sections; all arrays of one shape."""

    depth: Floats
    area: Floats
    i3: Floats
    i2: Floats
    s3: Floats  # elastic moduli
    s2: Floats
    z3: Floats  # plastic moduli
    z2: Floats
    j: Floats
    cw: Floats
    shear2: Floats  # shear areas of the energy method
    shear3: Floats
    lever: Floats  # distance of the flange forces: h - tf, or h in a bar
    stress: Callable[[], Points]

    @cached_property
    def points(self) -> Points:
        """Computed on first use: mass and movement do not need them."""
        return self.stress()


def section(
    kind: str,
    depth: ArrayLike,
    width: ArrayLike,
    flange: ArrayLike = 0.0,
    web: ArrayLike = 0.0,
    fillet: ArrayLike = 0.0,
) -> Section:
    """Properties of one kind of section; arguments in mm, broadcast against each other (the depth carries all axes).

    `fillet` is the root radius of an I (0 for welded plates); `web` is the thickness of each web of a box.
    """
    h, b, tf, tw, r = (np.asarray(a, dtype=float) for a in (depth, width, flange, web, fillet))
    return {"i": i_section, "box": box_section, "solid": bar_section}[kind](h, b, tf, tw, r)


def area_of(
    kind: str, depth: ArrayLike, width: ArrayLike, flange: ArrayLike, web: ArrayLike, fillet: ArrayLike
) -> Floats:
    """Area alone, mm2: linear in the depth."""
    h, b, tf, tw, r = (np.asarray(a, dtype=float) for a in (depth, width, flange, web, fillet))
    if kind == "solid":
        return b * h
    plates = 2.0 * b * tf + (h - 2.0 * tf) * tw * (2.0 if kind == "box" else 1.0)
    return plates + 4.0 * root_fillet(r)[0] if kind == "i" else plates


def row(*values: Floats | float, over: Floats | float = 1.0, shape: tuple[int, ...]) -> Floats:
    """Values for the four points over a common divisor, (..., 4)."""
    factors = np.empty((*shape, len(values)))
    for index, value in enumerate(values):
        factors[..., index] = value / over
    return factors


def filled(shape: tuple[int, ...], *values: Floats) -> Any:
    """Every property with all axes of the depth."""
    return [np.broadcast_to(value, shape) for value in values]


def root_fillet(r: Floats) -> tuple[Floats, Floats, Floats]:
    """Area, distance of the centroid from either side, own second moment of the spandrel between two sides at 90 degrees.

    Square less quarter circle, by the parallel-axis theorem.
    """
    area = (1.0 - np.pi / 4.0) * r**2
    away = r * (5.0 / 6.0 - np.pi / 4.0) / (1.0 - np.pi / 4.0)
    gap = 1.0 - 4.0 / (3.0 * np.pi)  # of the quarter circle's centroid from the sides, in radii
    quarter = np.pi / 16.0 - np.pi / 4.0 * (4.0 / (3.0 * np.pi)) ** 2 + np.pi / 4.0 * gap**2
    return area, away, r**4 * (1.0 / 3.0 - quarter) - area * away**2


def i_torsion(h: Floats, b: Floats, tf: Floats, tw: Floats, r: Floats) -> Floats:
    """St Venant constant of an I with root fillets; sum of b t^3/3 where r = 0.

    El Darwish and Johnston, Torsion of structural shapes, J. Struct. Div. ASCE 91 (1965), as printed in European
    section tables (from memory): junction circles of diameter D1 and end loss 0.420 tf^4. The circles' factor is a fit to rolled
    sections, which a thick web or a large fillet leaves far behind, to below zero. No union of plates is less stiff in torsion
    than its plates together (the membrane over the whole lies over those of its parts; Polya 1948), so that is the least taken.
    """
    thin = 2.0 / 3.0 * b * tf**3 + (h - 2.0 * tf) * tw**3 / 3.0
    alpha = -0.042 + 0.2204 * tw / tf + 0.1355 * r / tf - 0.0865 * r * tw / tf**2 - 0.0725 * (tw / tf) ** 2
    circle = ((tf + r) ** 2 + (r + 0.25 * tw) * tw) / (2.0 * r + tf)
    least = 2.0 * plate_torsion(b, tf) + plate_torsion(h - 2.0 * tf, tw)
    return np.where(r > 0.0, np.maximum(thin + 2.0 * alpha * circle**4 - 0.420 * tf**4, least), thin)


def plate_torsion(one: Floats, other: Floats) -> Floats:
    """St Venant constant of a rectangle, low by at most 1 %: long short^3 (1/3 - 0.21 k (1 - k^4/12)), k = short/long.

    Roark's Formulas for Stress and Strain, Table 10.1 (from memory), within 0.5 % of the series of `rectangle_torsion`.
    """
    long, short = np.maximum(one, other), np.minimum(one, other)
    k = short / np.maximum(long, 1e-12)
    return 0.995 * long * short**3 * (1.0 / 3.0 - 0.21 * k * (1.0 - k**4 / 12.0))


def i_section(h: Floats, b: Floats, tf: Floats, tw: Floats, r: Floats) -> Section:
    """Two flanges and a web, with root fillets of radius r in the area, moments and torsion (not in the shear flow)."""
    hw, lever = h - 2.0 * tf, h - tf
    spandrel, away, own = root_fillet(r)
    up, side = hw / 2.0 - away, tw / 2.0 + away
    area = 2.0 * b * tf + hw * tw + 4.0 * spandrel
    i3 = (b * h**3 - (b - tw) * hw**3) / 12.0 + 4.0 * (own + spandrel * up**2)
    i2 = (2.0 * tf * b**3 + hw * tw**3) / 12.0 + 4.0 * (own + spandrel * side**2)
    z3 = b * tf * lever + tw * hw**2 / 4.0 + 4.0 * spandrel * up
    z2 = tf * b**2 / 2.0 + hw * tw**2 / 4.0 + 4.0 * spandrel * side
    j = i_torsion(h, b, tf, tw, r)
    q_flange = b * tf * lever / 2.0
    q_middle = q_flange + tw * hw**2 / 8.0

    def points() -> Points:
        return Points(
            m3=row(h / 2.0, h / 2.0, hw / 2.0, 0.0, over=i3, shape=h.shape),
            m2=row(b / 2.0, 0.0, tw / 2.0, tw / 2.0, over=i2, shape=h.shape),
            v2=row(0.0, 0.0, q_flange, q_middle, over=i3 * tw, shape=h.shape),
            v3=row(0.0, 0.75 / (b * tf), 0.0, 0.0, shape=h.shape),
            t=row(tf, tf, tw, tw, over=j, shape=h.shape),
        )

    shear2 = i3**2 / (web_energy(q_flange, hw, tw) + tf * lever**2 * b**3 / 24.0)
    moduli = (i3 / (h / 2.0), i2 / (b / 2.0), z3, z2)
    cw, shear3 = tf * b**3 * lever**2 / 24.0, 5.0 / 3.0 * b * tf
    properties = filled(h.shape, h, area, i3, i2, *moduli, j, cw, shear2, shear3, lever)
    return Section(*properties, stress=points)


def warping_stress(part: Section, width: Floats, reach: Floats, poisson: float) -> Floats:
    """Normal stress at the flange tips of an I per unit of torque, 1/mm3, where warping is held at `reach` from the free end.

    Bimoment T a tanh(reach / a) with a^2 = E Cw / (G J): Timoshenko and Gere, Theory of Elastic Stability, chapter 5, for a
    bar of one section; taken with each station's own section. The whole torque is counted in St Venant shear as well.
    Zero where the section does not warp (box, bar).
    """
    a = np.sqrt(np.maximum(2.0 * (1.0 + poisson) * part.cw / part.j, 1e-12))
    sector = width / 2.0 * part.lever / 2.0
    return np.where(part.cw > 0.0, sector * a * np.tanh(reach / a) / np.maximum(part.cw, 1e-12), 0.0)


def web_energy(q: Floats, height: Floats, thickness: Floats) -> Floats:
    """Integral of Q^2/t over a web of this height whose first moment is q at its ends: shear strain energy by Jourawski."""
    return (q**2 * height + q * thickness * height**3 / 6.0 + thickness**2 * height**5 / 120.0) / thickness


def box_section(h: Floats, b: Floats, tf: Floats, tw: Floats, r: Floats) -> Section:
    """Two flanges between or over two webs at the outer faces, sharp corners; torsion after Bredt (1896)."""
    hw, bi, lever, across = h - 2.0 * tf, b - 2.0 * tw, h - tf, b - tw
    area = b * h - bi * hw
    i3, i2 = (b * h**3 - bi * hw**3) / 12.0, (h * b**3 - hw * bi**3) / 12.0
    cell = across * lever
    j = 4.0 * cell**2 / (2.0 * across / tf + 2.0 * lever / tw)
    q3, q2 = b * tf * lever / 2.0, h * tw * across / 2.0  # first moments of a flange, of a web
    q3_middle, q2_middle = q3 + 2.0 * tw * hw**2 / 8.0, q2 + 2.0 * tf * bi**2 / 8.0
    thin = np.minimum(tf, tw)

    def points() -> Points:
        return Points(
            m3=row(h / 2.0, h / 2.0, hw / 2.0, 0.0, over=i3, shape=h.shape),
            m2=row(b / 2.0, 0.0, b / 2.0, b / 2.0, over=i2, shape=h.shape),
            v2=row(q3 / thin, 0.0, q3 / tw, q3_middle / tw, over=2.0 * i3, shape=h.shape),
            v3=row(q2 / thin, q2_middle / tf, q2 / tw, 0.0, over=2.0 * i2, shape=h.shape),
            t=row(1.0 / thin, 1.0 / tf, 1.0 / tw, 1.0 / tw, over=2.0 * cell, shape=h.shape),
        )

    z3 = (b * h**2 - bi * hw**2) / 4.0
    z2 = (h * b**2 - hw * bi**2) / 4.0
    moduli = (i3 / (h / 2.0), i2 / (b / 2.0), z3, z2)
    shear2 = i3**2 / (web_energy(q3, hw, 2.0 * tw) + flange_energy(b, tf, lever))
    shear3 = i2**2 / (web_energy(q2, bi, 2.0 * tf) + flange_energy(h, tw, across))
    properties = filled(h.shape, h, area, i3, i2, *moduli, j, np.zeros(()), shear2, shear3, lever)
    return Section(*properties, stress=points)


def flange_energy(width: Floats, thickness: Floats, lever: Floats) -> Floats:
    """Integral of Q^2/t over two flanges whose shear flow grows straight from their middle (zero by symmetry) outward."""
    return thickness * lever**2 * width**3 / 24.0


def rectangle_torsion(long: ArrayLike, short: ArrayLike) -> tuple[Floats, Floats]:
    """Constants (beta, alpha) of a bar: J = beta b a^3 and tau_max = T / (alpha b a^2), a the short side.

    Timoshenko and Goodier, Theory of Elasticity, 3rd ed. (1970), art. 109; the series converges within five odd terms.
    """
    ratio = np.asarray(long, dtype=float) / np.asarray(short, dtype=float)
    n = np.arange(1.0, 20.0, 2.0)
    angle = np.minimum(np.pi * n * ratio[..., None] / 2.0, 300.0)
    beta = (1.0 - 192.0 / (np.pi**5 * ratio) * np.sum(np.tanh(angle) / n**5, axis=-1)) / 3.0
    steep = 1.0 - 8.0 / np.pi**2 * np.sum(1.0 / (n**2 * np.cosh(angle)), axis=-1)
    return beta, beta / steep


def bar_section(h: Floats, b: Floats, tf: Floats, tw: Floats, r: Floats) -> Section:
    """Rectangle; the largest torsional shear is taken at every point but the corner, which has none."""
    area, i3, i2 = b * h, b * h**3 / 12.0, h * b**3 / 12.0
    long, short = np.maximum(h, b), np.minimum(h, b)
    beta, alpha = rectangle_torsion(long, short)
    twist = 1.0 / (alpha * long * short**2)

    def points() -> Points:
        return Points(
            m3=row(h / 2.0, h / 2.0, h / 4.0, 0.0, over=i3, shape=h.shape),
            m2=row(b / 2.0, 0.0, b / 2.0, b / 2.0, over=i2, shape=h.shape),
            v2=row(0.0, 0.0, 1.125 / area, 1.5 / area, shape=h.shape),
            v3=row(0.0, 1.5 / area, 0.0, 0.0, shape=h.shape),
            t=row(0.0, twist, twist, twist, shape=h.shape),
        )

    moduli = (i3 / (h / 2.0), i2 / (b / 2.0), b * h**2 / 4.0, h * b**2 / 4.0)
    j, shear = beta * long * short**3, 5.0 / 6.0 * area
    properties = filled(h.shape, h, area, i3, i2, *moduli, j, np.zeros(()), shear, shear, h)
    return Section(*properties, stress=points)
