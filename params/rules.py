"""Rules across the fields of a parameter file: what cannot be built, or cannot move."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from params.arm import Arm, Bore
from params.linkage import poses
from params.units import System, show
from params.yamlfile import Key

# Limits of this project, common practice, no source: a wall beside a bore of less than a sixth of the bore tears or
# cannot be examined; a lever within 3 degrees of dead centre has no useful moment arm.
LEAST_LIGAMENT = 1.0 / 6.0
LEAST_SINE = 0.05
BORES = ("pivot", "input", "output")
SWING = np.linspace(0.0, 1.0, 181)


@dataclass(frozen=True)
class Fault:
    key: Key
    value: str
    wrong: str
    limit: str = ""
    mend: str = ""


def broken_rules(arm: Arm, materials: list[str]) -> list[Fault]:
    """Every rule that the arm breaks."""
    faults = [fault for rule in (_bores, _section, _arms, _drive, _driven, _cases, _duty, _sweep, _text) for fault in rule(arm)]
    if arm.material not in materials:
        faults.append(Fault(("material",), arm.material, "is no material file", f"one of {', '.join(materials)}", "write one of them or add a file"))
    return faults if faults else list(_motion(arm))


def length(value: float, units: System) -> str:
    return show(value, "length", units)


def _bores(arm: Arm) -> Iterator[Fault]:
    for name in BORES:
        bore: Bore = getattr(arm.geometry, name)
        key: Key = ("geometry", name)
        ligament = (bore.outside - bore.bore) / 2.0
        least = LEAST_LIGAMENT * bore.bore
        if ligament < least:
            told = f"leaves a wall of {length(ligament, arm.units)} beside the bore"
            limit = f"at least {length(least, arm.units)} (one sixth of the bore)"
            mend = f"make it at least {length(bore.bore + 2.0 * least, arm.units)} or the bore smaller"
            yield Fault((*key, "outside"), length(bore.outside, arm.units), told, limit, mend)
        elif bore.chamfer > 0.5 * ligament:
            limit = f"at most {length(0.5 * ligament, arm.units)} (half the wall)"
            yield Fault((*key, "chamfer"), length(bore.chamfer, arm.units), "is too large for the wall", limit, "make it smaller")
        if bore.chamfer > 0.25 * bore.width:
            yield Fault((*key, "chamfer"), length(bore.chamfer, arm.units), "is too large for the width", f"at most {length(0.25 * bore.width, arm.units)}", "make it smaller")
        if bore.pin.diameter > 1.01 * bore.bore:
            yield Fault((*key, "pin", "diameter"), length(bore.pin.diameter, arm.units), "is larger than the bore", f"at most {length(1.01 * bore.bore, arm.units)} (1 % interference)", "check pin and bore")
        if bore.pin.diameter < 0.5 * bore.bore:
            yield Fault((*key, "pin", "diameter"), length(bore.pin.diameter, arm.units), "is far smaller than the bore", f"at least {length(0.5 * bore.bore, arm.units)}", "check pin and bore")
        if bore.pin.tensile_strength < bore.pin.yield_strength:
            yield Fault((*key, "pin", "tensile_strength"), show(bore.pin.tensile_strength, "stress", arm.units), "is below the yield strength", "", "check both")
        if bore.width < arm.geometry.section.width:
            yield Fault((*key, "width"), length(bore.width, arm.units), "is less than the section's width", f"at least {length(arm.geometry.section.width, arm.units)}", "widen it or narrow the section")


def _section(arm: Arm) -> Iterator[Fault]:
    section, key = arm.geometry.section, ("geometry", "section")
    plates = {"flange_thickness": section.flange_thickness, "web_thickness": section.web_thickness, "fillet": section.fillet}
    for name, size in plates.items():
        if section.kind == "solid" and size is not None:
            yield Fault((*key, name), length(size, arm.units), "does not go with kind solid", "", "take the line out")
        if section.kind != "solid" and size is None:
            yield Fault((*key, name), "", "is missing", f"kind {section.kind} needs it", "add this key")
    if section.kind == "solid" or None in plates.values():
        return
    flange, web, fillet = (size or 0.0 for size in plates.values())
    clear = section.depth_at_pins - 2.0 * flange
    if clear <= 2.0 * fillet or clear < 0.2 * section.depth_at_pins:
        told = "leaves no web between flanges and fillets at the pins"
        yield Fault((*key, "flange_thickness"), length(flange, arm.units), told, f"less than {length(min(0.4 * section.depth_at_pins, section.depth_at_pins / 2.0 - fillet), arm.units)}", "thin the flanges or deepen the arm")
    webs = web if section.kind == "i" else 2.0 * web
    room = section.width - webs
    if room <= 2.0 * fillet or room <= 0.1 * section.width:
        yield Fault((*key, "web_thickness"), length(web, arm.units), "leaves no room beside the web within the width", f"less than {length((section.width - 2.0 * fillet) / (1 if section.kind == 'i' else 2), arm.units)}", "thin the web or widen the section")


def _arms(arm: Arm) -> Iterator[Fault]:
    geometry = arm.geometry
    section = geometry.section
    if geometry.pivot.outside < 1.02 * section.depth_at_hub:
        mend = f"make it at least {length(1.02 * section.depth_at_hub, arm.units)} or the arms less deep"
        yield Fault(("geometry", "pivot", "outside"), length(geometry.pivot.outside, arm.units), "is smaller than the depth of the arms at the hub", f"at least {length(1.02 * section.depth_at_hub, arm.units)} (2 % more than the depth)", mend)
    if section.depth_at_pins > section.depth_at_hub:
        yield Fault(("geometry", "section", "depth_at_pins"), length(section.depth_at_pins, arm.units), "is more than the depth at the hub", f"at most {length(section.depth_at_hub, arm.units)}", "arms taper toward the pins")
    for name in ("input", "output"):
        bore: Bore = getattr(geometry, name)
        reach = getattr(geometry, f"{name}_arm")
        least = 0.5 * (geometry.pivot.outside + bore.outside) + 0.5 * section.depth_at_pins
        if reach < least:
            yield Fault(("geometry", f"{name}_arm"), length(reach, arm.units), "leaves no arm between hub and boss", f"at least {length(least, arm.units)} (both radii and half the depth at the pins)", "lengthen the arm or make hub and boss smaller")
        if bore.outside < 0.8 * section.depth_at_pins:
            yield Fault(("geometry", name, "outside"), length(bore.outside, arm.units), "is much smaller than the depth of the arm there", f"at least {length(0.8 * section.depth_at_pins, arm.units)} (0.8 of the depth)", "enlarge the boss or taper the arm more")


def _drive(arm: Arm) -> Iterator[Fault]:
    drive = arm.drive
    if drive.rod >= drive.cylinder_bore:
        yield Fault(("drive", "rod"), length(drive.rod, arm.units), "is not smaller than the cylinder's bore", f"less than {length(drive.cylinder_bore, arm.units)}", "check both")
    if abs(drive.raised - drive.lowered) < math.radians(0.5):
        yield Fault(("drive", "raised"), show(drive.raised, "angle", arm.units), "is the same as lowered", "at least 0.5 deg apart", "give both ends of the swing")
    if abs(drive.raised - drive.lowered) > math.pi:
        yield Fault(("drive", "raised"), show(drive.raised, "angle", arm.units), "makes a swing of more than half a turn", "at most 180 deg", "check the signs of both angles")
    anchor = math.hypot(drive.anchor.x, drive.anchor.y)
    if anchor < 0.1 * arm.geometry.input_arm:
        yield Fault(("drive", "anchor"), length(anchor, arm.units), "stands almost at the pivot", f"at least {length(0.1 * arm.geometry.input_arm, arm.units)} away", "give it in the world frame, pivot at the origin")


def _driven(arm: Arm) -> Iterator[Fault]:
    driven = arm.driven
    if (driven.direction is None) == (driven.anchor is None):
        yield Fault(("driven",), "", "needs either direction or anchor", "exactly one of the two", "keep the one that fits")
    kinds = [(point.force is not None, point.moment is not None) for point in driven.load]
    for index, kind in enumerate(kinds):
        if sum(kind) != 1 or kind != kinds[0]:
            yield Fault(("driven", "load", index), "", "needs either force or moment, the same in every point", "", "keep one of the two")
    at = [point.at for point in driven.load]
    if at[0] != 0.0 or at[-1] != 1.0 or any(b <= a for a, b in zip(at, at[1:], strict=False)):
        yield Fault(("driven", "load"), ", ".join(f"{value:g}" for value in at), "does not run from 0 to 1 in rising steps", "at: 0 first, 1 last", "sort the points")


def _cases(arm: Arm) -> Iterator[Fault]:
    for name, case in arm.load_cases.items():
        key: Key = ("load_cases", name)
        if case.kind == "blocked" and case.push is None:
            yield Fault((*key, "push"), "", "is missing", "a blocked case needs extend or retract", "add push: extend")
        if case.kind != "blocked" and case.push is not None:
            yield Fault((*key, "push"), str(case.push), f"does not go with kind {case.kind}", "only blocked cases have it", "take the line out")
        if case.kind in ("hold", "blocked") and case.friction:
            yield Fault((*key, "friction"), f"{case.friction:g}", f"does not go with kind {case.kind}", "0: the arm stands still", "take the line out")
        if abs(case.eccentricity) > 0.5 * min(arm.geometry.input.width, arm.geometry.output.width):
            yield Fault((*key, "eccentricity"), length(case.eccentricity, arm.units), "lies outside the boss", f"at most half its width, {length(0.5 * min(arm.geometry.input.width, arm.geometry.output.width), arm.units)}", "check it")


def _duty(arm: Arm) -> Iterator[Fault]:
    for index, pair in enumerate(arm.duty.pairs):
        for end in ("from_case", "to_case"):
            if getattr(pair, end) not in arm.load_cases:
                yield Fault(("duty", "pairs", index, end), getattr(pair, end), "is no load case", f"one of {', '.join(arm.load_cases)}", "name one of them")
        if pair.from_case == pair.to_case:
            yield Fault(("duty", "pairs", index, "to_case"), pair.to_case, "is the case the cycle starts from", "two different cases", "name the other end of the cycle")


def _sweep(arm: Arm) -> Iterator[Fault]:
    for name in ("depth_at_hub", "depth_at_pins", "width", "flange_thickness", "web_thickness", "hub"):
        span = getattr(arm.sweep, name)
        if span is None:
            continue
        if span.least <= 0.0 or span.least > span.most:
            yield Fault(("sweep", name, "least"), length(span.least, arm.units), "is no lower end of this range", f"above 0 and at most {length(span.most, arm.units)}", "swap or mend the two")
        if name.endswith("thickness") and arm.geometry.section.kind == "solid":
            yield Fault(("sweep", name), "", "does not go with kind solid", "", "take it out")


def _text(arm: Arm) -> Iterator[Fault]:
    for name in ("description", "caution"):
        if any(ord(sign) < 32 and sign not in "\n\t" for sign in getattr(arm, name)):
            yield Fault((name,), "", "has control characters", "", "write plain text")


def _motion(arm: Arm) -> Iterator[Fault]:
    """Dead centres and the cylinder's travel over the swing."""
    moved = poses(arm, SWING)
    yield from _dead_centre(moved.push_arm / arm.geometry.input_arm, moved.phi, ("drive", "anchor"), "the cylinder")
    yield from _dead_centre(moved.pull_arm / arm.geometry.output_arm, moved.phi, ("driven",), "the load's line")
    least, most = float(moved.cylinder_length.min()), float(moved.cylinder_length.max())
    short, long = arm.drive.closed_length, arm.drive.closed_length + arm.drive.stroke
    if least < short - 0.01 or most > long + 0.01:
        can = moved.phi[(moved.cylinder_length >= short) & (moved.cylinder_length <= long)]
        makes = f"it makes {math.degrees(can.min()):.1f} to {math.degrees(can.max()):.1f} deg of the swing" if len(can) else "it makes no part of the swing"
        told = f"is a stroke the linkage cannot make: the swing needs {length(least, arm.units)} to {length(most, arm.units)} pin to pin"
        yield Fault(("drive", "stroke"), length(arm.drive.stroke, arm.units), told, f"the cylinder has {length(short, arm.units)} to {length(long, arm.units)}", makes)


def _dead_centre(sine: np.ndarray, phi: np.ndarray, key: Key, who: str) -> Iterator[Fault]:
    bad = np.abs(sine) < LEAST_SINE
    if not np.all(sine > 0.0) and not np.all(sine < 0.0):
        bad = bad | (np.sign(sine) != np.sign(sine[0]))
    if bad.any():
        angle = math.degrees(phi[np.argmin(np.abs(sine))])
        yield Fault(key, "", f"{who} crosses or nears dead centre inside the swing, at {angle:.1f} deg", "moment arm at least 0.05 of the arm, of one sign", "move the anchor or shorten the swing")
