"""Mass and centre of gravity in closed form: hub, bosses and tapered arms; edge blends and pocket corners are left out.

Against the solid of the geometry room this stays within two per cent; the finite-element step rebalances with its own mass.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from analysis.mechanics.sizes import Sizes
from analysis.mechanics.spans import Spans, axes, spans
from params.schema.arm import Arm, Bore
from params.steps.arrays import Floats


@dataclass(frozen=True)
class Mass:
    """Of D designs, in kg and mm."""

    total: Floats  # (D,)
    cg: Floats  # (D, 2) in the arm's frame
    boss: Floats  # (D, 2, 1) beyond the boss edge, taken at the pin centre
    area_density: float  # kg/mm3


def ring(bore: Bore, outside: Floats) -> Floats:
    """Volume of a hub or boss less its bore and the bore's two chamfers (Pappus), mm3."""
    d, c = bore.bore, bore.chamfer
    chamfers = 2.0 * np.pi * c**2 * (d / 2.0 + c / 3.0)
    return np.pi / 4.0 * (outside**2 - d**2) * bore.width - chamfers


def gusset(chord: Floats, radius: Floats) -> tuple[Floats, Floats]:
    """Area between a circle and its tangent over a chord's width, and its centroid's distance from the tangent.

    The arm fills this gap between the end of its straight part and the hub or boss circle. Chord at most the diameter.
    """
    half = np.minimum(chord / 2.0, radius)
    area = 2.0 * radius * half - half * np.sqrt(radius**2 - half**2) - radius**2 * np.arcsin(half / radius)
    # First moment about the tangent: half the integral of (R - sqrt(R^2 - y^2))^2.
    square = 2.0 * half * radius**2 - half**3 / 3.0
    first = square - radius * (half * np.sqrt(radius**2 - half**2) + radius**2 * np.arcsin(half / radius))
    return area, first / np.maximum(area, 1e-12)


def gap(span: Spans, s: Floats, radius: Floats) -> tuple[Floats, Floats]:
    """Volume of the arm between its end at s and the circle there, and the distance of its centroid from s."""
    sizes, h = span.sizes, span.depth(s)
    whole, away = gusset(h, radius)
    if sizes.kind == "solid":
        return whole * sizes.width, away
    inner, near = gusset(h - 2.0 * sizes.flange_thickness, radius)
    webs = sizes.web_thickness * (2.0 if sizes.kind == "box" else 1.0)
    hollow = (sizes.width - webs) * inner
    volume = whole * sizes.width - hollow
    return volume, (whole * sizes.width * away - hollow * near) / volume


def mass(arm: Arm, sizes: Sizes, density: float) -> Mass:
    """Mass of D designs; density in kg/mm3."""
    span, geometry = spans(arm, sizes), arm.geometry
    s, weight = span.gauss(2)  # exact: the area is linear along s, its first moment quadratic
    area = span.area(s)
    bar, bar_first = np.sum(weight * area, -1), np.sum(weight * area * s, -1)
    hub_gap, hub_away = gap(span, span.start, span.hub)
    end = np.broadcast_to(span.end, span.start.shape)
    boss_gap, boss_away = gap(span, end, span.boss)
    bosses = np.array([[ring(bore, np.array(bore.outside))] for bore in (geometry.input, geometry.output)])
    hub = ring(geometry.pivot, sizes.hub)
    first = (
        bar_first
        + ((span.start - hub_away) * hub_gap + (end + boss_away) * boss_gap + span.length * bosses)[..., 0]
    )
    volume = bar + (hub_gap + boss_gap + bosses)[..., 0]
    total = hub + volume.sum(-1)
    return Mass(density * total, first @ axes(arm) / total[:, None], density * (bosses + boss_gap), density)
