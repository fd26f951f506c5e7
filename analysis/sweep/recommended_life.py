"""Years to a crack of the recommended design: `python -m analysis.sweep.recommended_life results/ARM` writes sweep/life.csv.

The field goes to designs/ID/bores/life.vtu. The pins' contact is not solved for a design: its bores carry the half-cosine
pressures of its mesh, an interference fit its ring stress on top, which is the safe side. Without a recommended design, or a
section `bores` in the arm's file, the table has no rows.
"""

from __future__ import annotations

from functools import partial
from pathlib import Path
from typing import Any

from analysis.contracts.recommended import read_recommended
from analysis.elastic.mesh import Mesh
from analysis.fatigue.cycles import year
from analysis.fatigue.outside import banded
from analysis.fatigue.stresses import mesh_file
from analysis.fatigue.table import COLUMNS, assess, fields, head, rows
from analysis.fatigue.variants import this_arm
from analysis.tables.files import write_cautioned
from geometry.meshfile import read_mesh, write_vtu
from params.files.read import read_arm, read_material
from params.steps.arguments import arguments
from params.steps.guard import one_line_errors
from params.steps.out_of_range import or_reason, out_of_range


def lives(place: Path) -> list[dict[str, Any]]:
    """The worst places of every region of the design in `place`, its field written beside it."""
    arm = read_arm(place / "arm.yaml")
    if arm.bores is None:
        return []
    arrays = read_mesh(mesh_file(place))
    mesh, this = Mesh.of(arrays), this_arm(arm, read_material(arm.material, arm.library))
    assessed, reason = or_reason(arm.units, partial(assess, place, arm, arm.bores, mesh, this))
    if assessed is None:
        return [out_of_range(head(this, "outside", "all surfaces"), reason) | {"arm": place.name}]
    (place / "bores").mkdir(exist_ok=True)
    write_vtu(place / "bores" / "life.vtu", arrays, fields(mesh, [assessed]), {})
    own = rows(arm, arm.bores, mesh, assessed, year(arm, arm.bores))
    return [row | {"arm": place.name} for row in banded(place, arm, own, mesh, assessed)]


def main(folder: Path) -> None:
    best = read_recommended(folder / "sweep" / "recommended.json").id
    table = lives(folder / "designs" / best) if best else []
    write_cautioned(folder / "sweep" / "life.csv", COLUMNS, table)


if __name__ == "__main__":
    with one_line_errors():
        main(*arguments(__doc__, results=Path))
