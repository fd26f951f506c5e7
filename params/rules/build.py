"""Rules of building: walls and pins of the bores, room inside the section, arms between hub and bosses.

What a sweep can break stands in `params.rules.buildable`; here it is told of the file's own sizes, with what no sweep changes.
"""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from params.rules.buildable import (
    ARMS,
    BORES,
    HUB_OVER_DEPTH,
    LEAST_LIGAMENT,
    LEAST_WEB,
    PROUD,
    AsWritten,
    Rule,
    length,
    rules,
    wall,
)
from params.schema.arm import Arm, Bore
from params.schema.units import System, show
from params.steps.problems import Fault, Key

__all__ = ["BORES", "HUB_OVER_DEPTH", "LEAST_LIGAMENT", "LEAST_WEB", "PROUD", "building", "length"]

# Limits of this project, common practice, no source, but for the one with its source.
MOST_INTERFERENCE = 1.003  # pin over bore: ten times a usual shrink fit
LEAST_PIN = 0.8  # pin over bore: less is a pin for another bore
CLOSE = 1.0  # mm that a bore may be larger than its pin: ANSI/AISC 360 D5.2, 1 mm (1/32 in.)


def building(arm: Arm) -> Iterator[Fault]:
    """Every rule of building that the arm breaks."""
    for name in BORES:
        yield from _pin(getattr(arm.geometry, name), ("geometry", name, "pin"), arm)
    for name in ARMS:
        yield from faults(
            wall(name, arm.geometry, np.array([getattr(arm.geometry, name).outside])), arm.units
        )
    named = list(_plates_named(arm))
    yield from named
    written = AsWritten.of(arm.geometry)
    kept = (rule for rule in rules(arm, written) if not (named and rule.key[:2] == ("geometry", "section")))
    yield from faults(kept, arm.units)


def faults(broken: Iterator[Rule], units: System) -> Iterator[Fault]:
    """The rules that one design breaks, as faults of a file."""
    for rule in broken:
        if np.any(rule.broken):
            yield Fault(
                rule.key, length(rule.value, units), rule.wrong(units), rule.limit(units), rule.mend(units)
            )


def _pin(bore: Bore, key: Key, arm: Arm) -> Iterator[Fault]:
    pin, units = bore.pin, arm.units
    most, least = MOST_INTERFERENCE * bore.bore, LEAST_PIN * bore.bore
    if pin.diameter > most:
        limit = f"at most {length(bore.bore, units)}, or 0.3 % more for a shrunk fit"
        wrong = "is larger than the bore"
        yield Fault((*key, "diameter"), length(pin.diameter, units), wrong, limit, "check pin and bore")
    if pin.diameter < least:
        limit = f"at least {length(least, units)} (0.8 of the bore)"
        fault_text = "is far smaller than the bore"
        yield Fault((*key, "diameter"), length(pin.diameter, units), fault_text, limit, "check pin and bore")
    elif arm.criteria.pin_code == "aisc360" and bore.bore - pin.diameter > CLOSE + 1e-9:
        loose = f"is {length(bore.bore - pin.diameter, units)} smaller than the bore of {length(bore.bore, units)}"
        limit = f"at least {length(bore.bore - CLOSE, units)}: {length(CLOSE, units)} less, the most of pin_code aisc360 (D5.2)"
        mend = "check pin and bore, or write pin_code bth1 or en1993, which judge a loose pin"
        yield Fault((*key, "diameter"), length(pin.diameter, units), loose, limit, mend)
    if pin.tensile_strength < pin.yield_strength:
        value = show(pin.tensile_strength, "stress", units)
        limit = f"at least {show(pin.yield_strength, 'stress', units)}"
        yield Fault((*key, "tensile_strength"), value, "is below the yield strength", limit, "check both")


def _plates_named(arm: Arm) -> Iterator[Fault]:
    section = arm.geometry.section
    for name in ("flange_thickness", "web_thickness", "fillet"):
        key, size = ("geometry", "section", name), getattr(section, name)
        if section.kind == "solid" and size is not None:
            wrong = "is not used with kind solid"
            yield Fault(key, length(size, arm.units), wrong, "a bar has no plates", "remove the line")
        if section.kind != "solid" and size is None:
            yield Fault(key, "", "is missing", f"kind {section.kind} needs it", f"add {name} below section")
