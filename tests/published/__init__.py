"""Values from outside: `case("A82")` gives one of them with its source. Every csv beside this file is read.

Provenance: F seen in a public page or file, M from memory, C computed from a classical closed form, FE independent
finite-element run; combinations with +. F* seen in excerpts only.
"""

from __future__ import annotations

import csv
from dataclasses import dataclass
from functools import cache
from pathlib import Path


@dataclass(frozen=True)
class Case:
    """One published value."""

    id: str
    title: str
    inputs: str
    expected: float
    unit: str
    tolerance: str
    formula: str
    source: str
    provenance: str


@cache
def cases() -> dict[str, Case]:
    """Every case by its id; the same id twice must be the same case."""
    found: dict[str, Case] = {}
    for path in sorted(Path(__file__).parent.glob("*.csv")):
        with path.open(newline="") as file:
            for row in csv.DictReader(file):
                made = Case(
                    **{name: row.get(name, "") for name in Case.__annotations__}
                    | {"expected": float(row["expected"])}
                )
                if found.setdefault(made.id, made).expected != made.expected:
                    raise ValueError(f"{path.name}: {made.id} stands elsewhere with another value")
    return found


def case(identifier: str) -> Case:
    """The case of this id."""
    return cases()[identifier]
