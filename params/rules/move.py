"""Rules of moving: a cylinder that makes the swing, no dead centre on the way, no locking friction."""

from __future__ import annotations

import math
from collections.abc import Iterator
from itertools import pairwise

import numpy as np

from params.rules.build import length
from params.rules.linkage import Poses, poses
from params.schema.arm import Arm
from params.schema.units import show
from params.steps.arrays import Floats
from params.steps.problems import Fault, Key

# Moment arm over arm: within 3 degrees of dead centre there is none to speak of; common practice, no source.
LEAST_SINE = 0.05
LEAST_SWING, MOST_SWING = math.radians(0.5), math.pi
SWING = np.linspace(0.0, 1.0, 721)  # a quarter degree or less a step
ROUNDING = 0.01  # mm


def moving(arm: Arm) -> Iterator[Fault]:
    """Every rule of moving that the arm breaks."""
    yield from _cylinder(arm)
    yield from _swing(arm)
    yield from _load(arm)
    moved = poses(arm, SWING)
    yield from _stroke(arm, moved)
    centres = [
        *_dead_centre(moved.push_arm / arm.geometry.input_arm, moved.phi, ("drive", "anchor"), "the cylinder")
    ]
    if (arm.driven.direction is None) != (arm.driven.anchor is None):
        key: Key = ("driven", "direction" if arm.driven.anchor is None else "anchor")
        centres += _dead_centre(moved.pull_arm / arm.geometry.output_arm, moved.phi, key, "the load's line")
    yield from centres
    if not centres:
        yield from _locked(arm, float(np.abs(moved.push_arm).min()))


def _cylinder(arm: Arm) -> Iterator[Fault]:
    drive = arm.drive
    if drive.rod >= drive.cylinder_bore:
        wrong, limit = (
            "is not smaller than the cylinder's bore",
            f"less than {length(drive.cylinder_bore, arm.units)}",
        )
        yield Fault(
            ("drive", "rod"), length(drive.rod, arm.units), wrong, limit, "check both on the name plate"
        )
    if drive.stroke >= drive.closed_length:
        limit = f"less than the closed length of {length(drive.closed_length, arm.units)}"
        wrong = "does not fit into the closed cylinder"
        yield Fault(
            ("drive", "stroke"), length(drive.stroke, arm.units), wrong, limit, "check both on the drawing"
        )
    away, least = math.hypot(drive.anchor.x, drive.anchor.y), 0.1 * arm.geometry.input_arm
    if away < least:
        wrong, limit = "is almost at the pivot", f"at least {length(least, arm.units)} away"
        mend = "give it in the world frame, pivot at the origin"
        yield Fault(("drive", "anchor"), length(away, arm.units), wrong, limit, mend)


def _swing(arm: Arm) -> Iterator[Fault]:
    swing = abs(arm.drive.raised - arm.drive.lowered)
    key, value = ("drive", "raised"), show(arm.drive.raised, "angle", arm.units)
    if swing < LEAST_SWING:
        yield Fault(
            key,
            value,
            "is almost the same as lowered",
            "at least 0.5 deg apart",
            "give both ends of the swing",
        )
    if swing > MOST_SWING:
        wrong = f"makes a swing of {show(swing, 'angle', arm.units)}"
        yield Fault(key, value, wrong, "at most 180.0 deg", "check the signs of both angles")


def _load(arm: Arm) -> Iterator[Fault]:
    driven = arm.driven
    if (driven.direction is None) == (driven.anchor is None):
        wrong = (
            "has neither direction nor anchor" if driven.anchor is None else "has both direction and anchor"
        )
        yield Fault(("driven",), "", wrong, "exactly one of the two", "keep the one that fits the machine")
    kinds = [(point.force is not None, point.moment is not None) for point in driven.load]
    for index, kind in enumerate(kinds):
        if sum(kind) != 1 or kind != kinds[0]:
            wrong, limit = "needs either force or moment", "exactly one, the same in every point"
            yield Fault(("driven", "load", index), "", wrong, limit, "keep one of the two")
    at = [point.at for point in driven.load]
    if at[0] != 0.0 or at[-1] != 1.0 or any(b <= a for a, b in pairwise(at)):
        value, wrong = ", ".join(f"{value:g}" for value in at), "does not run from 0 to 1 in rising steps"
        yield Fault(
            ("driven", "load"), value, wrong, "at: 0 first, 1 last", "sort the points and give both ends"
        )


def _stroke(arm: Arm, moved: Poses) -> Iterator[Fault]:
    least, most = float(moved.cylinder_length.min()), float(moved.cylinder_length.max())
    short, long = arm.drive.closed_length, arm.drive.closed_length + arm.drive.stroke
    if least >= short - ROUNDING and most <= long + ROUNDING:
        return
    needed = f"{length(least, arm.units)} to {length(most, arm.units)}"
    wrong = f"does not cover the swing: it needs {needed} pin to pin"
    limit = f"the cylinder has {length(short, arm.units)} to {length(long, arm.units)}"
    can = np.degrees(moved.phi[(moved.cylinder_length >= short) & (moved.cylinder_length <= long)])
    reached = f"{can.min():.1f} to {can.max():.1f} deg" if len(can) else "no part"
    mend = f"it reaches {reached} of the swing; change cylinder, anchor or swing"
    yield Fault(("drive", "stroke"), length(arm.drive.stroke, arm.units), wrong, limit, mend)


def _dead_centre(sine: Floats, phi: Floats, key: Key, who: str) -> Iterator[Fault]:
    """`sine`: signed moment arm over the arm, at each angle `phi`."""
    if np.all(sine >= LEAST_SINE) or np.all(sine <= -LEAST_SINE):
        return
    angle = math.degrees(phi[np.argmin(np.abs(sine))])
    wrong = f"{who} crosses or nears dead centre inside the swing, at {angle:.1f} deg"
    limit = "moment arm at least 0.05 of the arm, always on the same side"
    mend = (
        "move the anchor or shorten the swing"
        if "anchor" in key
        else "turn the direction or shorten the swing"
    )
    yield Fault(key, "", wrong, limit, mend)


def _locked(arm: Arm, least: float) -> Iterator[Fault]:
    """Friction circle of the pivot pin against the cylinder's least moment arm."""
    radius = arm.geometry.pivot.pin.diameter / 2.0
    for name, case in arm.load_cases.items():
        if case.friction * radius >= 0.5 * least:
            wrong = "pivot friction nearly locks the arm"
            limit = (
                f"less than {0.5 * least / radius:.2g} (half the cylinder's moment arm over the pin's radius)"
            )
            mend = "check it, or move the anchor for a longer moment arm"
            yield Fault(("load_cases", name, "friction"), f"{case.friction:g}", wrong, limit, mend)
