"""What can be built, once: rules over section and hub sizes as arrays, for the file's own sizes and for a whole sweep.

`params.rules.build` tells a broken rule of the file with its value, limit and mend; a sweep takes the same rules as the reason why
a design is no part. Lengths in mm. Limits without a source are common practice.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import Any, Protocol

import numpy as np
from numpy.typing import NDArray

from params.schema.arm import Arm, Geometry
from params.schema.geometry import ARMS, BORES
from params.schema.units import System, show
from params.steps.arrays import Floats
from params.steps.problems import Key

Flags = NDArray[np.bool_]

LEAST_LIGAMENT = 1.0 / 6.0  # wall beside a bore over the bore: less tears, and cannot be examined
HUB_OVER_DEPTH = 1.02  # so that the edges of the arms meet the hub's circle
LEAST_BOSS = 1.0  # boss over depth at the pins: the arm's edges end in its circle
LEAST_WEB = 0.2  # clear height between flanges over depth at the pins
CORNER = 1.2  # corner radius of a pocket (i) over its floor's fillet, as `geometry.outline` builds it
HEIGHTS = 25  # at which a place for a pocket's corner is looked for
LEAST_BESIDE = 0.1  # room beside the webs over the width
MOST_ELEMENTS = 5e6  # elements of the largest size that would fill the arm
PROUD = 1.02  # width of hub and bosses over that of the section: their faces are machined, so they stand proud of it
SIZES = ("depth_at_hub", "depth_at_pins", "width", "flange_thickness", "web_thickness", "fillet")


class Designs(Protocol):
    """Sizes of D designs, each (D,) mm; flange, web and fillet are 0 in a solid bar."""

    kind: str
    depth_at_hub: Floats
    depth_at_pins: Floats
    width: Floats
    flange_thickness: Floats
    web_thickness: Floats
    fillet: Floats
    hub: Floats


@dataclass(frozen=True)
class AsWritten:
    """The sizes of an arm's file as one design."""

    kind: str
    depth_at_hub: Floats
    depth_at_pins: Floats
    width: Floats
    flange_thickness: Floats
    web_thickness: Floats
    fillet: Floats
    hub: Floats

    @classmethod
    def of(cls, geometry: Geometry) -> AsWritten:
        section = geometry.section
        sizes = [np.array([getattr(section, name) or 0.0]) for name in SIZES]
        return cls(section.kind, *sizes, np.array([geometry.pivot.outside]))


@dataclass(frozen=True)
class Rule:
    """A rule over D designs: where it is broken, and what a file's line says of the first of them."""

    key: Key
    broken: Flags  # (D,)
    short: str  # reason of a design
    value: Any  # (D,) mm, or a number
    wrong: Callable[[System], str]
    limit: Callable[[System], str]
    mend: Callable[[System], str]


def length(value: Any, units: System) -> str:
    """A length in mm, the first of an array, as text in the arm's units."""
    return show(float(np.ravel(value)[0]), "length", units)


def same(text: str) -> Callable[[System], str]:
    return lambda units: text


def rules(arm: Arm, designs: Designs) -> Iterator[Rule]:
    """Every rule of building that sizes of a sweep can break."""
    geometry = arm.geometry
    yield from _depths(designs)
    yield from wall("pivot", geometry, designs.hub)
    for name in ARMS:
        yield from _reach(geometry, designs, name)
    for name in BORES:
        yield _proud(geometry, designs, name)
    if designs.kind != "solid":
        yield from _plates(designs)
        for name in ARMS:
            yield _pocket(geometry, designs, name)
    yield _elements(arm, designs)


def unbuildable(arm: Arm, designs: Designs) -> NDArray[np.str_]:
    """Why each design cannot be built, (D,); empty text where it can."""
    reason = np.full(len(designs.hub), "", dtype="<U60")
    for rule in rules(arm, designs):
        reason[np.broadcast_to(rule.broken, reason.shape) & (reason == "")] = rule.short
    return reason


def least_outside(bore: Any) -> Any:
    """Least outside of hub or boss about a bore."""
    return bore + 2.0 * LEAST_LIGAMENT * bore


def most_chamfer(outside: Any, bore: float, width: float) -> Any:
    """Largest chamfer: half the wall, a quarter of the width."""
    return np.minimum(0.25 * (np.asarray(outside) - bore), 0.25 * width)


def wall(name: str, geometry: Geometry, outside: Floats) -> Iterator[Rule]:
    """Wall beside a bore and its chamfer, of hubs or bosses of these outsides (D,)."""
    bore = getattr(geometry, name)
    key: Key = ("geometry", name)
    ligament, least = (outside - bore.bore) / 2.0, LEAST_LIGAMENT * bore.bore
    thin, most = ligament < least, most_chamfer(outside, bore.bore, bore.width)
    part = "hub" if name == "pivot" else "boss"
    yield Rule(
        (*key, "outside"),
        thin,
        f"{part} wall under a sixth of the bore",
        outside,
        lambda u: f"leaves a wall of {length(ligament, u)} beside the bore of {length(bore.bore, u)}",
        lambda u: f"at least {length(least, u)} (one sixth of the bore)",
        lambda u: f"make it at least {length(least_outside(bore.bore), u)} or the bore smaller",
    )
    yield Rule(
        (*key, "chamfer"),
        ~thin & (bore.chamfer > most),
        f"chamfer too large for the {part} wall",
        bore.chamfer,
        same("is too large for the wall or the width"),
        lambda u: f"at most {length(most, u)} (half the wall, a quarter of the width)",
        same("make it smaller"),
    )


def _proud(geometry: Geometry, designs: Designs, name: str) -> Rule:
    width, least = getattr(geometry, name).width, PROUD * designs.width
    return Rule(
        ("geometry", name, "width"),
        width < least,
        "hub or boss does not stand proud of the section",
        width,
        same("does not stand proud of the section's width"),
        lambda u: f"at least {length(least, u)} (2 % more than the section)",
        same("widen it or narrow the section"),
    )


def _plates(designs: Designs) -> Iterator[Rule]:
    key: Key = ("geometry", "section")
    depth, width, webs = designs.depth_at_pins, designs.width, 1.0 if designs.kind == "i" else 2.0
    flange, web, fillet = designs.flange_thickness, designs.web_thickness, designs.fillet
    clear, room = depth - 2.0 * flange, width - webs * web
    corner = corner_of(designs)
    yield Rule(
        (*key, "flange_thickness"),
        (clear <= 2.0 * corner) | (clear < LEAST_WEB * depth),
        "no web between the flanges at the pins",
        flange,
        same("leaves no web between flanges and fillets at the pins"),
        lambda u: f"less than {length(np.minimum((1.0 - LEAST_WEB) / 2.0 * depth, depth / 2.0 - corner), u)}",
        same("thin the flanges or deepen the arm at the pins"),
    )
    yield Rule(
        (*key, "web_thickness"),
        (room <= 2.0 * fillet) | (room <= LEAST_BESIDE * width),
        "no room beside the web within the width",
        web,
        same("leaves no room beside the web within the width"),
        lambda u: (
            f"less than {length(np.minimum((1.0 - LEAST_BESIDE) * width, width - 2.0 * fillet) / webs, u)}"
        ),
        same("thin the web or widen the section"),
    )


def corner_of(designs: Designs) -> Floats:
    """Radius of the corners of the clear field between the flanges, in the elevation."""
    return (CORNER if designs.kind == "i" else 1.0) * designs.fillet


def pocket_fits(geometry: Geometry, designs: Designs, name: str, corner: Floats) -> Flags:
    """Whether a disc of radius `corner` (D,) has a place in the clear field of an arm: that is what its corners need.

    The field lies between the circles of hub and boss, the flanges, and half a flange off the line between both arms. The disc's
    centre is tried at heights over the arm's axis on the side away from the other arm, each time as near to the hub as it can be,
    where the arm is deepest.
    """
    flange, hub = designs.flange_thickness, designs.hub / 2.0
    reach, boss = getattr(geometry, f"{name}_arm"), getattr(geometry, name).outside / 2.0
    slope = (designs.depth_at_hub - designs.depth_at_pins) / 2.0 / (reach - hub)
    tilt = np.hypot(1.0, slope)
    up = np.linspace(0.0, 1.0, HEIGHTS)[:, None] * np.minimum(hub + corner, designs.depth_at_hub / 2.0)
    near = np.sqrt(np.maximum((hub + corner) ** 2 - up**2, 0.0))
    far = reach - np.sqrt(np.maximum((boss + corner) ** 2 - up**2, 0.0))
    half = designs.depth_at_hub / 2.0 - slope * np.maximum(near - hub, 0.0)
    knee = geometry.included_angle / 2.0
    off = near * np.sin(knee) + up * np.cos(knee) - flange / 2.0
    fits = (near <= far) & (up + tilt * (corner + flange) <= half) & (off >= corner)
    return fits.any(axis=0)


def _pocket(geometry: Geometry, designs: Designs, name: str) -> Rule:
    corner, fillet = corner_of(designs), designs.fillet

    def most(units: System) -> str:
        low, high = np.zeros_like(corner), corner
        for _ in range(40):
            middle = (low + high) / 2.0
            fits = pocket_fits(geometry, designs, name, middle)
            low, high = np.where(fits, middle, low), np.where(fits, high, middle)
        share = np.divide(fillet, corner, out=np.zeros_like(corner), where=corner > 0.0)
        return f"at most {length(low * share, units)}, whose corner has room between flanges, hub and boss"

    return Rule(
        ("geometry", "section", "fillet"),
        ~pocket_fits(geometry, designs, name, corner),
        f"corners do not fit the pocket of the {name} arm",
        fillet,
        same(f"leaves no place for the corners of the {name} arm's pocket"),
        most,
        same("make the fillet smaller, the flanges thinner or the arm longer"),
    )


def _depths(designs: Designs) -> Iterator[Rule]:
    deep, least = designs.depth_at_hub, HUB_OVER_DEPTH * designs.depth_at_hub
    yield Rule(
        ("geometry", "pivot", "outside"),
        designs.hub < least,
        "section deeper at the hub than the hub circle",
        designs.hub,
        lambda u: f"is too small for the arms' depth of {length(deep, u)} at the hub",
        lambda u: f"at least {length(least, u)} (2 % more than the depth)",
        lambda u: f"make it at least {length(least, u)} or the arms less deep",
    )
    yield Rule(
        ("geometry", "section", "depth_at_pins"),
        designs.depth_at_pins > deep,
        "deeper at the pins than at the hub",
        designs.depth_at_pins,
        same("is more than the depth at the hub"),
        lambda u: f"at most {length(deep, u)}",
        same("make the arms taper toward the pins"),
    )


def _reach(geometry: Geometry, designs: Designs, name: str) -> Iterator[Rule]:
    boss, reach = getattr(geometry, name).outside, getattr(geometry, f"{name}_arm")
    least = 0.5 * (designs.hub + boss + designs.depth_at_pins)
    yield Rule(
        ("geometry", f"{name}_arm"),
        reach < least,
        "no arm between hub and boss",
        reach,
        same("leaves no arm between hub and boss"),
        lambda u: f"at least {length(least, u)} (radii of hub and boss and half the depth at the pins)",
        same("lengthen the arm or make hub and boss smaller"),
    )
    deep = LEAST_BOSS * designs.depth_at_pins
    yield Rule(
        ("geometry", name, "outside"),
        boss < deep,
        "section deeper at the pins than the boss",
        boss,
        same("is smaller than the depth of the arm there"),
        lambda u: f"at least {length(deep, u)} (the depth)",
        same("enlarge the boss or taper the arm more"),
    )


def _elements(arm: Arm, designs: Designs) -> Rule:
    geometry, largest = arm.geometry, arm.mesh.largest
    block = (geometry.input_arm + geometry.output_arm) * designs.depth_at_hub * designs.width
    count = block / (largest**3 / 6.0 / 2.0**0.5)  # regular tetrahedra of this edge
    return Rule(
        ("mesh", "largest"),
        count > MOST_ELEMENTS,
        "too many elements of the file's largest size",
        largest,
        lambda u: f"would fill the arm with about {float(np.ravel(count)[0]):.0e} elements",
        lambda u: f"at least {length((6.0 * 2.0**0.5 * block / MOST_ELEMENTS) ** (1.0 / 3.0), u)}",
        same("make it larger"),
    )
