"""Rules of building: walls and pins of the bores, room inside the section, arms between hub and bosses."""

from __future__ import annotations

from collections.abc import Iterator

from params.schema.arm import Arm, Bore
from params.schema.units import System, show
from params.steps.problems import Fault, Key

# Limits of this project, all common practice, no source.
LEAST_LIGAMENT = 1.0 / 6.0  # wall beside a bore over the bore: less tears, and cannot be examined
MOST_INTERFERENCE = 1.003  # pin over bore: ten times a usual shrink fit
LEAST_PIN = 0.8  # pin over bore: less is a pin for another bore
CLOSE_FIT = (
    1.0  # mm, most that a bore may be larger than its pin by AISC 360-22 D5.2 (1/32 in), as in the pin checks
)
HUB_OVER_DEPTH = 1.02  # so that the edges of the arms meet the hub's circle
LEAST_BOSS = 1.0  # boss over depth at the pins: the arm's edges end in its circle
LEAST_WEB = 0.2  # clear height between flanges over depth at the pins
MOST_ELEMENTS = 5e6  # elements of the largest size that would fill the arm
PROUD = 1.02  # width of hub and bosses over that of the section: their faces are machined, so they stand proud of it
BORES = ("pivot", "input", "output")


def building(arm: Arm) -> Iterator[Fault]:
    """Every rule of building that the arm breaks."""
    for name in BORES:
        bore: Bore = getattr(arm.geometry, name)
        key: Key = ("geometry", name)
        yield from _wall(bore, key, arm.units)
        yield from _pin(bore, (*key, "pin"), arm)
        yield from _width(bore, (*key, "width"), arm)
    yield from _plates_named(arm)
    yield from _plates_fit(arm)
    yield from _hub(arm)
    for name in ("input", "output"):
        yield from _reach(arm, name)
    yield from _mesh(arm)


def length(value: float, units: System) -> str:
    """A length in mm as text in the arm's units."""
    return show(value, "length", units)


def _wall(bore: Bore, key: Key, units: System) -> Iterator[Fault]:
    ligament = (bore.outside - bore.bore) / 2.0
    least = LEAST_LIGAMENT * bore.bore
    if ligament < least:
        wrong = f"leaves a wall of {length(ligament, units)} beside the bore of {length(bore.bore, units)}"
        limit = f"at least {length(least, units)} (one sixth of the bore)"
        mend = f"make it at least {length(bore.bore + 2.0 * least, units)} or the bore smaller"
        yield Fault((*key, "outside"), length(bore.outside, units), wrong, limit, mend)
        return
    most = min(0.5 * ligament, 0.25 * bore.width)
    if bore.chamfer > most:
        limit = f"at most {length(most, units)} (half the wall, a quarter of the width)"
        wrong = "is too large for the wall or the width"
        yield Fault((*key, "chamfer"), length(bore.chamfer, units), wrong, limit, "make it smaller")


def _pin(bore: Bore, key: Key, arm: Arm) -> Iterator[Fault]:
    pin, units = bore.pin, arm.units
    most, least = MOST_INTERFERENCE * bore.bore, LEAST_PIN * bore.bore
    if pin.diameter > most:
        limit = f"at most {length(bore.bore, units)}, or 0.3 % more for a shrunk fit"
        wrong = "is larger than the bore"
        yield Fault((*key, "diameter"), length(pin.diameter, units), wrong, limit, "check pin and bore")
    if pin.diameter < least:
        limit = f"at least {length(least, units)} (0.8 of the bore)"
        wrong = "is far smaller than the bore"
        yield Fault((*key, "diameter"), length(pin.diameter, units), wrong, limit, "check pin and bore")
    elif arm.criteria.pin_code == "aisc360" and bore.bore - pin.diameter > CLOSE_FIT + 1e-9:
        limit = f"at least {length(bore.bore - CLOSE_FIT, units)} (pin_code aisc360, D5.2: 1 mm less than the bore)"
        wrong = "is too small for the bore: no pin check of this code would hold"
        yield Fault((*key, "diameter"), length(pin.diameter, units), wrong, limit, "check pin and bore")
    if pin.tensile_strength < pin.yield_strength:
        value = show(pin.tensile_strength, "stress", units)
        limit = f"at least {show(pin.yield_strength, 'stress', units)}"
        yield Fault((*key, "tensile_strength"), value, "is below the yield strength", limit, "check both")


def _width(bore: Bore, key: Key, arm: Arm) -> Iterator[Fault]:
    section = arm.geometry.section.width
    if bore.width < PROUD * section:
        limit = f"at least {length(PROUD * section, arm.units)} (2 % more than the section)"
        wrong = "is too narrow for the section's width"
        yield Fault(key, length(bore.width, arm.units), wrong, limit, "widen it or narrow the section")


def _plates_named(arm: Arm) -> Iterator[Fault]:
    section = arm.geometry.section
    for name in ("flange_thickness", "web_thickness", "fillet"):
        key, size = ("geometry", "section", name), getattr(section, name)
        if section.kind == "solid" and size is not None:
            wrong = "is not used with kind solid"
            yield Fault(key, length(size, arm.units), wrong, "a bar has no plates", "remove the line")
        if section.kind != "solid" and size is None:
            yield Fault(key, "", "is missing", f"kind {section.kind} needs it", f"add {name} below section")


def _plates_fit(arm: Arm) -> Iterator[Fault]:
    section, key = arm.geometry.section, ("geometry", "section")
    flange, web, fillet = section.flange_thickness, section.web_thickness, section.fillet
    if section.kind == "solid" or flange is None or web is None or fillet is None:
        return
    depth, width, webs = section.depth_at_pins, section.width, 1.0 if section.kind == "i" else 2.0
    clear = depth - 2.0 * flange
    if clear <= 2.0 * fillet or clear < LEAST_WEB * depth:
        wrong = "leaves no web between flanges and fillets at the pins"
        limit = f"less than {length(min((1.0 - LEAST_WEB) / 2.0 * depth, depth / 2.0 - fillet), arm.units)}"
        mend = "thin the flanges or deepen the arm at the pins"
        yield Fault((*key, "flange_thickness"), length(flange, arm.units), wrong, limit, mend)
    room = width - webs * web
    if room <= 2.0 * fillet or room <= 0.1 * width:
        wrong = "leaves no room beside the web within the width"
        limit = f"less than {length(min(0.9 * width, width - 2.0 * fillet) / webs, arm.units)}"
        yield Fault(
            (*key, "web_thickness"), length(web, arm.units), wrong, limit, "thin the web or widen the section"
        )


def _hub(arm: Arm) -> Iterator[Fault]:
    geometry, section = arm.geometry, arm.geometry.section
    least = HUB_OVER_DEPTH * section.depth_at_hub
    if geometry.pivot.outside < least:
        wrong = f"is too small for the arms' depth of {length(section.depth_at_hub, arm.units)} at the hub"
        limit = f"at least {length(least, arm.units)} (2 % more than the depth)"
        mend = f"make it at least {length(least, arm.units)} or the arms less deep"
        yield Fault(
            ("geometry", "pivot", "outside"), length(geometry.pivot.outside, arm.units), wrong, limit, mend
        )
    if section.depth_at_pins > section.depth_at_hub:
        limit = f"at most {length(section.depth_at_hub, arm.units)}"
        value, wrong = length(section.depth_at_pins, arm.units), "is more than the depth at the hub"
        mend = "make the arms taper toward the pins"
        yield Fault(("geometry", "section", "depth_at_pins"), value, wrong, limit, mend)


def _reach(arm: Arm, name: str) -> Iterator[Fault]:
    geometry = arm.geometry
    boss, reach = getattr(geometry, name).outside, getattr(geometry, f"{name}_arm")
    least = 0.5 * (geometry.pivot.outside + boss + geometry.section.depth_at_pins)
    if reach < least:
        limit = f"at least {length(least, arm.units)} (radii of hub and boss and half the depth at the pins)"
        mend = "lengthen the arm or make hub and boss smaller"
        wrong = "leaves no arm between hub and boss"
        yield Fault(("geometry", f"{name}_arm"), length(reach, arm.units), wrong, limit, mend)
    if boss < LEAST_BOSS * geometry.section.depth_at_pins:
        limit = f"at least {length(LEAST_BOSS * geometry.section.depth_at_pins, arm.units)} (the depth)"
        wrong, mend = (
            "is smaller than the depth of the arm there",
            "enlarge the boss or taper the arm more",
        )
        yield Fault(("geometry", name, "outside"), length(boss, arm.units), wrong, limit, mend)


def _mesh(arm: Arm) -> Iterator[Fault]:
    geometry, largest = arm.geometry, arm.mesh.largest
    block = (
        (geometry.input_arm + geometry.output_arm) * geometry.section.depth_at_hub * geometry.section.width
    )
    tetrahedron = largest**3 / 6.0 / 2.0**0.5  # regular, of this edge
    if block / tetrahedron > MOST_ELEMENTS:
        least = (6.0 * 2.0**0.5 * block / MOST_ELEMENTS) ** (1.0 / 3.0)
        wrong = f"would fill the arm with about {block / tetrahedron:.0e} elements"
        limit = f"at least {length(least, arm.units)}"
        yield Fault(("mesh", "largest"), length(largest, arm.units), wrong, limit, "make it larger")
