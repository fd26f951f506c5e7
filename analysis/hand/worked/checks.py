"""The working of a check at its worst position and station."""

from __future__ import annotations

import numpy as np

from analysis.contracts.workings import CheckWorking
from analysis.hand.evaluate import Hand, Row
from analysis.hand.worked.working import working
from analysis.mechanics.internal_forces import FACE


def worked(hand: Hand, row: Row) -> CheckWorking:
    """Given numbers and lines of one row of checks.csv; the last lines are demand, capacity and margin."""
    clause = row.check.clause
    values = row.symbols | (stress_parts(hand, row) if clause.check == "combined stress" else {})
    sides = {
        "demand": (clause.what, clause.kind),
        "capacity": ("allowed", clause.kind),
        "margin": ("margin", "-"),
    }
    lines = (*clause.working, *(["margin = capacity/demand - 1"] if row.demand > 0.0 else []))
    kinds = {**clause.symbols, **sides}
    given = {name: value for name, value in values.items() if name in clause.symbols}
    known = {"demand": row.demand, "capacity": row.capacity}
    return CheckWorking(
        check=clause.check,
        place=row.check.place,
        load_case=row.load_case,
        **dict(working(lines, given, kinds, hand.response.arm.units, known)),
    )


def spot(hand: Hand, row: Row) -> tuple[int, int]:
    """Indices of load case and position of a row."""
    case = list(hand.response.arm.load_cases).index(row.load_case)
    return case, int(np.argmin(np.abs(hand.response.statics.fraction[case] - (row.fraction or 0.0))))


def stress_parts(hand: Hand, row: Row) -> dict[str, float]:
    """Internal forces and stresses per unit of them, at the point where the equivalent stress is largest."""
    case, position = spot(hand, row)
    limb = next(limb for limb in hand.response.limbs if row.check.place == f"{limb.name} arm")
    station = int(limb.worst.station[0, case, position])
    point = int(limb.worst.point[0, case, position])
    forces, stress = limb.forces, limb.part.points
    names = {"N": "n", "M3": "m3", "M2": "m2", "T": "t", "V": "web", "V3": "v3"}
    acting = {
        symbol: float(getattr(forces, name)[0, case, position, station]) for symbol, name in names.items()
    }
    by_force = {"w3": stress.m3, "w2": stress.m2, "v2": stress.v2, "v3": stress.v3, "vT": stress.t}
    return (
        acting
        | {symbol: float(value[0, station, point]) for symbol, value in by_force.items()}
        | {"A": float(limb.part.area[0, station]), "wT": float(limb.warp[0, station]) if point == 0 else 0.0}
        | {"kf": float(limb.face[0, 0]) if point < FACE else 1.0}
    )
