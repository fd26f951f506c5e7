"""Every section size of the sweep through the whole hand calculation: `python -m analysis.sweep ARM.yaml designs.csv`."""

from __future__ import annotations

import time
from pathlib import Path

import numpy as np

from analysis.sweep.grid import designs
from analysis.sweep.screen_all import columns, rows, screen
from analysis.tables.files import write_csv
from params.files.read import read_arm, read_material
from params.steps.arguments import arguments
from params.steps.guard import one_line_errors


def main(source: Path, target: Path) -> None:
    arm = read_arm(source)
    start, sizes = time.perf_counter(), designs(arm)
    screened = screen(arm, read_material(arm.material, arm.library), sizes, quiet=False)
    spent = time.perf_counter() - start
    write_csv(target, columns(arm, sizes), rows(arm, sizes, screened))
    feasible = int(np.sum((screened.margin >= 0.0) & (screened.reason == "")))
    print(f"{len(screened.mass)} designs by hand in {spent:.1f} s, {feasible} feasible")


if __name__ == "__main__":
    with one_line_errors():
        main(*arguments(__doc__, arm=Path, target=Path))
