"""Flaws of a new arm, place by place and material by material: what may be left, and when to look. Rows for tables."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from analysis.fracture.bodies import Body
from analysis.fracture.fad import Diagram
from analysis.fracture.growth import Block, Service
from analysis.fracture.growth_law import Law

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
