"""Weight against least margin: which designs are not dominated, which of them to mesh, which one to recommend.

`python -m analysis.sweep.front choose results/ARM` picks the designs to confirm; `judge` puts hand and mesh margin of the
meshed ones side by side and names the lightest that has the least margin wanted by both.
"""

from __future__ import annotations

from collections import Counter
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from analysis.contracts.recommended import NoneRecommended, Recommended
from analysis.contracts.summary import Answer, NotBuilt, Summary, read_answer, read_summary
from analysis.tables.files import read_csv, write_csv, write_json
from analysis.tables.number import percent
from params.files.read import read_arm
from params.steps.arguments import arguments
from params.steps.guard import one_line_errors

REACH = 0.6  # margin up to which designs are meshed: beyond it the arm is heavier than needed


def non_dominated(mass: NDArray[np.float64], margin: NDArray[np.float64]) -> NDArray[np.intp]:
    """Indices of the designs that no other beats in both mass (less) and margin (more), lightest first.

    Of designs with equal mass the one with the larger margin stays; equal in both, the first.
    """
    order = np.lexsort((-margin, mass))
    best = np.maximum.accumulate(np.concatenate([[-np.inf], margin[order][:-1]]))
    return order[margin[order] > best]


def worth_a_mesh(margin: NDArray[np.float64], count: int) -> NDArray[np.intp]:
    """Positions in the front (lightest first, so margin ascending) of `count` designs, close together near the least margin."""
    low, reach = float(margin[0]), min(REACH, float(margin[-1]))
    targets = low + max(reach - low, 0.0) * (np.arange(count) / max(count - 1, 1)) ** 2
    first = np.searchsorted(margin, targets, side="left")
    return np.unique(np.minimum(first, len(margin) - 1))


def feasible_front(table: list[dict[str, str]]) -> list[dict[str, str]]:
    """The feasible, non-dominated rows of designs.csv, lightest first."""
    rows = [row for row in table if row["feasible"] == "yes"]
    if not rows:
        return []
    mass = np.array([float(row["mass_kg"]) for row in rows])
    margin = np.array([float(row["min_margin"]) for row in rows])
    return [rows[index] for index in non_dominated(mass, margin)]


def choose(folder: Path) -> None:
    """Write sweep/chosen.csv: the front's designs that will be meshed."""
    table = read_csv(folder / "sweep" / "designs.csv", 1)
    front = feasible_front(table)
    count = read_arm(folder / "as-written" / "arm.yaml").sweep.confirm
    margins = np.array([float(row["min_margin"]) for row in front])
    chosen = [front[index] for index in worth_a_mesh(margins, count)] if front else []
    write_csv(folder / "sweep" / "chosen.csv", list(table[0]), chosen)


def judge(folder: Path) -> None:
    """Write sweep/front.csv with hand and mesh margin side by side, and sweep/recommended.json."""
    table = read_csv(folder / "sweep" / "designs.csv", 1)
    front = feasible_front(table)
    confirmed = {
        row["id"]: summary_of(folder, row["id"]) for row in read_csv(folder / "sweep" / "chosen.csv")
    }
    columns = [name for name in table[0] if name not in ("feasible", "reason", "min_margin", "governing")]
    rows = [
        {name: row[name] for name in columns} | side_by_side(row, confirmed.get(row["id"])) for row in front
    ]
    write_csv(
        folder / "sweep" / "front.csv", [*columns, *side_by_side(dict.fromkeys(table[0], ""), None)], rows
    )
    write_json(folder / "sweep" / "recommended.json", recommend(folder, table, confirmed))


def summary_of(folder: Path, identifier: str) -> Answer:
    return read_answer(folder / "designs" / identifier / "summary.json")


def side_by_side(row: dict[str, str], mesh: Answer | None) -> dict[str, object]:
    """Hand margin from the sweep, mesh margin from the design's own summary (empty where it was not meshed)."""
    built = mesh if isinstance(mesh, Summary) else None
    return {
        "hand_margin": row["min_margin"],
        "hand_governing": row["governing"],
        "mesh_margin": built and built.mesh_margin,
        "mesh_governing": built and built.mesh_governing,
        "mesh_mass_kg": built and built.mesh_mass_kg,
        "state": mesh.state if mesh else "not meshed",
        "reason": mesh.reason if isinstance(mesh, NotBuilt) else "",
    }


def recommend(
    folder: Path, table: list[dict[str, str]], confirmed: dict[str, Answer]
) -> Recommended | NoneRecommended:
    """The lightest meshed design whose hand and mesh margins are both at least what the arm's file wants."""
    wanted = read_arm(folder / "as-written" / "arm.yaml").criteria.least_margin
    written = read_summary(folder / "as-written" / "summary.json")
    for row in feasible_front(table):
        mesh, mass, by_hand = confirmed.get(row["id"]), float(row["mass_kg"]), float(row["min_margin"])
        if isinstance(mesh, Summary) and min(mesh.mesh_margin, by_hand) >= wanted:
            return Recommended(
                id=row["id"],
                mass_kg=mass,
                saved_kg=written.mass_kg - mass,
                saved_percent=100.0 * (written.mass_kg - mass) / written.mass_kg,
                hand_margin=by_hand,
                hand_governing=row["governing"],
                mesh_margin=mesh.mesh_margin,
                mesh_governing=mesh.mesh_governing,
                sizes_mm=mesh.sizes_mm,
                explain=mesh.explain,
            )
    return NoneRecommended(reason=why_none(table, wanted))


def why_none(table: list[dict[str, str]], wanted: float = 0.0) -> str:
    """Why no design is recommended: what most designs fail by, or why most could not be built or judged."""
    if any(row["feasible"] == "yes" for row in table):
        least = f"a margin of {percent(wanted)}" if wanted else "no negative margin"
        return f"no meshed design has {least} by hand and by mesh; widen the sweep ranges"
    judged = [row for row in table if row["min_margin"]]
    reason, count = Counter(row["reason"] for row in judged or table).most_common(1)[0]
    if judged:
        return f"none of {len(judged):,} swept designs holds by hand: {reason} ({count:,} of them)"
    return f"none of {len(table):,} swept designs can be built and judged: {reason} ({count:,} of them)"


if __name__ == "__main__":
    with one_line_errors():
        command, results = arguments(__doc__, command=("choose", "judge"), results=Path)
        {"choose": choose, "judge": judge}[command](results)
