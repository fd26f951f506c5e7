"""Arms, hub, bosses and section that keep the rules of building, some close to them."""

from __future__ import annotations

import random

from tests.random_arms.quantities import Maker, log_uniform


def shape(rng: random.Random, make: Maker, kind: str, style: str) -> dict:
    """Arms, hub, bosses and section that keep the rules of building; `edge` comes close to them."""
    longer = log_uniform(rng, 400.0, 8000.0)
    shorter = longer * rng.uniform(0.45, 1.0)
    lengths = [longer, shorter]
    rng.shuffle(lengths)
    share = {"slender": (0.07, 0.14), "stocky": (0.32, 0.5), "edge": (0.08, 0.45)}.get(style, (0.17, 0.33))
    depth = longer * rng.uniform(*share)
    edge = style == "edge"
    taper = (
        rng.choice([1.0, rng.uniform(0.25, 0.5)]) if edge and rng.random() < 0.5 else rng.uniform(0.35, 0.95)
    )
    hub_over, boss_over = (
        (rng.uniform(1.022, 1.06), rng.uniform(1.002, 1.03))
        if edge
        else (rng.uniform(1.05, 1.6), rng.uniform(1.03, 1.5))
    )
    boss_over_2 = boss_over * (1.0 if rng.random() < 0.5 else rng.uniform(1.0, 1.25))
    while min(lengths) < 0.5 * depth * (hub_over + taper * (1.0 + max(boss_over, boss_over_2))) * 1.03:
        depth *= 0.93
    width = depth * rng.uniform(0.18, 0.75)
    at_hub = make.length(depth, up=False)
    at_pins = make.length(min(depth * taper, at_hub.v), up=False)
    wide = make.length(width)
    section: dict = {"kind": kind, "depth_at_hub": at_hub, "depth_at_pins": at_pins, "width": wide}
    if kind != "solid":
        section |= plates(rng, make, kind, at_pins.v, wide.v, edge)
    outsides = [hub_over * at_hub.v, boss_over * at_pins.v, boss_over_2 * at_pins.v]
    included = rng.choices(
        [180.0, 90.0, rng.uniform(90.0, 120.0), rng.uniform(120.0, 180.0)], [12, 8, 35, 45]
    )[0]
    blend = (
        0.0
        if rng.random() < 0.1
        else min(999.0, at_hub.v * rng.choice([rng.uniform(0.03, 0.35), rng.uniform(0.03, 0.15)]))
    )
    if edge and rng.random() < 0.3:
        blend = min(999.0, at_hub.v * rng.uniform(0.6, 1.5))
    bores = {
        part: bore(rng, make, outside, wide.v, edge)
        for part, outside in zip(("pivot", "input", "output"), outsides, strict=True)
    }
    return {
        "input_arm": make.length(lengths[0], up=True),
        "output_arm": make.length(lengths[1], up=True),
        "included_angle": make.degrees(included),
        "blend_radius": make.length(blend),
        **bores,
        "section": section,
    }


def plates(rng: random.Random, make: Maker, kind: str, depth: float, width: float, edge: bool) -> dict:
    """Flange, web and fillet that leave a clear web and room beside it."""
    webs = 1.0 if kind == "i" else 2.0
    flange = depth * (rng.choice([0.05, 0.38]) if edge and rng.random() < 0.4 else rng.uniform(0.07, 0.26))
    web = width / webs * (rng.choice([0.06, 0.8]) if edge and rng.random() < 0.4 else rng.uniform(0.08, 0.45))
    flange, web = make.length(max(3.0, flange), up=False), make.length(max(3.0, web), up=False)
    room = min((depth - 2.0 * flange.v) / 2.0, (width - webs * web.v) / 2.0)
    most = min(0.9 * room, 999.0)
    if rng.random() < 0.2:
        fillet = 0.0
    elif edge and rng.random() < 0.4:
        fillet = 0.95 * most
    else:
        fillet = min(0.6 * most, rng.uniform(0.15, 1.0) * min(flange.v, web.v))
    return {
        "flange_thickness": flange,
        "web_thickness": web,
        "fillet": make.length(max(0.0, fillet), up=False),
    }


def bore(rng: random.Random, make: Maker, outside: float, section: float, edge: bool) -> dict:
    """Hub or boss with its pin."""
    around = make.length(outside, up=True)
    hole = make.length(
        around.v * (rng.uniform(0.70, 0.745) if edge and rng.random() < 0.4 else rng.uniform(0.3, 0.62)),
        up=False,
    )
    wide = make.length(section * (rng.uniform(1.021, 1.04) if edge else rng.uniform(1.04, 1.7)), up=True)
    least = min(0.5 * (around.v - hole.v) / 2.0, 0.25 * wide.v)
    chamfer = (
        0.0
        if rng.random() < 0.15
        else least * (0.95 if edge and rng.random() < 0.3 else rng.uniform(0.02, 0.3))
    )
    rough = rng.random()
    pin = hole.v * (
        rng.uniform(0.97, 0.999)
        if rough < 0.9
        else rng.choice([rng.uniform(0.82, 0.95), rng.uniform(1.0, 1.002)])
    )
    strength = rng.uniform(300.0, 1000.0)
    return {
        "bore": hole,
        "outside": around,
        "width": wide,
        "chamfer": make.fine(chamfer),
        "pin": {
            "diameter": make.fine(pin),
            "yield_strength": make.stress(strength),
            "tensile_strength": make.stress(strength * rng.uniform(1.1, 1.5)),
            "side_plate": make.length(wide.v * rng.uniform(0.2, 0.7)),
            "gap": make.length(0.0 if rng.random() < 0.1 else wide.v * rng.uniform(0.005, 0.06)),
        },
    }
