"""Section by section: N, V, T, M of the hand calculation against those of the mesh, `resultants.csv`. The proof of statics.

By nodes: what the elements beyond the section hand on through its nodes, in exact equilibrium with the loads on the mesh. By
stress: the integral of the stress over the plane, which shows how good the stress is.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any

import numpy as np

from analysis.contracts.elastic import Cut, ElasticCase, Resultants
from analysis.contracts.hand import HandCase, Station
from analysis.tables.columns import columns
from params.schema.arm import Arm
from params.schema.units import outside, shown_unit

COLUMNS = columns(
    "quantity place load_case hand by_nodes by_stress unit by_nodes_percent allowed_nodes_percent by_stress_percent "
    "allowed_stress_percent verdict note"
)
FORCES, MOMENTS = ("N", "V2", "V3"), ("T", "M2", "M3")
LEAST = (
    0.01  # a sideways force or moment below this share of the one in the plane is compared with that share
)
AT_STATION = 0.1, "equilibrium: the same pin forces; the weight of the blends is left out by hand"
IN_WALL = 0.5, "equilibrium; the weight of hub or boss on one side of the section is left out by hand"
BY_STRESS = "; by stress: error in the energy norm of the elements cut, as a share of a flange's force or the largest moment"


def resultants(arm: Arm, case: str, hand: HandCase, mesh: ElasticCase) -> Iterator[dict[str, Any]]:
    """Every resultant of every section of both arms in one load case."""
    for limb, stations in hand.stations.items():
        scale = scales(stations)
        both = zip(
            (*stations, *in_walls(stations, mesh.walls[limb])),
            (*mesh.stations[limb], *mesh.walls[limb]),
            strict=True,
        )
        for number, (by_hand, cut) in enumerate(both):
            allowed, why = AT_STATION if number < len(stations) else IN_WALL
            unit = shown_unit("length", arm.units)
            within = ("", ", in the hub's wall", ", in the boss's wall")[max(0, number - len(stations) + 1)]
            place = f"{limb} arm, {outside(cut.s, unit, 'length'):.4g} {unit} from the pivot{within}"
            for name in Resultants.model_fields:
                bounds = allowed, 100.0 * cut.error
                yield row(arm, name, place, case, getattr(by_hand, name), cut, scale[name], bounds) | {
                    "note": why + BY_STRESS
                }


def row(
    arm: Arm,
    name: str,
    place: str,
    case: str,
    by_hand: float,
    cut: Cut,
    scale: tuple[float, float],
    allowed: tuple[float, float],
) -> dict[str, Any]:
    """One resultant at one section; differences in percent of `scale`: by nodes, by stress."""
    kind = "force" if name in FORCES else "moment"
    unit = shown_unit(kind, arm.units)
    values = [by_hand, getattr(cut.nodes, name), getattr(cut.stress, name)]
    percent = [100.0 * (value - by_hand) / most for value, most in zip(values[1:], scale, strict=True)]
    fits = all(abs(one) <= bound for one, bound in zip(percent, allowed, strict=True))
    shown = [outside(value, unit, kind) for value in values]
    head = (name, place, case, *shown, unit.replace("*", " "), percent[0], allowed[0], percent[1], allowed[1])
    return dict(zip(COLUMNS, (*head, "agrees" if fits else "explain"), strict=False))


def scales(stations: Sequence[Station]) -> dict[str, tuple[float, float]]:
    """What each difference is a share of, by nodes and by stress, N and N mm."""
    force = max(float(np.hypot(one.N, one.V2)) for one in stations)
    moment = max(abs(one.M3) for one in stations)
    own = {
        "V3": max(LEAST * force, *(abs(one.V3) for one in stations)),
        "T": max(LEAST * moment, *(max(abs(one.T), abs(one.M2)) for one in stations)),
    }
    by_nodes = {"N": force, "V2": force, "M3": moment, "M2": own["T"]} | own
    flange = max(force, *(abs(one.M3) / one.depth for one in stations))
    return {name: (by_nodes[name], flange if name in FORCES else moment) for name in by_nodes}


def in_walls(stations: Sequence[Station], cuts: Sequence[Cut]) -> Iterator[Resultants]:
    """Forces of the nearest station carried on, without weight, to the sections through hub and boss."""
    for near, cut in zip((stations[0], stations[-1]), cuts, strict=True):
        way = near.s - cut.s
        yield Resultants(
            N=near.N, V2=near.V2, V3=near.V3, T=near.T, M2=near.M2 - near.V3 * way, M3=near.M3 + near.V2 * way
        )
