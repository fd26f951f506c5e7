"""What both arms hand on to the hub: internal forces at the pivot centre, and the pull across the hub."""

from __future__ import annotations

import numpy as np

from analysis.mechanics.axes import lift
from analysis.mechanics.response import Limb, Response
from params.steps.arrays import Floats


def at_pivot(response: Response, limb: Limb) -> dict[str, Floats]:
    """Internal forces of one arm carried on from the hub edge to the pivot centre."""
    root = {name.upper(): getattr(limb.root, name) for name in ("n", "v2", "v3", "m3", "m2", "t")}
    radius = lift(response.sizes.hub) / 2.0
    return root | {"M3": root["M3"] + root["V2"] * radius, "M2": root["M2"] - root["V3"] * radius}


def across_bisector(response: Response, carried: list[dict[str, Floats]]) -> Floats:
    """Axial force through the hub, square to the plane that halves the angle between the arms; the pin's share is halved too."""
    bend = (np.pi - response.arm.geometry.included_angle) / 2.0
    forces = [
        side["N"] * np.cos(bend) + sign * side["V2"] * np.sin(bend)
        for side, sign in zip(carried, (1.0, -1.0), strict=True)
    ]
    return (forces[0] + forces[1]) / 2.0
