"""Rules of the sweep: ranges that run upward, go with the kind of section, and hold sizes that can be built."""

from __future__ import annotations

from collections.abc import Iterator

from params.rules.build import BORES, HUB_OVER_DEPTH, LEAST_WEB, PROUD, length
from params.schema.arm import Arm
from params.steps.problems import Fault

SWEPT = ("depth_at_hub", "depth_at_pins", "width", "flange_thickness", "web_thickness", "hub")


def sweeping(arm: Arm) -> Iterator[Fault]:
    """Every rule of the sweep that the arm's ranges break."""
    faults = list(_ranges(arm))
    yield from faults or _buildable(arm)


def _ranges(arm: Arm) -> Iterator[Fault]:
    for name in SWEPT:
        span = getattr(arm.sweep, name)
        if span is None:
            continue
        if span.least > span.most:
            limit = f"at most {length(span.most, arm.units)}"
            value, wrong = length(span.least, arm.units), "is more than the largest size of this range"
            yield Fault(("sweep", name, "least"), value, wrong, limit, "swap or correct the two")
        if span.steps == 1 and span.least != span.most:
            limit = "2 or more, or least the same as most"
            yield Fault(("sweep", name, "steps"), "1", "leaves out one end of the range", limit, "raise it")
        if name.endswith("thickness") and arm.geometry.section.kind == "solid":
            wrong = "is not used with kind solid"
            yield Fault(("sweep", name), "", wrong, "a bar has no plates", "remove the range")


def _ends(arm: Arm, name: str) -> tuple[float, float]:
    """Least and largest size that the sweep tries (the file's own where it is not swept)."""
    span = getattr(arm.sweep, name)
    if span is not None:
        return span.least, span.most
    section = arm.geometry.section
    size = arm.geometry.pivot.outside if name == "hub" else getattr(section, name) or 0.0
    return size, size


def _buildable(arm: Arm) -> Iterator[Fault]:
    """A range of which no size goes with any of the others; single designs that fail are rows of the sweep."""
    narrowest = min(getattr(arm.geometry, name).width for name in BORES) / PROUD
    hub, flange = (
        HUB_OVER_DEPTH * _ends(arm, "depth_at_hub")[0],
        0.5 * (1.0 - LEAST_WEB) * _ends(arm, "depth_at_pins")[1],
    )
    lows = [
        ("width", narrowest, "the narrowest hub or boss is 2 % wider"),
        ("depth_at_pins", _ends(arm, "depth_at_hub")[1], "the greatest depth at the hub"),
        ("flange_thickness", flange, "two fifths of the greatest depth at the pins"),
    ]
    for name, most, why in lows:
        if getattr(arm.sweep, name) and _ends(arm, name)[0] > most:
            value, limit = (
                length(_ends(arm, name)[0], arm.units),
                f"at most {length(most, arm.units)} ({why})",
            )
            yield Fault(
                ("sweep", name, "least"), value, "leaves no design that can be built", limit, "lower it"
            )
    if arm.sweep.hub and _ends(arm, "hub")[1] < hub:
        limit = f"at least {length(hub, arm.units)} (2 % more than the least depth at the hub)"
        value = length(_ends(arm, "hub")[1], arm.units)
        yield Fault(("sweep", "hub", "most"), value, "leaves no design that can be built", limit, "raise it")
