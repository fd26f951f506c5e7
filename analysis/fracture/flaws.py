"""Flaws of a new arm, place by place and material by material: what may be left, and when to look. Rows for tables."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from analysis.fracture.bodies import Body
from analysis.fracture.fad import Diagram
from analysis.fracture.growth import Block, Service
from analysis.fracture.growth_law import Law
from analysis.fracture.inspection import Method, acceptable_flaw, interval

Floats = NDArray[np.float64]


@dataclass(frozen=True)
class Place:
    """A region's flaw: its body, the proportions of its sizes, cycles and highest states there."""

    body: Body
    shape: Sequence[float]
    blocks: Sequence[Block]
    highest: Floats  # (Q, B) states as factors on the body's basis stresses
    residual: Floats | None = None  # (B,)


@dataclass(frozen=True)
class Steel:
    """What fracture asks of a material; toughness in N/mm^1.5 at the coldest temperature and the place's wall."""

    diagram: Diagram
    toughness: float
    law: Law
    bound: str = ""  # why the toughness is a conservative bound, where it is


def service_of(place: Place, steel: Steel) -> Service:
    """The place's stress on this steel."""
    return Service(place.blocks, place.highest, steel.law, steel.diagram, steel.toughness, place.residual)


def acceptable_rows(
    places: Mapping[str, Place], steels: Mapping[str, Steel], years: float, factor: float
) -> Iterator[dict[str, str | float]]:
    """Largest flaw that lasts years x factor, and the critical one, of every region in every material; mm."""
    for region, place in places.items():
        for material, steel in steels.items():
            made = acceptable_flaw(place.body, place.shape, service_of(place, steel), years, factor)
            sizes = zip(place.body.names, made.sizes, made.critical, strict=True)
            for name, size, critical in sizes:
                yield {
                    "region": region,
                    "material": material,
                    "size": name,
                    "acceptable": float(size),
                    "critical": float(critical),
                    "unit": "mm",
                    "years": made.years,
                    "note": made.note,
                }


def interval_rows(
    places: Mapping[str, Place], steels: Mapping[str, Steel], methods: Sequence[Method], factor: float
) -> Iterator[dict[str, str | float]]:
    """Inspection interval of every region in every material by every method; years, 0 where it is useless."""
    for region, place in places.items():
        for material, steel in steels.items():
            for method in methods:
                made = interval(place.body, method, service_of(place, steel), factor)
                yield {
                    "region": region,
                    "material": material,
                    "method": method.name,
                    "interval": made.years,
                    "life": made.life,
                    "unit": "years",
                    "end": made.end,
                    "note": made.note,
                }
