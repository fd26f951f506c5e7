"""The arm as it is made before machining, without CAD: its file's sizes enlarged by the stock of a route.

Machined faces (bores, hub and boss ends) get the machining stock, all others the near-net allowance; no wall is thinner
than one bead. Every enlarged face lies outside the finished one or on it.
"""

from __future__ import annotations

import numpy as np

from geometry.datums import ARMS, arm_datum
from params.schema.arm import Arm, Bore, Section
from params.schema.route import Process

LEAST_HOLE = 2.0  # beads across the smallest hole that is left open; a smaller one is filled and drilled


def near_net(arm: Arm, route: Process) -> Arm:
    """The arm with the sizes of its near-net part; bores of no diameter are left full. Not checked by the file's rules."""
    geometry, allowance = arm.geometry, route.stock.near_net
    section = grown_section(arm, route)
    blend = inside_radius(geometry.blend_radius, allowance, route)
    changed = {name: grown_bore(getattr(geometry, name), route) for name in ("pivot", "input", "output")}
    changed |= {"section": section, "blend_radius": blend}
    return arm.model_copy(update={"geometry": geometry.model_copy(update=changed)})


def grown_bore(bore: Bore, route: Process) -> Bore:
    """Hub or boss: round outside by the allowance, ends proud and bore smaller by the machining stock, no chamfer."""
    stock, bead = route.stock, route.limits.bead_width or 0.0
    hole = bore.bore - 2.0 * stock.machining
    outside = max(bore.outside + 2.0 * stock.near_net, hole + 2.0 * bead)
    changed = {
        "outside": outside,
        "width": bore.width + 2.0 * stock.machining,
        "bore": hole if hole > LEAST_HOLE * bead else 0.0,
        "chamfer": 0.0,
    }
    return bore.model_copy(update=changed)


def grown_section(arm: Arm, route: Process) -> Section:
    """The section with the allowance on all its faces; slanted edges move square to themselves."""
    section, allowance = arm.geometry.section, route.stock.near_net
    bead = route.limits.bead_width or 0.0
    taper = max(steepness(arm, name) for name in ARMS)
    across = allowance * float(np.hypot(1.0, taper))
    changed: dict[str, float] = {
        "depth_at_hub": section.depth_at_hub + 2.0 * across,
        "depth_at_pins": section.depth_at_pins + 2.0 * across,
        "width": section.width + 2.0 * allowance,
    }
    if section.kind != "solid":
        # Beside the grown hub circle the arms are a little deeper than where the finished ones leave it.
        inner = across + allowance * taper
        changed["flange_thickness"] = max((section.flange_thickness or 0.0) + across + inner, bead)
        changed["web_thickness"] = max((section.web_thickness or 0.0) + 2.0 * allowance, bead)
        changed["fillet"] = inside_radius(section.fillet or 0.0, allowance, route)
    return section.model_copy(update=changed)


def steepness(arm: Arm, name: str) -> float:
    """Largest slope of an edge against the arm's axis."""
    at, depth = arm_datum(arm, name).corners()
    return float(np.max(np.abs(np.diff(depth) / 2.0 / np.diff(at))))


def inside_radius(radius: float, allowance: float, route: Process) -> float:
    """Radius of an inside corner once the allowance lies on both its sides, no sharper than the route leaves one."""
    return max(radius - allowance, min(radius, route.limits.inside_radius))
