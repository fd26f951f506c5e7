"""Every section size of the sweep through the whole hand calculation: `python -m analysis.sweep ARM.yaml designs.csv`."""

from __future__ import annotations

import time
from pathlib import Path

from analysis.sweep.on_route import on_own_route
from analysis.sweep.screen_all import columns, feasible, rows
from analysis.sweep.swept import swept
from analysis.tables.files import write_csv
from params.files.read import read_arm, read_material
from params.steps.arguments import arguments
from params.steps.guard import one_line_errors


def main(source: Path, target: Path) -> None:
    arm = read_arm(source)
    material, start = read_material(arm.material, arm.library), time.perf_counter()
    adapted, route = on_own_route(arm, material)
    sizes, screened = swept(adapted, material, route, quiet=False)
    spent = time.perf_counter() - start
    write_csv(target, columns(arm, sizes), rows(arm, sizes, screened))
    good = int(feasible(arm, screened).sum())
    print(f"{len(screened.mass)} designs by hand in {spent:.1f} s, {good} feasible")
    by = (
        f"by the route {route.name}: {'; '.join(adapted.notes) or 'nothing changed'}" if route else "no route"
    )
    print(f"made {by}")


if __name__ == "__main__":
    with one_line_errors():
        main(*arguments(__doc__, arm=Path, target=Path))
