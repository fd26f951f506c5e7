"""From damage a year to years, utilisation, allowable range, and the worst places.

Palmgren-Miner: shares of life add up, a crack is there when they make 1 (IIW asks 0.5 for varying histories).
The life is to a crack that an engineer would call one, not to failure.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from analysis.fatigue.plane import Search
from params.steps.arrays import Floats

Ints = NDArray[np.int64]


@dataclass(frozen=True)
class Life:
    """What the damage means, by node (n,)."""

    years: Floats  # to a crack
    utilisation: Floats  # share of the service life used; 1 just lasts
    allowable_range: Floats  # what the service life would allow the cycle that does most, MPa
    margin: Floats  # allowable range over range, less 1


def life(plane: Search) -> Life:
    """Life of every node for the service life and Miner sum that the search was made with."""
    with np.errstate(divide="ignore", invalid="ignore"):
        years = plane.limit / plane.damage
        allowable = np.where(plane.range > 0.0, plane.reserve * plane.range, np.inf)
    used = plane.damage * plane.service_years / plane.limit
    return Life(years, used, allowable, plane.reserve - 1.0)


@dataclass(frozen=True)
class Place:
    """A worst place: node, named region, where it lies (mm)."""

    node: int
    region: str
    at: tuple[float, float, float]


def worst_places(
    lives: Life, points: Floats, regions: Mapping[str, Ints], count: int = 5, apart: float = 0.0
) -> list[Place]:
    """The worst nodes of every region by margin, at least `apart` mm from each other, the worst first.

    `regions` maps a name to node numbers. Ties go to the lower node number, so the list is the same in every
    run.
    """
    places: list[Place] = []
    for name, nodes in regions.items():
        taken: list[Floats] = []
        for node in np.asarray(nodes)[np.argsort(lives.margin[nodes], kind="stable")]:
            if len(taken) == count:
                break
            here = points[node]
            if all(np.linalg.norm(here - other) >= apart for other in taken):
                taken.append(here)
                places.append(Place(int(node), name, (float(here[0]), float(here[1]), float(here[2]))))
    return sorted(places, key=lambda place: (lives.margin[place.node], place.node))
