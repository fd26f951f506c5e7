"""What the solid is not as the arm's file says, in lines for people: blends that had to shrink or found no room."""

from __future__ import annotations

import numpy as np

from geometry.corners import Blend
from geometry.datums import BORES
from geometry.edges import BLENDED
from geometry.outline import meeting_angle
from params.schema.arm import Arm
from params.schema.units import show

DEPTH = {"pivot": "depth_at_hub", "input": "depth_at_pins", "output": "depth_at_pins"}


def notes(arm: Arm, short: list[Blend]) -> list[str]:
    """A line for each hub or boss without blends, and for each blend that shrank. By hand the file's radius counts at the hub."""
    if arm.geometry.blend_radius <= 0.0:
        return []
    flat = [name for name in BORES if meeting_angle(arm, name) <= BLENDED]
    return [*(unblended(arm, name) for name in flat), *(shrunk(arm, blend) for blend in short)]


def unblended(arm: Arm, name: str) -> str:
    part, angle = ("hub" if name == "pivot" else "boss"), np.degrees(meeting_angle(arm, name))
    by_hand = (
        f"the hand calculation takes {radius(arm, arm.geometry.blend_radius)}"
        if name == "pivot"
        else "no check by hand rests on it"
    )
    return (
        f"The solid has no blend at the {name} {part}: the arm's edges run into its circle at {angle:.0f} deg, a blend needs more "
        f"than {np.degrees(BLENDED):.0f} deg; {by_hand}. Larger geometry.{name}.outside or smaller "
        f"geometry.section.{DEPTH[name]} makes room."
    )


def shrunk(arm: Arm, blend: Blend) -> str:
    x, y = (show(value, "length", arm.units) for value in (blend.x, blend.y))
    made = f"the solid has {radius(arm, blend.made)}" if blend.made else "the solid has a sharp corner"
    return (
        f"A blend of {radius(arm, blend.wanted)} does not fit at x {x}, y {y}: {made} there; the hand calculation takes the whole "
        "radius. A smaller geometry.blend_radius makes both the same."
    )


def radius(arm: Arm, value: float) -> str:
    return show(value, "length", arm.units)
