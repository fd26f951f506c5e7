"""A value out of a formula's range becomes a row with its reason, wherever it is one of several.

One material, crack, place, route or design that a solution does not hold for says so in its own row, in the arm's units; the
others are judged as ever. Only `OutOfRange` is taken so: anything else is a fault of the program or of a file and is raised.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, TypeVar

from params.steps.problems import OutOfRange, System

STATUS = "out of range"
NOT_SETTLED = "not settled"  # a figure that moves from a mesh to a finer one by more than its allowance
NOT_GOVERNED = (
    "not governed by growth; workmanship limits apply"  # of an interval that growth does not ask for
)
BOUND = "conservative bound: "  # begins what stands in for a value out of range
T = TypeVar("T")
Row = dict[str, Any]


def or_reason(units: System, compute: Callable[[], T]) -> tuple[T | None, str]:
    """What `compute` gives and an empty text, or None and why a value is out of its formula's range."""
    try:
        return compute(), ""
    except OutOfRange as error:
        return None, error.message(units)


def out_of_range(known: Row, reason: str) -> Row:
    """A row that says why it has no figures; what its note held before stays behind the reason."""
    return known | {"status": STATUS, "note": joined(reason, known.get("note", ""))}


def joined(*notes: str) -> str:
    """Notes that say something, in one line."""
    return "; ".join(filter(None, notes))


def by_bound(reason: str, bound: str) -> str:
    """A reason, and the conservative bound that stands in for what it refuses.

    >>> by_bound("Charpy energy 2.0 J is outside 3.0 to 400.0 J", "the lower shelf, 20 MPa m0.5")
    'Charpy energy 2.0 J is outside 3.0 to 400.0 J; conservative bound: the lower shelf, 20 MPa m0.5'
    """
    return f"{reason}; {BOUND}{bound}"
