"""A sweep within the limits of a route: what the hand calculation says of every design, and what the route cannot make."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from analysis.hand.screen import Least
from analysis.mechanics.mass import mass
from analysis.mechanics.sizes import Sizes, unbuildable
from analysis.sweep.grid import designs
from analysis.sweep.on_route import Fitted, least_wall
from analysis.sweep.screen_all import screen
from params.schema.arm import Arm
from params.schema.material import Material
from params.schema.route import Route
from params.schema.units import show
from params.steps.arrays import Floats


def swept(
    adapted: Fitted, material: Material, route: Route | None, quiet: bool = True
) -> tuple[dict[str, Floats], Least]:
    """Sizes (D,) in mm and what the hand calculation says of them, the route's limits among the reasons."""
    sizes = designs(adapted.arm, adapted.walls)
    base = based(adapted.arm, sizes)
    with np.errstate(invalid="ignore"):  # torsion constants of sections that cannot be built
        judged = screen(base, material, sizes, quiet) if base else unjudged(adapted.arm, material, sizes)
    reason = judged.reason.astype("<U120")
    for fault, text in limits(adapted.arm, Sizes.from_arm(adapted.arm, **sizes), judged.mass, route):
        reason[fault & (reason == "")] = text
    return sizes, replace(judged, reason=reason)


def based(arm: Arm, sizes: dict[str, Floats]) -> Arm | None:
    """The arm in the middle one of the sizes that can be built; the sweep looks at the positions that govern it."""
    good = np.flatnonzero(unbuildable(arm, Sizes.from_arm(arm, **sizes)) == "")
    return with_sizes(arm, at(sizes, int(good[len(good) // 2]))) if len(good) else None


def at(sizes: dict[str, Floats], index: int) -> dict[str, float]:
    return {name: float(values[index]) for name, values in sizes.items()}


def with_sizes(arm: Arm, sizes: dict[str, float]) -> Arm:
    """The arm with these sizes in mm."""
    geometry = arm.geometry
    section = geometry.section.model_copy(
        update={name: size for name, size in sizes.items() if name != "hub"}
    )
    pivot = geometry.pivot.model_copy(update={"outside": sizes.get("hub", geometry.pivot.outside)})
    return arm.model_copy(
        update={"geometry": geometry.model_copy(update={"section": section, "pivot": pivot})}
    )


def unjudged(arm: Arm, material: Material, sizes: dict[str, Floats]) -> Least:
    """Designs of which none can be built."""
    every = Sizes.from_arm(arm, **sizes)
    nothing = np.full(len(every), np.nan)
    return Least(
        mass(arm, every, material.density).total, nothing, np.full(len(every), ""), unbuildable(arm, every)
    )


def limits(arm: Arm, sizes: Sizes, heavy: Floats, route: Route | None) -> list[tuple[NDArray[np.bool_], str]]:
    """Designs beyond the route: walls beside the bores, and the mass of a part that is made whole; none without a route."""
    if route is None:
        return []
    geometry, least = arm.geometry, least_wall(route)
    walls = {
        "pivot": (sizes.hub - geometry.pivot.bore) / 2.0,
        "input": (geometry.input.outside - geometry.input.bore) / 2.0,
        "output": (geometry.output.outside - geometry.output.bore) / 2.0,
    }
    faults = [
        (
            np.broadcast_to(np.asarray(wall < least), heavy.shape),
            f"wall beside the {name} bore is under {show(least, 'length', arm.units)}, the route's least wall",
        )
        for name, wall in walls.items()
    ]
    if route.deposition is None:  # a deposited part is made in pieces
        most = show(route.limits.largest_mass, "mass", arm.units)
        faults.append((heavy > route.limits.largest_mass, f"heavier than {most}, the route's largest mass"))
    return faults
