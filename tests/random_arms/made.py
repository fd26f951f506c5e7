"""One arm of a seed: its data and what it was meant to be."""

from __future__ import annotations

import math
import random

from tests.random_arms.bore_life import bores
from tests.random_arms.cracking import cracks, found_cracks
from tests.random_arms.demands import criteria, drawing, duty, load_cases, mesh, sweep
from tests.random_arms.movement import linkage, load
from tests.random_arms.quantities import Maker
from tests.random_arms.shapes import shape
from tests.random_arms.slips import spoil

MATERIALS = {  # name: yield in MPa, form
    "a27-65-35": 240,
    "a148-80-50": 345,
    "a572-50": 345,
    "a709-hps-70w": 485,
    "er80s-d2": 470,
    "er100s-1": 610,
    "er110s-1": 660,
}


def arm(seed: int, index: int) -> tuple[dict, dict]:
    """Data of one arm and the row that says what it was meant to be."""
    rng = random.Random(f"{seed}/{index}")
    name = f"rand-{seed}-{index:04d}"
    style = rng.choices(["typical", "slender", "stocky", "edge", "careless"], [36, 18, 18, 16, 12])[0]
    units = rng.choice(["si", "us"])
    make = Maker(rng, units, 0.03 if rng.random() < 0.3 else 0.0)
    kind = rng.choices(["i", "box", "solid"], [40, 35, 25])[0]
    geometry = shape(rng, make, kind, style)
    drive, driven, moved = linkage(rng, make, geometry, style)
    material = rng.choice(list(MATERIALS))
    load(rng, make, geometry, drive, driven, moved, MATERIALS[material])
    cases = load_cases(rng, make, geometry, moved)
    data = {
        "name": name,
        "units": units,
        "description": f"Random arm {index} of seed {seed}: {kind} section, {style}. Every number invented.",
        "revision": rng.choice(["A", "B", "0", "2.1", "P-3"]),
        "caution": "Invented arm of a generator. Nothing was measured.",
        "geometry": geometry,
        "drive": drive,
        "driven": driven,
        "load_cases": cases,
        "duty": duty(rng, cases),
        "material": material,
        "criteria": criteria(rng),
    }
    if rng.random() < 0.75:
        data["bores"] = bores(rng, make, geometry, cases)
    if rng.random() < 0.65:
        data["cracks"] = cracks(rng, make)
        if rng.random() < 0.8:
            data["found_cracks"] = found_cracks(rng, make, geometry, data["cracks"])
    if rng.random() < 0.8:
        data["outage"] = "late-autumn"  # a file of params/outages
    if data["criteria"]["pin_code"] == "aisc360":
        close_pins(rng, make, geometry)
    data["sweep"] = sweep(rng, make, geometry)
    data["mesh"] = mesh(rng, make, geometry)
    if rng.random() < 0.6:
        data["drawing"] = drawing(rng, make)
    spoiled = spoil(rng, make, data) if style == "careless" else ""
    return data, {
        "name": name,
        "style": style,
        "units": units,
        "kind": kind,
        "spoiled": spoiled,
        "input_arm_mm": round(geometry["input_arm"].v),
        "output_arm_mm": round(geometry["output_arm"].v),
        "included_deg": round(math.degrees(geometry["included_angle"].v), 1),
        "depth_ratio": round(
            geometry["section"]["depth_at_hub"].v / max(geometry["input_arm"].v, geometry["output_arm"].v), 3
        ),
        "driven": "anchor" if "anchor" in driven else "direction",
        "load": "moment" if "moment" in driven["load"][0] else "force",
        "cases": len(cases),
        "kinds": "+".join(sorted({one["kind"] for one in cases.values()})),
        "pin_code": data["criteria"]["pin_code"],
        "material": material,
        "sections": "+".join(key for key in ("bores", "cracks", "found_cracks", "drawing") if key in data),
        "welds": len(data.get("bores", {}).get("welds", [])),
    }


def close_pins(rng: random.Random, make: Maker, geometry: dict) -> None:
    """Pins within 1 mm of their bores (AISC 360-22 D5.2), as the check of that code wants them."""
    for part in ("pivot", "input", "output"):
        hole, pin = geometry[part]["bore"].v, geometry[part]["pin"]
        if hole - pin["diameter"].v > 0.8:
            pin["diameter"] = make.fine(hole - rng.uniform(0.3, 0.7))
