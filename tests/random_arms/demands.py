"""Load cases, duty, criteria, and what is asked of the mesh, the sweep and the drawing."""

from __future__ import annotations

import random

from tests.random_arms.quantities import Maker, Q, log_uniform


def load_cases(rng: random.Random, make: Maker, geometry: dict, moved: dict) -> dict:
    """At least two cases; every kind turns up."""
    pool = [
        ("raise", {"kind": "raise"}),
        ("lower", {"kind": "lower"}),
        ("hold", {"kind": "hold"}),
        ("jam-extend", {"kind": "blocked", "push": "extend"}),
        ("jam-retract", {"kind": "blocked", "push": "retract"}),
        ("raise-shock", {"kind": "raise"}),
        ("lower-brake", {"kind": "lower"}),
        ("hold_surge", {"kind": "hold"}),
        ("empty-raise", {"kind": "raise", "load_factor": 0.0}),
        ("ice", {"kind": "hold", "load_factor": 1.5}),
    ]
    chosen = rng.sample(pool, rng.choice([2, 3, 3, 4, 5, 6, 8]))
    most = 0.45 * min(geometry["input"]["width"].v, geometry["output"]["width"].v)
    locked = (
        0.45 * min(abs(value) for value in moved["push"]) / (geometry["pivot"]["pin"]["diameter"].v / 2.0)
    )
    made = {}
    for name, kind in chosen:
        case = dict(kind)
        if rng.random() < 0.8:
            case["side_ratio"] = round(rng.choice([0.02, rng.uniform(0.0, 0.06)]), 3)
        if rng.random() < 0.4:
            case["eccentricity"] = make.length(
                rng.choice([-1.0, 1.0]) * min(most, geometry["input"]["width"].v * rng.uniform(0.0, 0.05))
            )
        if case["kind"] in ("raise", "lower"):
            if rng.random() < 0.8:
                case["friction"] = round(min(rng.uniform(0.05, 0.25), locked), 2)
            if rng.random() < 0.4:
                case["shock_factor"] = round(rng.uniform(1.0, 1.6), 2)
        if case["kind"] == "hold" and "load_factor" not in case and rng.random() < 0.4:
            case["load_factor"] = round(rng.uniform(0.5, 1.6), 2)
        made[name] = case
    return made


def duty(rng: random.Random, cases: dict) -> dict:
    names = list(cases)
    pairs = []
    for _ in range(rng.choice([1, 1, 2, 3])):
        one, two = rng.sample(names, 2)
        pairs.append({"from_case": one, "to_case": two, "cycles_per_year": round(log_uniform(rng, 1.0, 2e5))})
    return {"service_years": rng.choice([5, 20, 25, 50, 75, 100, 120.5]), "pairs": pairs}


def criteria(rng: random.Random) -> dict:
    code = rng.choice(["bth1", "en1993", "aisc360"])
    made: dict = {
        "design_factor": rng.choice([1.0, 1.5, 2.0, 2.0, 3.0, 3.0]),
        "peak_factor": rng.choice([1.0, 1.2, 1.5]),
        "pin_code": code,
    }
    if code == "en1993" and rng.random() < 0.6:
        made["limit_state_factor"] = rng.choice([1.35, 1.5, 1.6])
    if code != "bth1" and rng.random() < 0.4:
        made["pin_factor"] = rng.choice([1.0, 1.25, 1.5])
    if rng.random() < 0.7:
        made["pins_rotate"] = rng.random() < 0.7
    if rng.random() < 0.6:
        made["deflection_ratio"] = rng.choice([100, 200, 300, 500, 800])
    return made


def sweep(rng: random.Random, make: Maker, geometry: dict) -> dict:
    section = geometry["section"]
    sizes_ = {
        "depth_at_hub": section["depth_at_hub"],
        "depth_at_pins": section["depth_at_pins"],
        "width": section["width"],
        "hub": geometry["pivot"]["outside"],
    }
    if section["kind"] != "solid":
        sizes_ |= {name: section[name] for name in ("flange_thickness", "web_thickness")}
    made: dict = {}
    for name in rng.sample(list(sizes_), rng.randint(0, len(sizes_))):
        low, high = (
            rng.uniform(0.75, 0.99),
            rng.uniform(1.0, 1.1) if name not in ("depth_at_pins", "width") else 1.0,
        )
        made[name] = {
            "least": make.length(max(1.5, low * sizes_[name].v)),
            "most": make.length(high * sizes_[name].v, up=True),
            "steps": rng.randint(2, 5),
        }
    made["grid_limit"] = rng.choice([50, 500])
    if rng.random() < 0.5:
        made["seed"] = rng.randint(0, 99)
    made["confirm"] = 1
    return made


def mesh(rng: random.Random, make: Maker, geometry: dict) -> dict:
    depth = geometry["section"]["depth_at_hub"].v
    return {
        "per_quarter_bore": rng.choice([3, 4, 4, 4, 5]),
        "growth": round(rng.uniform(1.4, 2.6), 2),
        "largest": make.length(depth * rng.uniform(0.25, 0.6), up=True),
        "peak_change": rng.choice([0.03, 0.05, 0.1]),
        "levels": rng.choice([2, 3, 3]),
    }


def drawing(rng: random.Random, make: Maker) -> dict:
    every = {
        "projection": rng.choice(["first", "third"]),
        "sheet": rng.choice(["A0", "A1", "A2"]),
        "owner": "Owner of a random arm (invented)",
        "number": f"RA-{rng.randint(1, 999)}",
        "issued": "2027-01-11",
        "creator": "A generator",
        "approved": "Nobody",
        "general_tolerance": rng.choice(["f", "m", "c", "v"]),
        "raw_tolerance": rng.choice(["m", "c", "v"]),
        "bore_class": rng.choice(["H7", "H8", "F7", "JS7"]),
        "centre_tolerance": make.fine(rng.uniform(0.05, 1.0)),
        "bore_parallelism": make.fine(rng.uniform(0.02, 0.3)),
        "face_squareness": make.fine(rng.uniform(0.02, 0.3)),
        "bore_finish": Q("0.0016 mm", 0.0016),
        "face_finish": Q("0.0032 mm", 0.0032),
        "display_scale": rng.choice([0.02, 0.05, 0.1]),
    }
    kept = rng.sample(list(every), rng.randint(0, len(every)))
    return {key: value for key, value in every.items() if key in kept}
