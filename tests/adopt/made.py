"""A folder of parameter files and one of results for adopting: hand and sweeps are real, what the mesh said is made up."""

from __future__ import annotations

import shutil
from collections.abc import Sequence
from pathlib import Path

from analysis.hand import __main__ as hand
from analysis.making.routes import candidate
from analysis.making.routes import sweep as route_sweep
from analysis.sweep import __main__ as sweep
from analysis.sweep import design_file, front
from analysis.tables.files import read_csv, write_csv
from tests.arms import ARMS
from tests.page.folder import summary

NAME = "bench-lever"
ROUTES = ("cast", "deposited", "welded")
MESH = 0.1  # least margin by mesh that every design is given


def judged(folder: Path, mesh: float = MESH) -> None:
    """Hand calculation of the file in a folder, and what its mesh would have said."""
    hand.main(folder / "arm.yaml", folder)
    summary(folder, mesh_margin=mesh, explain=(), verdict="holds")


def world(top: Path, text: str, routes: Sequence[str] = ROUTES) -> Path:
    """top/arms with the file of this text, top/results as a run of it would leave it; the sizes of a sweep are six."""
    arms, folder = top / "arms", top / "results" / NAME
    arms.mkdir(parents=True)
    source = arms / f"{NAME}.yaml"
    source.write_text(text, encoding="utf-8", newline="")
    for kind in ("materials", "routes"):
        shutil.copytree(ARMS.parent / kind, folder / "inputs" / kind)
    written = folder / "as-written"
    written.mkdir()
    shutil.copy(source, written / "arm.yaml")
    judged(written)
    sweep.main(written / "arm.yaml", folder / "sweep" / "designs.csv")
    front.choose(folder)
    for row in read_csv(folder / "sweep" / "chosen.csv"):
        design_file.main(folder, row["id"])
        judged(folder / "designs" / row["id"])
    front.judge(folder)
    for route in routes:
        best_of(folder, route)
    return top


def best_of(folder: Path, route: str) -> None:
    """The lightest design of a route's own sweep as its best; none of the cast ones can be made."""
    place, source = folder / "making" / route, folder / "inputs" / "routes" / f"{route}.yaml"
    assert route_sweep.main([str(folder / "as-written" / "arm.yaml"), str(source), str(place)]) == 0
    rows = read_csv(place / "front.csv")
    write_csv(place / "best.csv", [*rows[0], "tried"], [rows[0] | {"tried": "1"}])
    if not rows[0]["id"]:
        return
    candidate.main(folder, source, rows[0]["id"])
    judged(place / "designs" / rows[0]["id"])
    shutil.copytree(place / "designs" / rows[0]["id"], place / "best")
