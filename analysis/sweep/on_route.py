"""An arm adapted to a route: the kinds of section, walls, plates and radii the route makes, its factors and its material."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

import numpy as np

from analysis.sweep.file_sections import cracks_of, finished
from analysis.sweep.grid import rounded
from params.files.readroute import read_route, route_file, route_for
from params.schema.arm import Arm, Section, Span
from params.schema.material import Material
from params.schema.route import Route
from params.schema.units import show
from params.steps.arrays import Floats

NEAREST = {"i": ("i", "box", "solid"), "box": ("box", "i", "solid"), "solid": ("solid", "i", "box")}
WALLS = ("flange_thickness", "web_thickness")
FACTORS = ("design_factor", "peak_factor", "pin_factor")
SHARE, STEPS = (
    0.25,
    6,
)  # walls of a bar made as an i or a box: up to this share of depth and width, so many sizes


@dataclass(frozen=True)
class Fitted:
    """The arm as the route would make it; `walls` are the values (mm) its flanges and webs may take, empty in a bar."""

    arm: Arm
    walls: dict[str, Floats]
    notes: tuple[str, ...]


def fitted(arm: Arm, route: Route, own: Material, material: Material) -> Fitted:
    """Limits, factors and a material of the route on the arm and its ranges; `own` is the material of the arm's file.

    A kind of section that the route does not make gives way to the nearest that it makes. Where the route's steel allows
    less than the arm's own, flanges and webs may become as much thicker; outside sizes stay within the file's ranges.
    Where no plate is thick enough a wall has no value at all.
    """
    kind = next(kind for kind in NEAREST[arm.geometry.section.kind] if kind in route.limits.sections)
    section = of_kind(arm, kind, route)
    radius = max(arm.geometry.blend_radius, route.limits.inside_radius)
    changed = {
        "geometry": arm.geometry.model_copy(update={"section": section, "blend_radius": radius}),
        "material": material.name,
        **factored(owned(arm), route),
        "sweep": arm.sweep if kind != "solid" else arm.sweep.model_copy(update=dict.fromkeys(WALLS)),
    }
    cracks, note = cracks_of(arm, route, material)
    changed |= {"bores": finished(arm.bores, route), "cracks": cracks}
    weaker = max(1.0, own.yield_strength / material.yield_strength * weakening(route))
    walls = {} if kind == "solid" else {name: wall(arm, name, route, weaker) for name in WALLS}
    stretched = f"walls up to {weaker:.2f} times as thick as the arm's file allows" if weaker > 1.0 else ""
    every = [*notes(arm, section, radius, route), *filter(None, (stretched, note))]
    return Fitted(arm.model_copy(update=changed), walls, tuple(every))


def weakening(route: Route) -> float:
    """Factor on the design factors: casting factor over the share of strength across the build."""
    return route.factors.casting / route.factors.across_build


def of_kind(arm: Arm, kind: str, route: Route) -> Section:
    """The section in another kind; walls are set by the sweep, so that here they only have to be there."""
    section = arm.geometry.section
    least = least_wall(route)
    sizes: dict[str, float | None] = dict.fromkeys((*WALLS, "fillet"))
    if kind != "solid":
        fillet = max(own_fillet(arm), route.limits.inside_radius)
        sizes = {name: max(getattr(section, name) or 0.0, least) for name in WALLS} | {"fillet": fillet}
    return section.model_copy(update=sizes | {"kind": kind})


def own_fillet(arm: Arm) -> float:
    """The least fillet that the owner asks for, mm: none where the file's is what the route that it names makes anyway."""
    fillet = arm.geometry.section.fillet or 0.0
    if arm.route is None:
        return fillet
    made = read_route(route_file(arm, arm.route)).limits.inside_radius
    return fillet if fillet > made else 0.0


def least_wall(route: Route) -> float:
    """No wall is thinner than the route makes, nor than one bead, mm."""
    return max(route.limits.least_wall, route.limits.bead_width or 0.0)


def wall(arm: Arm, name: str, route: Route, weaker: float) -> Floats:
    """Values of a wall in mm: the plates within the range, or the range from the least wall on, or the least there is.

    A stretched range has as many sizes as keep the file's step in proportion.
    """
    low, most, steps = wall_range(arm, name, least_wall(route))
    low, high = max(low, least_wall(route)), weaker * most
    if not route.limits.plate_stock:
        if high <= low:
            return np.array([low])
        if weaker == 1.0 or steps == 1:
            return rounded(np.linspace(low, high, steps), arm)
        step = math.log(most / wall_range(arm, name, low)[0]) / (steps - 1)
        return rounded(np.geomspace(low, high, 1 + math.ceil(math.log(high / low) / step)), arm)
    plates = np.array(sorted(plate for plate in route.limits.plate_stock if plate >= low))
    within = plates[plates <= high]
    return within if len(within) else plates[:1]


def wall_range(arm: Arm, name: str, least: float) -> tuple[float, float, int]:
    """Least, most and number of sizes that the file gives a wall, or a share of depth or width where it gives none."""
    span: Span | None = getattr(arm.sweep, name)
    section = arm.geometry.section
    written = getattr(section, name)
    if span is not None:
        return span.least, span.most, span.steps
    if written is not None:
        return written, written, 1
    return least, SHARE * (section.depth_at_pins if name == WALLS[0] else section.width), STEPS


def on_own_route(arm: Arm, material: Material) -> tuple[Fitted, Route | None]:
    """The arm with factors, limits and walls of the route of its own material; as it is where no route lists that material.

    Its own sections on bores and cracks stay: they say how it is finished and what is known of its steel.
    """
    route = route_for(arm, material)
    if route is None:
        return Fitted(arm, {}, ()), None
    found = fitted(arm, route, material, material)
    kept = found.arm.model_copy(update={"bores": arm.bores, "cracks": arm.cracks})
    return Fitted(kept, found.walls, found.notes), route


def owned(arm: Arm) -> Arm:
    """The arm with the owner's own factors: without those of the route that its file names."""
    if arm.route is None:
        return arm
    took = weakening(read_route(route_file(arm, arm.route)))
    return arm.model_copy(update=scaled(arm, lambda factor: round(factor / took, 3)))


def factored(arm: Arm, route: Route) -> dict[str, Any]:
    """The factors on strength times the route's, rounded up to four decimals, and the route's name."""
    took = weakening(route)
    return scaled(arm, lambda factor: math.ceil(1e4 * factor * took - 1e-6) / 1e4) | {"route": route.name}


def scaled(arm: Arm, change: Callable[[float], float]) -> dict[str, Any]:
    """Criteria and load cases with every factor on strength changed."""
    changed = {name: max(1.0, change(getattr(arm.criteria, name))) for name in FACTORS}
    cases = {
        name: case.model_copy(update={"design_factor": max(1.0, change(case.design_factor))})
        if case.design_factor is not None
        else case
        for name, case in arm.load_cases.items()
    }
    return {"criteria": arm.criteria.model_copy(update=changed), "load_cases": cases}


def notes(arm: Arm, section: Section, radius: float, route: Route) -> list[str]:
    """What the route changes, one short text each."""
    changes, least = [], show(least_wall(route), "length", arm.units)
    if section.kind != arm.geometry.section.kind:
        changes.append(
            f"section {section.kind} instead of {arm.geometry.section.kind}: the most similar that the route can make"
        )
    if section.kind != "solid" and any(wall_range(arm, name, 0.0)[0] < least_wall(route) for name in WALLS):
        changes.append(f"walls at least {least} thick")
    if radius > arm.geometry.blend_radius:
        changes.append(f"blend radius raised to {show(radius, 'length', arm.units)}")
    if route.factors.casting > 1.0:
        changes.append(f"casting factor {route.factors.casting:g} on the design factors")
    if route.factors.across_build < 1.0:
        changes.append(f"strength times {route.factors.across_build:g} across the layers, in every direction")
    if route.limits.draft > 0.0:
        changes.append("sizes without the draft of the pattern")
    return changes
