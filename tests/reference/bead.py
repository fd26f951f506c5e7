"""A bead's section by conservation of volume."""

from __future__ import annotations

import math


def bead_section(wire: float, feed: float, travel: float) -> float:
    """Section of a bead, mm2, by conservation of volume: section of the wire times feed over travel, both mm/min."""
    return math.pi / 4.0 * wire**2 * feed / travel
