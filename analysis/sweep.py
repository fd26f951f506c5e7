"""Every section size of the sweep through the whole hand calculation: `python -m analysis.sweep ARM.yaml designs.csv`."""

from __future__ import annotations

import time
from collections.abc import Iterator
from pathlib import Path

import numpy as np
from numpy.typing import NDArray
from rich.console import Console
from rich.progress import track

from analysis.designs import designs
from analysis.hand import Least, Screener
from analysis.sizes import Sizes
from analysis.tables import write_csv
from params.arguments import arguments
from params.arm import Arm
from params.material import Material
from params.plainly import plainly
from params.read import read_arm, read_material
from params.units import outside, shown_unit

CHUNK = 2048  # designs at once: more spend memory, fewer the time of calls


def chunks(count: int) -> list[slice]:
    return [slice(start, min(start + CHUNK, count)) for start in range(0, count, CHUNK)]


def screen(arm: Arm, material: Material, sizes: dict[str, NDArray[np.float64]], quiet: bool = True) -> Least:
    """Every design of `sizes` (arrays (D,) in mm, as `designs` makes them) through all clauses and load cases."""
    count = len(next(iter(sizes.values()))) if sizes else 1
    screener = Screener(arm, material)
    parts = [
        screener(Sizes.from_arm(arm, **{name: array[part] for name, array in sizes.items()}))
        for part in progress(chunks(count), quiet)
    ]
    return Least(
        *(np.concatenate([getattr(part, field) for part in parts]) for field in Least.__annotations__)
    )


def progress(parts: list[slice], quiet: bool) -> Iterator[slice]:
    console = Console(stderr=True)
    yield from track(
        parts, "designs by hand", console=console, disable=quiet or not console.is_terminal, transient=True
    )


def rows(arm: Arm, sizes: dict[str, NDArray[np.float64]], screened: Least) -> Iterator[dict[str, object]]:
    """The rows of designs.csv."""
    unit = shown_unit("length", arm.units)
    columns = {f"{name}_{unit}": outside(array, unit, "length") for name, array in sizes.items()}
    for index in range(len(screened.mass)):
        buildable = not screened.reason[index]
        fails = "" if screened.margin[index] >= 0.0 else f"{screened.governing[index]} fails"
        yield {
            "id": f"d{index:06d}",
            **{name: array[index] for name, array in columns.items()},
            "mass_kg": screened.mass[index],
            "min_margin": screened.margin[index] if buildable else None,
            "governing": screened.governing[index] if buildable else "",
            "feasible": bool(buildable and not fails),
            "reason": screened.reason[index] or fails,
        }


def columns(arm: Arm, sizes: dict[str, NDArray[np.float64]]) -> list[str]:
    unit = shown_unit("length", arm.units)
    return [
        "id",
        *(f"{name}_{unit}" for name in sizes),
        "mass_kg",
        "min_margin",
        "governing",
        "feasible",
        "reason",
    ]


def main(source: Path, target: Path) -> None:
    arm = read_arm(source)
    start, sizes = time.perf_counter(), designs(arm)
    screened = screen(arm, read_material(arm.material), sizes, quiet=False)
    spent = time.perf_counter() - start
    write_csv(target, columns(arm, sizes), rows(arm, sizes, screened))
    feasible = int(np.sum((screened.margin >= 0.0) & (screened.reason == "")))
    print(f"{len(screened.mass)} designs by hand in {spent:.1f} s, {feasible} feasible")


if __name__ == "__main__":
    with plainly():
        main(*arguments(__doc__, arm=Path, target=Path))
