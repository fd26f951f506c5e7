"""Pictures of one arm, from the tables and fields that the computing steps wrote: `python -m analysis.pictures DIR [NAME...]`."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from analysis.contracts.summary import read_summary
from analysis.pictures.arm import PICTURES
from analysis.pictures.convergence import convergence
from analysis.pictures.view import read_grid
from params.files.read import read_arm
from params.steps.arguments import arguments
from params.steps.guard import one_line_errors


def main(folder: Path, names: Sequence[str]) -> None:
    """Draw the pictures of these names, or all."""
    arm, summary = read_arm(folder / "arm.yaml"), read_summary(folder / "summary.json")
    grid = read_grid(folder / "stress.vtu")
    for name in names or (*PICTURES, "convergence"):
        path = folder / "pictures" / f"{name}.png"
        if name == "convergence":
            convergence(folder, path)
        else:
            PICTURES[name](grid, arm, summary, path)


if __name__ == "__main__":
    with one_line_errors():
        main(*arguments(__doc__, folder=Path, pictures=[str]))
