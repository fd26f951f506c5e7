"""Sizes that follow from a parameter file: lengths, swing, cylinder, moment arms, forces, walls."""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import NDArray

from params.rules.linkage import Poses, poses
from params.schema.arm import Arm
from params.schema.units import show

SWING = np.linspace(0.0, 1.0, 41)


def derived(arm: Arm) -> list[tuple[str, str]]:
    """Pairs of name and text with unit, in the arm's units."""
    moved = poses(arm, SWING)
    return [*_lengths(arm), *_motion(arm, moved), *_forces(arm, moved)]


def pin_to_pin(arm: Arm) -> float:
    """Distance of the input and output pin centres, mm (law of cosines)."""
    a, b = arm.geometry.input_arm, arm.geometry.output_arm
    return math.sqrt(a**2 + b**2 - 2.0 * a * b * math.cos(arm.geometry.included_angle))


def cylinder_areas(arm: Arm) -> tuple[float, float]:
    """Piston areas in mm2 that extend (bore) and retract (annulus)."""
    extend = math.pi / 4.0 * arm.drive.cylinder_bore**2
    return extend, extend - math.pi / 4.0 * arm.drive.rod**2


def load_table(arm: Arm, fraction: NDArray[np.float64]) -> tuple[NDArray[np.float64], bool]:
    """The load at shares of the swing, straight between the table's points: force in N (and true), or moment in N mm."""
    points = arm.driven.load
    by_force = points[0].force is not None
    table = [(point.force if by_force else point.moment) or 0.0 for point in points]
    return np.interp(fraction, [point.at for point in points], table), by_force


def force_for_load(arm: Arm, moved: Poses) -> NDArray[np.float64]:
    """Cylinder force (P,) in N that balances the load table alone about the pivot, extending positive."""
    load, by_force = load_table(arm, moved.fraction)
    moment = load * moved.pull_arm if by_force else load * np.sign(moved.pull_arm)
    return -moment / moved.push_arm


def _lengths(arm: Arm) -> list[tuple[str, str]]:
    geometry, between = arm.geometry, pin_to_pin(arm)
    overall = between + (geometry.input.outside + geometry.output.outside) / 2.0
    walls = ((name, getattr(geometry, name)) for name in ("pivot", "input", "output"))
    return [
        ("pin to pin, input to output", show(between, "length", arm.units)),
        ("overall length, boss to boss", show(overall, "length", arm.units)),
        *(
            (f"wall beside the {name} bore", show((bore.outside - bore.bore) / 2.0, "length", arm.units))
            for name, bore in walls
        ),
    ]


def _motion(arm: Arm, moved: Poses) -> list[tuple[str, str]]:
    drive = arm.drive
    spare = drive.closed_length + drive.stroke - moved.cylinder_length.max()
    return [
        ("swing", show(abs(drive.raised - drive.lowered), "angle", arm.units)),
        ("cylinder, pin to pin over the swing", _span(moved.cylinder_length, "length", arm)),
        (
            "stroke to spare, rod in",
            show(moved.cylinder_length.min() - drive.closed_length, "length", arm.units),
        ),
        ("stroke to spare, rod out", show(spare, "length", arm.units)),
        ("moment arm of the cylinder", _span(np.abs(moved.push_arm), "length", arm)),
        ("moment arm of the load", _span(np.abs(moved.pull_arm), "length", arm)),
    ]


def _forces(arm: Arm, moved: Poses) -> list[tuple[str, str]]:
    extend, retract = (area * arm.drive.relief_pressure for area in cylinder_areas(arm))
    needed = force_for_load(arm, moved)
    way, has = ("extending", extend) if needed[np.argmax(np.abs(needed))] >= 0.0 else ("retracting", retract)
    most = float(np.abs(needed).max())
    beyond = ": more than the cylinder gives" if most > has else ""
    used = f"{100.0 * most / has:.0f} % of relief{beyond}" if most else "no load"
    return [
        ("cylinder force at relief, extending", show(extend, "force", arm.units)),
        ("cylinder force at relief, retracting", show(retract, "force", arm.units)),
        (
            "cylinder force for the load alone",
            f"{_span(np.abs(needed), 'force', arm)} {way}, {used} (no weight, friction or shock)",
        ),
    ]


def _span(values: NDArray[np.float64], kind: str, arm: Arm) -> str:
    """Least and largest of the values."""
    return f"{show(float(values.min()), kind, arm.units)} to {show(float(values.max()), kind, arm.units)}"
