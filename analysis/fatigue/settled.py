"""Whether a life has settled: the same place on a coarser mesh, and the band that follows.

Lives go with a power of the stress: what moves by more than `ALLOWED` from the coarser mesh to the finer is no figure; both values
are told instead. What moves less has a band (`elastic.richardson`, by the size of the elements at the place). Two values may
meet by chance: the change that the band is made of is at least the median change of all places of the arm.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from typing import Any

import numpy as np

from analysis.elastic.mesh import Mesh
from analysis.elastic.richardson import band, size_at
from analysis.fatigue.damage import Life
from params.schema.units import inside
from params.steps.arrays import Floats
from params.steps.out_of_range import NOT_SETTLED

SETTLED = (
    "settled",
    "years_by_mesh",
    "years_band_percent",
    "margin_by_mesh",
    "stress_band_percent",
    "peak_band_percent",
    "years_least",
    "margin_least",
)
REST = {  # what rests on a figure, and goes with it
    "years": ("utilisation", "years_fretting_", "years_interference_", "years_band_percent"),
    "margin": ("allowable_range", "margin_fretting_", "margin_interference_", "stress_band_percent"),
}
MESHES = ("on the coarser mesh", "on the finer")
YEARS, STRESS = 0.10, 0.05  # most that years and the stress that is allowed may move (our own limits)


def told(
    row: Mapping[str, Any],
    sizes: list[float],
    years: list[float],
    margins: list[float],
    usual: tuple[float, float] = (0.0, 0.0),
) -> dict[str, Any]:
    """The row of life.csv with what two meshes say of it: years and margins on the coarser mesh and on the finer, element sizes
    there in mm, `usual` changes as `typical` gives them.

    A figure that has not settled is left out, and all that rests on it; `years_least` and `margin_least` are the less favourable of
    the values, for what has to go on with one.
    """
    result = dict(row)
    known = steady(years, YEARS)
    reserves = [1.0 + margin for margin in margins]
    sure = steady(reserves, STRESS)
    result |= {"settled": "yes" if known and sure else "no"}
    result |= {
        "years_by_mesh": both(years, "{:.3g}"),
        "margin_by_mesh": both([100.0 * m for m in margins], "{:+.0f} %"),
    }
    result |= {"years_least": min(years), "margin_least": min(margins)}
    if known and math.isfinite(years[-1]):
        result["years_band_percent"] = band_of(sizes, years, usual[0])
    if sure and math.isfinite(reserves[-1]):
        result["stress_band_percent"] = band_of(sizes, reserves, usual[1])
    if not known:
        result = left_out(result, "years", result["years_by_mesh"])
    if not sure:
        result = left_out(result, "margin", result["margin_by_mesh"])
    return result


def band_of(sizes: list[float], values: list[float], usual: float) -> float:
    """Band of the last of two values in percent, of no less a change than the usual one."""
    first, last = values
    change = max(abs(first - last), usual * abs(last))
    return 100.0 * (band(sizes, [last + change, last]).band or 0.0)


def typical(pairs: Sequence[list[list[float]]]) -> tuple[float, float]:
    """Median change of years and of stress from mesh to mesh, as shares, over all places with figures (years, margins)."""
    years = [share(*values) for values, _ in pairs if all(map(math.isfinite, values))]
    stress = [share(1.0 + a, 1.0 + b) for _, (a, b) in pairs if math.isfinite(a) and math.isfinite(b)]
    return tuple(float(np.median(some)) if some else 0.0 for some in (years, stress))  # type: ignore[return-value]


def share(first: float, last: float) -> float:
    return abs(first - last) / abs(last)


def left_out(row: Mapping[str, Any], figure: str, values: str) -> dict[str, Any]:
    """The row without a figure (years or margin) that has not settled and all that rests on it; its values in words."""
    result = dict(row) | {name: "" for name in row if name.startswith(REST[figure])}
    result |= {figure: "", f"{figure}_by_mesh": values, "settled": "no"}
    if figure == "margin":
        result["status"] = NOT_SETTLED
    return result | {"note": noted(result, f"{figure} {NOT_SETTLED}: {values}")}


def steady(values: list[float], allowed: float) -> bool:
    """Whether the last of two values differs from the first by at most a share `allowed`; both endless is steady."""
    first, last = values
    if first == last:
        return True
    return math.isfinite(first) and math.isfinite(last) and abs(last - first) <= allowed * abs(last)


def both(values: list[float], form: str, words: tuple[str, str] = MESHES) -> str:
    """Both values in words, the coarser mesh first."""
    first, last = (form.format(value) if math.isfinite(value) else "no damage" for value in values)
    return f"{first} {words[0]}, {last} {words[1]}"


def noted(row: Mapping[str, Any], text: str) -> str:
    return "; ".join(filter(None, (row.get("note", ""), text)))


def nearby(
    row: Mapping[str, Any],
    earlier: Sequence[Floats],
    mesh: Mesh,
    numbers: Any,
    nodes: Any,
    lives: Life,
    apart: float,
) -> tuple[float, float] | None:
    """Years and margin of the worst node within `apart` mm of the row's place and nearer to it than to the region's worse places
    `earlier` in the table: of `nodes` of a mesh, whose lives stand at `numbers` of `lives`; None where there is no node."""
    points = mesh.points[nodes]
    away = np.linalg.norm(points - place(row), axis=1)
    close = away <= apart
    for other in earlier:
        close &= np.linalg.norm(points - other, axis=1) > away
    if not close.any():
        return None
    own = numbers[close]
    worst = own[int(np.argmin(lives.margin[own]))]
    return float(lives.years[worst]), float(lives.margin[worst])


def place(row: Mapping[str, Any]) -> Floats:
    """Where a row of life.csv lies (3,), mm."""
    return np.array([inside(float(row[axis]), row["length_unit"], "length") for axis in "xyz"])


def sizes_at(row: Mapping[str, Any], coarser: Mesh, finer: Mesh) -> list[float]:
    """Element sizes at a row's place on both meshes, mm."""
    return [size_at(mesh, place(row)) for mesh in (coarser, finer)]
