"""Semi-elliptical surface crack under any stress over its depth, by weight functions. mm, MPa, N/mm^1.5.

At the deepest point m = 2/sqrt(2 pi (a - x)) [1 + M1 u^1/2 + M2 u + M3 u^3/2], u = 1 - x/a, with m'' = 0 at the mouth
(M2 = 3); at the surface m = 2/sqrt(pi x) [1 + N1 v^1/2 + N2 v], v = x/a: Shen & Glinka, Theor. Appl. Fract. Mech. 15 (1991)
247, from memory; their third term at the surface is left out, because it follows from two known K only with errors 90 times
theirs. The other coefficients meet Newman and Raju's K in tension and in bending, so straight stresses are met exactly.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
POWERS = (-0.5, 0.0, 0.5, 1.0)  # of the moments that both functions use


def deepest(even: Floats, falling: Floats, moments: Floats) -> Floats:
    """K (B, n) at the deepest point over sqrt(2 a/pi).

    even and falling (n,): K over sqrt(2 a/pi) of the stresses 1 and 1 - x/a; moments (4, B, n) about the tip.
    """
    # even = 2 + M1 + (2/3) M2 + M3/2, falling = 2/3 + M1/2 + (2/5) M2 + M3/3, M2 = 3
    one, two = even - 4.0, falling - 2.0 / 3.0 - 1.2
    m3 = 6.0 * (2.0 * two - one)
    return _sum(one - m3 / 2.0, np.full_like(one, 3.0), m3, moments)


def at_surface(even: Floats, falling: Floats, moments: Floats) -> Floats:
    """K (B, n) at the surface over 2 sqrt(a/pi); even and falling likewise; moments (4, B, n) about the mouth."""
    # even = 2 + N1 + (2/3) N2, falling = 4/3 + N1/2 + (4/15) N2
    one, two = even - 2.0, falling - 4.0 / 3.0
    n2 = 15.0 * (one / 2.0 - two)
    return _sum(one - n2 / 1.5, n2, np.zeros_like(one), moments)


def _sum(first: Floats, second: Floats, third: Floats, moments: Floats) -> Floats:
    return moments[0] + first * moments[1] + second * moments[2] + third * moments[3]
