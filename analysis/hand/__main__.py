"""The hand calculation of one arm: `python -m analysis.hand ARM.yaml DIR` writes its tables."""

from __future__ import annotations

from pathlib import Path

from analysis.hand.evaluate import evaluate
from analysis.hand.files import write
from params.files.read import read_arm, read_material
from params.steps.arguments import arguments
from params.steps.guard import one_line_errors


def main(source: Path, folder: Path) -> None:
    arm = read_arm(source)
    write(evaluate(arm, read_material(arm.material, arm.library)), folder)


if __name__ == "__main__":
    with one_line_errors():
        main(*arguments(__doc__, arm=Path, folder=Path))
