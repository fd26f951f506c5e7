"""Every section size of the sweep through the whole hand calculation."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
from numpy.typing import NDArray
from rich.console import Console
from rich.progress import track

from analysis.hand.screen import CHUNK, Least, Screener
from analysis.mechanics.sizes import Sizes
from analysis.tables.number import percent
from params.schema.arm import Arm
from params.schema.material import Material
from params.schema.units import outside, shown_unit


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


def feasible(arm: Arm, screened: Least) -> NDArray[np.bool_]:
    """Designs that can be built and made, with the least margin that the arm's file wants by hand."""
    return (screened.reason == "") & (screened.margin >= arm.criteria.least_margin)


def rows(arm: Arm, sizes: dict[str, NDArray[np.float64]], screened: Least) -> Iterator[dict[str, object]]:
    """The rows of designs.csv."""
    unit = shown_unit("length", arm.units)
    columns = {f"{name}_{unit}": outside(array, unit, "length") for name, array in sizes.items()}
    enough, wanted = feasible(arm, screened), percent(arm.criteria.least_margin)
    for index in range(len(screened.mass)):
        buildable = not screened.reason[index]
        short = "fails" if screened.margin[index] < 0.0 else f"has less than the margin of {wanted}"
        fails = "" if enough[index] else f"{screened.governing[index]} {short}"
        yield {
            "id": f"d{index:06d}",
            **{name: array[index] for name, array in columns.items()},
            "mass_kg": screened.mass[index],
            "min_margin": screened.margin[index] if buildable else None,
            "governing": screened.governing[index] if buildable else "",
            "feasible": bool(enough[index]),
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
