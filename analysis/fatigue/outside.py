"""The band of stresses without contact, as life counts it: convergence.csv has their peaks mesh by mesh.

Outside the bores the contact's two meshes are not all that is known: the arm without its pins is solved on more and finer meshes.
Their peak there says how far its stress may be off, and a life is told at that stress too. Years that move by over
`settled.YEARS`, or a margin whose stress moves by over `settled.STRESS`, to the value of another of the last meshes are not
settled. What keeps its figure gets the band of the years between the stress and its own band. A life without end must stay so at
the band. A bore whose contact was not solved stands on these meshes as well.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import partial
from pathlib import Path
from typing import Any

import numpy as np

from analysis.elastic.mesh import Mesh
from analysis.elastic.richardson import FEW
from analysis.fatigue.cycles import year
from analysis.fatigue.in_surface import seated
from analysis.fatigue.settled import STRESS, YEARS, both, left_out, place, steady
from analysis.fatigue.spread import lives
from analysis.fatigue.stresses import SOLVED
from analysis.fatigue.table import Assessed
from analysis.tables.files import read_csv
from params.schema.arm import Arm
from params.steps.out_of_range import STATUS

ONE_MESH = "one mesh"  # nothing says whether the figure has settled
OUTSIDE = "outside"
LifeAt = Callable[[float], tuple[float, float]]  # factor on the stress: years and margin
Row = Mapping[str, Any]


@dataclass(frozen=True)
class Series:
    """Peaks of a surface without contact, MPa, from the coarsest mesh on, and the band of the last as a share."""

    peaks: tuple[float, ...]
    band: float

    @property
    def others(self) -> list[float]:
        """Peaks of the last meshes but the finest over that of the finest, the one farthest from it first."""
        shares = [peak / self.peaks[-1] for peak in self.peaks[-FEW:-1]]
        return sorted(shares, key=lambda share: -abs(share - 1.0))


def series(folder: Path, surface: str) -> Series | None:
    """What convergence.csv of an arm says of a surface; None where there is one mesh."""
    path = folder / "convergence.csv"
    rows = [row for row in read_csv(path) if row["place"] == surface] if path.exists() else []
    if len(rows) < 2 or not rows[-1]["band_percent"]:
        return None
    return Series(tuple(float(row["peak_MPa"]) for row in rows), float(rows[-1]["band_percent"]) / 100.0)


def banded(
    folder: Path, arm: Arm, own: Iterable[Row], mesh: Mesh, assessed: Assessed
) -> Iterator[dict[str, Any]]:
    """Rows of one variant with the band of the stresses without contact, where they rest on these."""
    for row in own:
        if row["status"] == STATUS:
            yield dict(row)
            continue
        rests = row["region"] == OUTSIDE or assessed.source != SOLVED
        known = series(folder, row["region"]) if rests else None
        told = with_band(row, known, partial(life_at, arm, mesh, assessed, row)) if known else dict(row)
        yield {"settled": ONE_MESH, "years_least": row["years"], "margin_least": row["margin"]} | told


def life_at(arm: Arm, mesh: Mesh, assessed: Assessed, row: Row, factor: float) -> tuple[float, float]:
    """Years and margin at a row's place, were all its stresses so many times as large."""
    node = [int(np.argmin(((mesh.points - place(row)) ** 2).sum(axis=1)))]
    stress = seated(assessed.stress, arm, mesh) * factor
    one = lives(arm, stress, node, year(arm, arm.bores), assessed.curves)
    return float(one.years[0]), float(one.margin[0])


def with_band(row: Row, known: Series, at: LifeAt) -> dict[str, Any]:
    """The row with what the meshes without contact say of its years and margin."""
    years, margin = at(1.0)
    trials = [at(other) for other in known.others]
    other_years, other_margin = trials[0]  # both go with the stress: the farthest moves most
    low_years, _ = at(1.0 + known.band)
    high_years, _ = at(1.0 - known.band)
    result = {**row, "peak_band_percent": 100.0 * known.band}
    words = f"at another mesh's stress ({100.0 * (known.others[0] - 1.0):+.2g} %)"
    if math.isinf(years) and math.isfinite(low_years):
        other_years, words = low_years, f"at the stress and its band (+{100.0 * known.band:.2g} %)"
    sure = steady([1.0 + other_margin, 1.0 + margin], STRESS)
    certain = steady([other_years, years], YEARS)
    result["years_least"] = min(
        other_years, years, row.get("years_least", math.inf), *(one for one, _ in trials)
    )
    result["margin_least"] = min(margin, row.get("margin_least", math.inf), *(one for _, one in trials))
    for figure, holds, form, values in (
        ("years", certain, "{:.3g}", [other_years, years]),
        ("margin", sure, "{:+.0f} %", [100.0 * other_margin, 100.0 * margin]),
    ):
        if not holds and result[figure] != "":
            result = left_out(result, figure, both(values, form, (words, "as solved")))
    if result["margin"] != "":
        wider(result, "stress_band_percent", 100.0 * known.band)
    if result["years"] != "" and math.isfinite(years):
        off = [abs(one - years) / years for one in (low_years, high_years) if math.isfinite(one)]
        wider(result, "years_band_percent", 100.0 * max(off))
    return {"settled": "yes"} | result


def wider(row: dict[str, Any], name: str, percent: float) -> None:
    """The larger of the band that a row has and this one."""
    row[name] = max(float(row.get(name) or 0.0), percent)
