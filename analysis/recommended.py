"""Years to a crack of the recommended design: `python -m analysis.recommended results/ARM` writes sweep/life.csv.

The field goes to designs/ID/bores/life.vtu. The pins' contact is not solved for a design: its bores carry the half-cosine
pressures of its mesh, an interference fit its ring stress on top, which is the safe side. Without a recommended design, or a
section `bores` in the arm's file, the table has no rows.
"""

from __future__ import annotations

import sys
from functools import partial
from pathlib import Path
from typing import Any

from analysis.elastic.mesh import Mesh
from analysis.fatigue import COLUMNS, assess, fields, head, rows
from analysis.life.histories import mesh_file
from analysis.life.variants import this_arm
from analysis.life.year import year
from analysis.tables import read_json, write_cautioned
from geometry.meshfile import read_mesh, write_vtu
from params.out_of_range import or_reason, out_of_range
from params.plainly import plainly
from params.read import read_arm, read_material


def lives(place: Path) -> list[dict[str, Any]]:
    """The worst places of every region of the design in `place`, its field written beside it."""
    arm = read_arm(place / "arm.yaml")
    if arm.bores is None:
        return []
    arrays = read_mesh(mesh_file(place))
    mesh, this = Mesh.of(arrays), this_arm(arm, read_material(arm.material))
    made, reason = or_reason(arm.units, partial(assess, place, arm, arm.bores, mesh, this))
    if made is None:
        return [out_of_range(head(this, "outside", "all surfaces"), reason) | {"arm": place.name}]
    (place / "bores").mkdir(exist_ok=True)
    write_vtu(place / "bores" / "life.vtu", arrays, fields(mesh, [made]), {})
    return [row | {"arm": place.name} for row in rows(arm, mesh, made, year(arm, arm.bores))]


def main(folder: Path) -> None:
    best = read_json(folder / "sweep" / "recommended.json")["id"]
    table = lives(folder / "designs" / best) if best else []
    write_cautioned(folder / "sweep" / "life.csv", COLUMNS, table)


if __name__ == "__main__":
    with plainly():
        main(Path(sys.argv[1]))
