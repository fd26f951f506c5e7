"""Whether figures of the contact have settled: the same case on a coarser mesh, side by side."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from typing import Any

from params.steps.out_of_range import NOT_SETTLED

COARSER = 1.35  # times the elements of a quarter bore: the step of the refinement without contact
FEWEST = 3  # elements per quarter bore, the least that a file may ask for
ALLOWED = 0.10  # a figure that moves by more from the coarser mesh is not settled (our own limit)
FIGURES = ("contact_arc_deg", "peak_pressure_MPa", "edge_mean_MPa", "peak_middle_MPa")
KEY = ("fits", "bore", "load_case")


def meshes(per_quarter: int) -> tuple[int, int]:
    """Elements per quarter bore of both meshes: the finer is the file's, but where none is coarser the file's is the coarser."""
    coarse = round(per_quarter / COARSER)
    return (coarse, per_quarter) if coarse >= FEWEST else (per_quarter, round(per_quarter * COARSER))


def moved(value: float, before: float) -> bool:
    """Whether a figure went from `before` on the coarser mesh to `value` by more than `ALLOWED`; both endless is no move."""
    if value == before:
        return False
    return not (math.isfinite(value) and math.isfinite(before)) or abs(value - before) > ALLOWED * abs(value)


def side_by_side(
    rows: Sequence[Mapping[str, Any]], before: Sequence[Mapping[str, Any]]
) -> list[dict[str, Any]]:
    """Rows of contact.csv with the coarser mesh's figures beside their own; the status names those that moved."""
    known = {tuple(row[name] for name in KEY): row for row in before}
    joined = []
    for row in rows:
        other = known[tuple(row[name] for name in KEY)]
        off = [name for name in FIGURES if moved(row[name], other[name])]
        status = f"{NOT_SETTLED}: {', '.join(off)}" if off else row["status"]
        joined.append({**row, "status": status} | {f"coarser_{name}": other[name] for name in FIGURES})
    return joined
