"""A row of the comparison: a quantity by hand and by mesh, what the terms of the theory add, and what is left."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any

from analysis.tables.beside import TERMS
from params.schema.units import System, outside, shown_unit

COLUMNS = [
    "quantity",
    "place",
    "load_case",
    "hand",
    "mesh",
    "unit",
    "difference_percent",
    "allowed_percent",
    "verdict",
    "note",
    "simple",
    *TERMS,
    "left",
    "allowed_below_percent",
]
UNREAD = "cannot be read from the mesh here"
Row = dict[str, Any]


@dataclass(frozen=True)
class Allowed:
    """Percent by which the mesh may be larger in size than the hand value, and why; smaller by `below`, else by as much."""

    above: float
    why: str
    below: float | None = None

    @property
    def under(self) -> float:
        return self.above if self.below is None else self.below


@dataclass(frozen=True)
class Theory:
    """A hand value: bending theory, or whatever is usual, and what further terms add to it, by their column."""

    simple: float
    terms: dict[str, float] = field(default_factory=dict)

    @property
    def value(self) -> float:
        return self.simple + sum(self.terms.values())


def row(
    quantity: str,
    place: str,
    case: str,
    hand: float | Theory,
    mesh: float | None,
    unit: str,
    allowed: Allowed,
    scale: float | None = None,
) -> Row:
    """One comparison; the difference is a share of `scale` (of the hand value where left out), positive where the mesh is larger
    in size."""
    theory = hand if isinstance(hand, Theory) else Theory(hand)
    head = {
        "quantity": quantity,
        "place": place,
        "load_case": case,
        "hand": theory.value,
        "mesh": mesh,
        "unit": unit,
    }
    terms = {"simple": theory.simple} | {name: theory.terms.get(name) for name in TERMS}
    terms["left"] = None if mesh is None else mesh - theory.value
    bounds = {"allowed_percent": allowed.above, "allowed_below_percent": allowed.under}
    if mesh is None:
        said = {"difference_percent": None, "verdict": "explain", "note": UNREAD}
    else:
        base = abs(theory.value) if scale is None else scale
        sign = -1.0 if theory.value < 0.0 else 1.0
        difference = 100.0 * sign * (mesh - theory.value) / base if base else 100.0 * mesh
        fits = -allowed.under <= difference <= allowed.above
        said = {
            "difference_percent": difference,
            "verdict": "agrees" if fits else "explain",
            "note": allowed.why,
        }
    whole = head | terms | bounds | said
    return {name: whole[name] for name in COLUMNS}


def in_units(
    quantity: str,
    place: str,
    case: str,
    hand: float | Theory,
    mesh: float | None,
    kind: str,
    units: System,
    allowed: Allowed,
    scale: float | None = None,
) -> Row:
    """A comparison of quantities with a unit, shown in the arm's units."""
    unit = shown_unit(kind, units)
    made = row(quantity, place, case, hand, mesh, unit.replace("*", " "), allowed, scale)
    values = {name: made[name] for name in ("hand", "mesh", "simple", *TERMS, "left")}
    return made | {
        name: None if value is None else outside(value, unit, kind) for name, value in values.items()
    }
