"""Which designs of a route's front the mesh is asked for, one after the other, and which of them is the route's best.

`python -m analysis.making.routes.tried next results/ARM/making/ROUTE STEP TRIED...` writes tried/STEP.csv with the design to mesh
next, or with none where the best is known; `... judge results/ARM/making/ROUTE TRIED...` writes tried.csv and best.csv; TRIED are
the tables of the steps so far. The lightest comes first. While none holds, the next is as much stronger by hand as the mesh asks
for; then the step between the heaviest that fails and the lightest that holds is halved. The last try of a material without
success is the strongest of its front. Materials follow each other as they stand in the front, lightest first, and one whose next
design is no lighter than the lightest that holds is passed over: what the mesh sees, such as fatigue, need not follow strength.
"""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import Any

import numpy as np

from analysis.contracts.summary import Answer, NotBuilt, Summary, read_answer
from analysis.tables.columns import system_of
from analysis.tables.files import read_csv, write_csv
from analysis.tables.names import names
from analysis.tables.number import percent
from params.schema.units import System, show
from params.steps.arguments import arguments
from params.steps.guard import one_line_errors

TRIES, MOST = 5, 8  # meshes of one material of a route at most, and of all its materials
LEAST_STEP = 0.02  # in hand margin: a smaller step is within what hand and mesh differ by
COLUMNS = names(
    "route step material id mass_kg hand_margin hand_governing mesh_margin mesh_governing state holds reason"
)
Row = dict[str, str]


def following(hand: Sequence[float], least: dict[int, float | None], last: bool = False) -> int | None:
    """Position in the front to mesh next, or None where it is settled.

    Parameters
    ----------
    hand
        margins by hand of the front, ascending, at least one.
    least
        the smaller of hand and mesh margin of each position that was meshed, as `spare` of the least margin wanted; None where
        there is no mesh of it.
    last
        whether it is the last try.
    """
    if not least:
        return 0
    held = [place for place, margin in least.items() if holds(margin)]
    if not held:
        return stronger(hand, least, last)
    high = min(held)
    low = max((place for place in least if place < high), default=None)
    if low is None or hand[high] - hand[low] <= LEAST_STEP:
        return None
    middle = int(np.searchsorted(hand, (hand[low] + hand[high]) / 2.0))
    return middle if low < middle < high else None


def stronger(hand: Sequence[float], least: dict[int, float | None], last: bool) -> int | None:
    """Beyond all that failed: where 1 + margin is larger by what the mesh lacked, or the strongest at the last try."""
    place, strongest = max(least), len(hand) - 1
    if place == strongest:
        return None
    margin = least[place]
    lacking = 1.0 if margin is None or margin <= -1.0 else 1.0 / (1.0 + margin)
    wanted = max((1.0 + hand[place]) * lacking - 1.0, hand[place] + LEAST_STEP)
    return strongest if last else min(int(np.searchsorted(hand, wanted)), strongest)


def holds(margin: float | None) -> bool:
    return margin is not None and margin >= 0.0


def spare(margin: float | None, wanted: float) -> float | None:
    """Margin on loads that are larger by the margin wanted: 0 where a design has just that."""
    return None if margin is None else (1.0 + margin) / (1.0 + wanted) - 1.0


def least_margin(answer: Answer) -> float | None:
    """The smaller of both margins of a meshed design; None where it could not be meshed."""
    return answer.least_margin if isinstance(answer, Summary) else None


def meshed(place: Path, tables: list[Path]) -> list[tuple[Row, Answer]]:
    """Row of the front and summary of every design chosen so far, in the order of the steps."""
    chosen = [row for table in tables for row in read_csv(table)]
    return [(row, read_answer(place / "designs" / row["id"] / "summary.json")) for row in chosen]


def choose(place: Path, step: int, tables: list[Path]) -> None:
    """Write tried/STEP.csv: the row of the front to mesh at this step (from 0), or none."""
    front = read_csv(place / "front.csv")
    designs = [row for row in front if row["id"]]
    wanted = wanted_of(front[0])
    least = {row["id"]: spare(least_margin(one), wanted) for row, one in meshed(place, tables)}
    chosen = next_of(designs, least, step) if step < MOST else None
    write_csv(place / "tried" / f"{step}.csv", list(front[0]), [] if chosen is None else [chosen])


def next_of(designs: list[Row], least: dict[str, float | None], step: int) -> Row | None:
    """The design to mesh next: of the first material that is not settled and may still give a lighter one; None where none is."""
    held = min(
        (float(row["mass_kg"]) for row in designs if holds(least.get(row["id"]))), default=float("inf")
    )
    for material in dict.fromkeys(row.get("material", "") for row in designs):
        own = [row for row in designs if row.get("material", "") == material]
        known = {place: least[row["id"]] for place, row in enumerate(own) if row["id"] in least}
        if len(known) == TRIES:
            continue
        last = len(known) == TRIES - 1 or step == MOST - 1
        place = following([float(row["hand_margin"]) for row in own], known, last)
        if place is not None and float(own[place]["mass_kg"]) < held:
            return own[place]
    return None


def wanted_of(row: Row) -> float:
    """The least margin wanted of the designs of a front."""
    return float(row["least_margin"])


def judge(place: Path, tables: list[Path]) -> None:
    """Write tried.csv, a row for each meshed design, and best.csv: the lightest that holds, or why none does."""
    (first, *_), designs = read_csv(place / "front.csv"), meshed(place, tables)
    rows = [tried_row(step, row, summary) for step, (row, summary) in enumerate(designs)]
    write_csv(place / "tried.csv", COLUMNS, rows)
    best, units = chosen_of(rows), system_of(first)
    row = next(row for row, _ in designs if row["id"] == best["id"]) if best else nameless(first)
    result, asked = row | {"tried": str(len(rows))}, wanted_text(first)
    if best is None or not best["holds"]:
        result["reason"] = row["reason"] or none_holds(rows, units, asked)
    elif refused := lighter(rows, best, units, asked):
        result["notes"] = "; ".join(filter(None, (row["notes"], refused)))
    write_csv(place / "best.csv", [*first, "tried"], [result])
    print(
        f"{result['route']}: {result['id'] or 'no design'} chosen from {len(rows)} meshed designs;"
        f" {result['reason'] or result['notes']}"
    )


def tried_row(step: int, row: Row, answer: Answer) -> dict[str, Any]:
    """One row of tried.csv."""
    kept = ("route", "material", "id", "mass_kg", "hand_margin", "hand_governing")
    return {
        **{name: row.get(name, "") for name in kept},
        "step": step,
        "mesh_margin": answer.mesh_margin,
        "mesh_governing": answer.mesh_governing if isinstance(answer, Summary) else None,
        "state": answer.state,
        "holds": holds(spare(least_margin(answer), wanted_of(row))),
        "reason": answer.reason if isinstance(answer, NotBuilt) else "",
    }


def chosen_of(rows: list[dict[str, Any]]) -> dict[str, Any] | None:
    """The lightest that holds; where none does, the one that lacks least; None where none has a mesh."""
    if held := [row for row in rows if row["holds"]]:
        return min(held, key=lambda row: float(row["mass_kg"]))
    known = [row for row in rows if row["mesh_margin"] is not None]
    return max(known, key=lambda row: row["mesh_margin"], default=None)


def nameless(row: Row) -> Row:
    """A row of the front without its design."""
    own = row.keys() - {"id", "mass_kg", "hand_margin", "hand_governing"}
    return {
        name: value if name in own and not name.endswith(("_mm", "_in")) else ""
        for name, value in row.items()
    }


def wanted_text(row: Row) -> str:
    """What the mesh has to show, in words."""
    wanted = wanted_of(row)
    return f"the margin of {percent(wanted)} by mesh" if wanted else "a margin of 0 by mesh"


def lighter(rows: list[dict[str, Any]], best: dict[str, Any], units: System, asked: str) -> str:
    """What became of the designs that are lighter than the best, in a line."""
    light = [row for row in rows if not row["holds"] and float(row["mass_kg"]) < float(best["mass_kg"])]
    return (
        f"lighter designs pass the hand checks and do not reach {asked}: {', '.join(lacks(row, units) for row in light)}"
        if light
        else ""
    )


def none_holds(rows: list[dict[str, Any]], units: System, asked: str) -> str:
    return (
        f"none of {len(rows)} meshed designs reaches {asked}: {', '.join(lacks(row, units) for row in rows)}"
    )


def lacks(row: dict[str, Any], units: System) -> str:
    """What a design lacks by mesh."""
    if row["mesh_margin"] is None:
        return f"{row['id']} ({row['reason']})"
    return f"{row['id']} ({show(float(row['mass_kg']), 'mass', units)}, {row['mesh_margin']:+.3f}, {row['mesh_governing']})"


def main(command: str, folder: str, *given: str) -> None:
    if command == "next":
        choose(Path(folder), int(given[0]), [Path(name) for name in given[1:]])
    else:
        judge(Path(folder), [Path(name) for name in given])


if __name__ == "__main__":
    with one_line_errors():
        command, folder, given = arguments(
            __doc__, command=("next", "judge"), folder=str, step_and_tables=[str]
        )
        main(command, folder, *given)
