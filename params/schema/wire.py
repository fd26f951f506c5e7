"""Metal through an arc torch: mass an hour and section of a bead from wire, feed and travel."""

from __future__ import annotations

import math

STEEL_DENSITY = 7.85e-6  # kg/mm3; common practice, no source


def wire_rate(wire: float, feed: float, density: float = STEEL_DENSITY, yield_share: float = 1.0) -> float:
    """Mass deposited while the arc burns, kg/h: rho pi d^2/4 v, of wire in mm fed in mm/min.

    Closed form.
    """
    return density * math.pi / 4.0 * wire**2 * feed * 60.0 * yield_share
