"""Rows of resultants.csv and verify.csv as text: how much of its allowance a difference uses, and which rows to show.

In verify.csv the allowance is one upward, another downward.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

Row = dict[str, str]
SHOWN = 10
STATICS = (
    "quantity",
    "place",
    "load_case",
    "hand",
    "by_nodes",
    "by_stress",
    "unit",
    "by_nodes_percent",
    "by_stress_percent",
)
TERMS = ("varying_shear", "slope", "knee", "hub")  # columns of what further terms add to the simple theory
THEORY = (
    "quantity",
    "place",
    "load_case",
    "simple",
    *TERMS,
    "mesh",
    "left",
    "unit",
    "difference_percent",
    "verdict",
)


def allowed(row: Row) -> float:
    """Allowance, percent, on the side of the difference."""
    below = float(row["difference_percent"] or 0.0) < 0.0
    return float(row["allowed_below_percent" if below else "allowed_percent"])


def excess(row: Row) -> float:
    """Difference over what is allowed; infinite where the mesh could not be read.

    >>> row = {"difference_percent": "-5", "allowed_percent": "2", "allowed_below_percent": "10"}
    >>> excess(row), excess(row | {"difference_percent": "5"}), excess(row | {"difference_percent": ""})
    (0.5, 2.5, inf)
    """
    return abs(float(row["difference_percent"] or "inf")) / allowed(row)


def by_place(rows: Iterable[Row]) -> list[Row]:
    """For each quantity and place the load case that uses its allowance most, the largest use first."""
    worst: dict[tuple[str, str], Row] = {}
    for row in rows:
        key = row["quantity"], row["place"]
        if key not in worst or excess(row) > excess(worst[key]):
            worst[key] = row
    return sorted(worst.values(), key=excess, reverse=True)


def with_terms(rows: Iterable[Row]) -> list[Row]:
    """Stresses by simple theory, what the terms add, the mesh and what is left: the ten places that use most of their allowance."""
    return [row for row in by_place(rows) if any(row[name] for name in TERMS)][:SHOWN]


def statics(rows: Sequence[Row]) -> list[Row]:
    """Of the section forces of each arm the section and load case with the largest difference."""
    worst: dict[tuple[str, str], Row] = {}
    for row in rows:
        key = row["place"].split(" arm")[0], row["quantity"]
        if key not in worst or abs(float(row["by_nodes_percent"])) > abs(
            float(worst[key]["by_nodes_percent"])
        ):
            worst[key] = row
    return list(worst.values())
