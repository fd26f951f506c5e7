"""Reference stress of cracked sections: at yield strength the net section is fully plastic. MPa, mm, for arrays.

Pm and Pb are the primary membrane and bending stress (outer fibre) of the uncracked section; a bending stress
that closes the crack counts as none. BS 7910:2013 Annex P, from memory; each is also a limit-load solution of
equilibrium, which the tests work out independently.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

from analysis.clauses.bounds import checked

Floats = NDArray[np.float64]


def surface(
    membrane: ArrayLike,
    bending: ArrayLike,
    depth: ArrayLike,
    half_length: ArrayLike,
    thickness: ArrayLike,
    width: ArrayLike = np.inf,
) -> Floats:
    """Surface crack, the plate held against turning: (Pb + sqrt(Pb^2 + 9 Pm^2 (1 - al)^2))/(3 (1 - al)^2).

    al = (a/B)/(1 + B/c) where W >= 2 (c + B), else (2a/B)(c/W); Annex P (P.5.1), from memory.
    """
    a, c, t, w = (np.asarray(part, float) for part in (depth, half_length, thickness, width))
    checked("a/B", a / t, 0.0, 1.0, source="limit load of a surface crack")
    checked("2c/W", 2.0 * c / w, 0.0, 1.0, source="limit load of a surface crack")
    share = np.where(w >= 2.0 * (c + t), (a / t) / (1.0 + t / c), 2.0 * a * c / (t * w))
    return _combined(membrane, bending, share)


def edge(membrane: ArrayLike, bending: ArrayLike, depth: ArrayLike, width: ArrayLike) -> Floats:
    """Edge crack, ends free to turn, x = a/W: (B + sqrt(B^2 + 9 Pm^2 (1-x)^2))/(3 (1-x)^2), B = Pb + 3 Pm x.

    Plastic interaction of force and moment on the ligament; pure tension gives Miller's
    n = sqrt((1-x)^2 + x^2) - x (Int. J. Pres. Ves. Piping 32 (1988) 197).
    """
    x = checked("a/W", np.asarray(depth, float) / np.asarray(width, float), 0.0, 1.0 - 1e-9)
    m = np.asarray(membrane, float)
    turned = np.maximum(np.asarray(bending, float) + 3.0 * m * x, 0.0)
    return (turned + np.sqrt(turned**2 + 9.0 * m**2 * (1.0 - x) ** 2)) / (3.0 * (1.0 - x) ** 2)


def through(membrane: ArrayLike, bending: ArrayLike, half_length: ArrayLike, width: ArrayLike) -> Floats:
    """Central through crack: (Pb + sqrt(Pb^2 + 9 Pm^2))/(3 (1 - 2a/W)), Annex P, from memory."""
    share = checked("2a/W", 2.0 * np.asarray(half_length, float) / np.asarray(width, float), 0.0, 1.0 - 1e-9)
    b, m = np.maximum(np.asarray(bending, float), 0.0), np.asarray(membrane, float)
    return (b + np.sqrt(b**2 + 9.0 * m**2)) / (3.0 * (1.0 - share))


def hole(
    membrane: ArrayLike,
    area: ArrayLike,
    radius: ArrayLike,
    thickness: ArrayLike,
    width: ArrayLike,
) -> Floats:
    """Plate with a hole and cracks of area A in all: net area, Pm W B/(W B - 2 r B - A); equilibrium alone."""
    gross = np.asarray(width, float) * np.asarray(thickness, float)
    lost = (2.0 * np.asarray(radius, float) * np.asarray(thickness, float) + np.asarray(area, float)) / gross
    checked("lost share of the section", lost, 0.0, 1.0 - 1e-9, source="net section at a hole")
    return np.abs(np.asarray(membrane, float)) / (1.0 - lost)


def hole_one_side(
    membrane: ArrayLike, area: ArrayLike, middle: ArrayLike, radius: float, thickness: float, width: float
) -> Floats:
    """Plate with a hole in its middle and a crack of area A on one side of it, the ends free to turn.

    A and the distance of its middle from the hole's edge as arrays (n,). The force runs along the plate's axis, off the middle of
    what is left: a strip d wide at the edge of the whole side is pressed, so that the plastic section carries the force without
    a moment, d (W - d) = A (r + middle)/B, and W B/(W B - 2 r B - A - 2 d B) is the reference stress over the membrane stress;
    equilibrium alone. Without a crack it is `hole`.
    """
    a = np.asarray(area, float) / thickness
    turned = checked(
        "moment of the lost area over W^2", a * (radius + np.asarray(middle, float)) / width**2, 0.0, 0.25
    )
    pressed = width * (1.0 - np.sqrt(1.0 - 4.0 * turned)) / 2.0
    left = 1.0 - (2.0 * radius + a + 2.0 * pressed) / width
    checked("left share of the section", left, 1e-9, 1.0, source="net section at a hole")
    return np.abs(np.asarray(membrane, float)) / left


def ligament(
    membrane: ArrayLike, bending: ArrayLike, area: ArrayLike, thickness: float, width: float
) -> Floats:
    """The ligament W wide beside a hole alone, a share al = A/(W B) of it lost on one side, held against turning by the body:
    (Pb + sqrt(Pb^2 + 9 Pm^2 (1 - al)^2))/(3 (1 - al)^2), as for a surface crack (BS 7910:2013 P.5.1, from memory).
    """
    share = checked(
        "lost share", np.asarray(area, float) / (thickness * width), 0.0, 1.0 - 1e-9, source="ligament"
    )
    return _combined(membrane, bending, share)


def _combined(membrane: ArrayLike, bending: ArrayLike, share: Floats) -> Floats:
    b, m, left = np.maximum(np.asarray(bending, float), 0.0), np.asarray(membrane, float), 1.0 - share
    return (b + np.sqrt(b**2 + 9.0 * m**2 * left**2)) / (3.0 * left**2)
