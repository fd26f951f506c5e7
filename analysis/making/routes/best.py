"""The files of a route's best design in a place of their own: `python -m analysis.making.routes.best results/ARM/making/ROUTE`."""

from __future__ import annotations

import shutil
from pathlib import Path

from analysis.tables.files import read_row
from params.steps.arguments import arguments
from params.steps.guard import one_line_errors


def main(place: Path) -> None:
    row = read_row(place / "best.csv")
    shutil.copytree(
        place / "designs" / row["id"],
        place / "best",
        dirs_exist_ok=True,
        ignore=shutil.ignore_patterns("log"),
    )


if __name__ == "__main__":
    with one_line_errors():
        main(*arguments(__doc__, folder=Path))
