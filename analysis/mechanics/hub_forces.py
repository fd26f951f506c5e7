"""What both arms hand on to the hub: internal forces at the pivot centre, and the pull across the hub."""

from __future__ import annotations

from typing import Any

import numpy as np

from analysis.mechanics.axes import lift
from analysis.mechanics.response import Limb, Response
from params.schema.arm import Arm
from params.steps.arrays import Floats


def at_pivot(response: Response, limb: Limb) -> dict[str, Floats]:
    """Internal forces of one arm carried on from the hub edge to the pivot centre."""
    root = {name.upper(): getattr(limb.root, name) for name in ("n", "v2", "v3", "m3", "m2", "t")}
    radius = lift(response.sizes.hub) / 2.0
    return root | {"M3": root["M3"] + root["V2"] * radius, "M2": root["M2"] - root["V3"] * radius}


def across_bisector(response: Response, carried: list[dict[str, Floats]]) -> Floats:
    """Axial force through the hub, square to the plane that halves the angle between the arms; the pin's share is halved too."""
    forces = [side[name] for side in carried for name in ("N", "V2")]
    return pull_across(response.arm, *forces)


def pull_across(arm: Arm, input_n: Any, input_v2: Any, output_n: Any, output_v2: Any) -> Any:
    """The same from N and V2 of both arms at the pivot centre."""
    bend = (np.pi - arm.geometry.included_angle) / 2.0
    return ((input_n + output_n) * np.cos(bend) + (input_v2 - output_v2) * np.sin(bend)) / 2.0
