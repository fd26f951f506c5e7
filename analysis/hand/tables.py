"""Tables of the hand calculation in the arm's units: checks.csv, stroke.csv, stations.csv, substitutions.json."""

from __future__ import annotations

from typing import Any

import numpy as np

from analysis.contracts.workings import Substitution, Symbol
from analysis.hand.evaluate import Hand, Row
from analysis.hand.stations import stations_of
from analysis.hand.worst import governing_position, unbalanced
from analysis.tables.quantity import in_units, shown
from params.schema.units import System

COLUMNS = ("check", "place", "load_case", "demand", "capacity", "unit", "margin", "clause", "status", "note")


def for_people(row: Row, units: System) -> dict[str, Any]:
    """A row of checks.csv."""
    clause = row.check.clause
    demand, unit = shown(row.demand, clause.kind, units)
    return {
        "check": clause.check,
        "place": row.check.place,
        "load_case": row.load_case,
        "demand": demand,
        "capacity": shown(row.capacity, clause.kind, units)[0],
        "unit": unit,
        "margin": row.margin,
        "clause": clause.reference,
        "status": row.status,
        "note": "; ".join(filter(None, (row.note, where(row, units)))),
    }


def where(row: Row, units: System) -> str:
    """Position of the swing and station, as text."""
    parts = []
    if row.fraction is not None:
        parts.append(f"at {100.0 * row.fraction:.1f} % of the swing")
    if row.station is not None:
        value, unit = shown(row.station, "length", units)
        parts.append(f"{value:.{1 if units == 'si' else 2}f} {unit} from the pivot")
    return ", ".join(parts)


def substitution(row: Row, units: System) -> Substitution:
    """What a record prints of a row: equation, symbols with meaning, number and unit, result."""
    clause = row.check.clause
    symbols = []
    for name, value in row.symbols.items():
        meaning, kind = clause.symbols.get(name, (name, "-"))
        number, unit = shown(value, kind, units)
        symbols.append(Symbol(symbol=name, meaning=meaning, value=number, unit=unit))
    return Substitution(
        **for_people(row, units),
        what=clause.what,
        equation=clause.equation,
        limits=clause.limits,
        symbols=tuple(symbols),
    )


def stroke_rows(hand: Hand) -> list[dict[str, Any]]:
    """Forces in every load case over the swing."""
    now, units = hand.response.statics, hand.response.arm.units
    left = unbalanced(hand)
    rows = []
    for c, case in enumerate(hand.response.arm.load_cases):
        for p, fraction in enumerate(now.fraction[c]):
            numbers = in_units(
                units,
                phi=(now.phi[c, p], "angle"),
                cylinder_length=(now.cylinder_length[c, p], "length"),
                cylinder_force=(now.cylinder[0, c, p], "force"),
                pressure=(now.pressure[0, c, p], "stress"),
                load=(now.load[0, c, p], "force"),
                input_pin=(np.hypot(*now.input[:2, 0, c, p]), "force"),
                output_pin=(np.hypot(*now.output[:2, 0, c, p]), "force"),
                pivot=(np.hypot(*now.pivot[:2, 0, c, p]), "force"),
                side=(now.pivot[2, 0, c, p], "force"),
                friction=(now.pivot_moment[2, 0, c, p], "moment"),
            )
            rows.append({"load_case": case, "fraction": fraction, **numbers, "residual": left[c, p]})
    return rows


def station_rows(hand: Hand) -> list[dict[str, Any]]:
    """Internal forces and stresses along both arms at each case's governing position."""
    units, rows = hand.response.arm.units, []
    for c, (case, p) in enumerate(zip(hand.response.arm.load_cases, governing_position(hand), strict=True)):
        for limb in hand.response.limbs:
            for station in stations_of(hand, limb, c, int(p)):
                kinds = {name: (getattr(station, name), kind) for name, kind in STATION_KINDS.items()}
                head = {"arm": limb.name, "load_case": case, "fraction": hand.response.statics.fraction[c, p]}
                rows.append(head | in_units(units, **kinds) | {"worst_point": station.worst_point})
    return rows


STATION_KINDS = {
    "s": "length",
    "depth": "length",
    "N": "force",
    "V2": "force",
    "V3": "force",
    "M2": "moment",
    "M3": "moment",
    "T": "moment",
    "sigma_plus": "stress",
    "sigma_minus": "stress",
    "tau_web": "stress",
    "normal": "stress",
    "shear": "stress",
    "equivalent": "stress",
}
