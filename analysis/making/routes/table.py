"""Every route at its own best design: `python -m analysis.making.routes.table results/ARM ROUTE...` writes routes.csv.

Reads best.csv of each route and, where it has a design, the summary of its mesh and what it is machined from.
"""

from __future__ import annotations

from pathlib import Path
from typing import Any

from analysis.contracts.summary import Answer, NotBuilt, Summary, read_answer
from analysis.making.routes.blank import blank
from analysis.tables.files import read_row, write_csv
from params.files.read import read_arm
from params.schema.units import show
from params.steps.arguments import arguments
from params.steps.guard import one_line_errors

AFTER = "hand_governing"  # the mesh's columns stand behind this one
NONE = {"blank_mass_kg": None, "blank": None}


def of_route(folder: Path) -> dict[str, Any]:
    """The row of one route."""
    row = read_row(folder / "best.csv")
    result: dict[str, Any] = {}
    mesh = read_answer(folder / "best" / "summary.json") if row["id"] else None
    for name, value in row.items():
        result[name] = value
        if name == "mass_kg":
            result |= blank(folder) if row["id"] else NONE
        if name == AFTER:
            result |= by_mesh(mesh)
    if isinstance(mesh, NotBuilt):
        result["reason"] = mesh.reason
    return result


def by_mesh(answer: Answer | None) -> dict[str, Any]:
    """What the mesh says of a design."""
    built = answer if isinstance(answer, Summary) else None
    return {
        "mesh_margin": built and built.mesh_margin,
        "mesh_governing": built and built.mesh_governing,
        "mesh_mass_kg": built and built.mesh_mass_kg,
        "mesh_state": answer and answer.state,
        "verdict": built and built.verdict,
    }


def main(folder: Path, names: list[str]) -> None:
    units = read_arm(folder / "as-written" / "arm.yaml").units
    rows = [of_route(folder / "making" / name) for name in names]
    write_csv(folder / "making" / "routes.csv", list(rows[0]), rows)
    for row in rows:
        outcome = (
            row["reason"]
            or f"{row['id']}, {show(float(row['mass_kg']), 'mass', units)}, margin by hand {float(row['hand_margin']):+.3f}"
        )
        mesh = f", by mesh {row['mesh_margin']:+.3f}" if row["mesh_margin"] is not None else ""
        print(f"{row['route']}: {outcome}{mesh}")


if __name__ == "__main__":
    with one_line_errors():
        main(*arguments(__doc__, results=Path, routes=[str]))
