"""Rows of duty.csv: what each working cycle does at the governing place, beside the stress that stands there.

A machine that works unloads its arm at each lift. Where the range is small against the stress of the most loaded state, the cycle
was probably written between two states that both carry the load; the row says so and asks.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import numpy as np

from analysis.elastic.mesh import Mesh
from analysis.fatigue.duty import Cycles
from analysis.fatigue.table import Assessed, at
from analysis.tables.names import names
from params.schema.arm import Arm
from params.schema.units import outside, shown_unit

COLUMNS = names(
    "arm region x y z length_unit from_case to_case cycles_per_year lowest highest range static stress_unit range_over_static note"
)
HARDLY = (
    0.2  # of the static stress, over all cycles: less is hardly what a working machine does (our own limit)
)
ASK = "the duty hardly varies: is each lift unloaded?"


def duty_rows(arm: Arm, mesh: Mesh, assessed: Assessed, cycles: Cycles) -> Iterator[dict[str, Any]]:
    """Least and most stress of every cycle at the arm's worst place, on its worst plane; the static one is the larger by size."""
    region, k = governing(assessed)
    node = assessed.nodes[k]
    low, high = ends(assessed.stress[:, node], assessed.worst_plane.normal[k], cycles)
    static = np.maximum(np.abs(low), np.abs(high))
    share = np.divide(high - low, static, out=np.zeros_like(static), where=static > 0.0)
    note = ASK if (high - low).max() < HARDLY * static.max() else ""
    unit, cases = shown_unit("stress", arm.units), list(arm.load_cases)
    x, y, z = (float(value) for value in mesh.points[node])
    for i, often in enumerate(cycles.per_year):
        figures = {"lowest": low[i], "highest": high[i], "range": high[i] - low[i], "static": static[i]}
        yield (
            {"arm": assessed.variant.name, "region": region}
            | at(arm, (x, y, z))
            | {name: float(outside(float(value), unit, "stress")) for name, value in figures.items()}
            | {
                "from_case": cases[cycles.start[i]],
                "to_case": cases[cycles.end[i]],
                "cycles_per_year": float(often),
                "stress_unit": unit,
                "range_over_static": float(share[i]),
                "note": note,
            }
        )


def governing(assessed: Assessed) -> tuple[str, int]:
    """Region and number among the surface's nodes of the place with the least margin, of those at which life is read."""
    number = {node: k for k, node in enumerate(assessed.nodes)}
    places = [(region, number[node]) for region, nodes in assessed.read.items() for node in nodes]
    return min(places, key=lambda one: assessed.life.margin[one[1]])


def ends(stress: Any, normal: Any, cycles: Cycles) -> tuple[Any, Any]:
    """Least and most (k,) normal stress of each cycle, of stress (S, 6) by state on a plane."""
    x, y, z = normal
    across = stress @ np.array([x * x, y * y, z * z, 2.0 * x * y, 2.0 * y * z, 2.0 * z * x])
    first, last = cycles.ends(across)
    return np.minimum(first, last), np.maximum(first, last)
