"""Fits, surfaces, welds and strain histories of the bores."""

from __future__ import annotations

import random

from tests.random_arms.quantities import Maker, log_uniform

FITS = [
    "H7/f7",
    "H8/d9",
    "H7/g6",
    "H7/h6",
    "H7/k6",
    "H7/n6",
    "H7/p6",
    "H7/r6",
    "H7/s6",
    "H7/u6",
    "JS7/h6",
    "P7/h6",
    "H9/d9",
]


CATEGORIES = [160, 140, 125, 112, 100, 90, 80, 71, 63, 56, 50, 45, 40, 36]


REGIONS = ["pivot_bore", "input_bore", "output_bore", "pivot_faces", "input_faces", "output_faces", "outside"]


def bores(rng: random.Random, make: Maker, geometry: dict, cases: dict) -> dict:
    made: dict = {}
    names = rng.sample(["pivot", "input", "output"], rng.choice([0, 1, 1, 1, 2, 3]))
    if names or rng.random() < 0.5:
        made["fits"] = {name: fit(rng, make, geometry[name]) for name in names}
    regions = REGIONS if rng.random() < 0.6 else rng.sample(REGIONS, rng.randint(1, 6))
    made["surfaces"] = [
        {
            "region": region,
            "finish": rng.choice(["ground", "machined"])
            if region != "outside"
            else rng.choice(["hot-rolled", "as-cast", "as-deposited", "as-forged", "machined"]),
        }
        for region in regions
    ]
    if rng.random() < 0.5:
        made["welds"] = [weld(rng, make, geometry) for _ in range(rng.choice([1, 1, 2, 4]))]
    if rng.random() < 0.85:
        made["fretting"] = {"used": round(rng.uniform(0.24, 0.9), 2)}
    rule = rng.choice(["goodman", "goodman", "gerber", "morrow", "walker", "swt", "soderberg", "none"])
    made["mean_stress"] = {"rule": rule}
    if rule == "walker" and rng.random() < 0.5:
        made["mean_stress"]["walker_exponent"] = round(rng.uniform(0.4, 0.9), 2)
    if rule == "morrow" and rng.random() < 0.5:
        made["mean_stress"]["true_fracture_strength"] = make.stress(rng.uniform(700.0, 1200.0))
    if rng.random() < 0.5:
        made["reliability"] = rng.choice([0.5, 0.9, 0.99, 0.999])
    if rng.random() < 0.5:
        made["size_factor"] = round(rng.uniform(0.6, 1.0), 2)
    if rng.random() < 0.25:
        made["histories"] = [history(rng, cases)]
    return made


def fit(rng: random.Random, make: Maker, bore_: dict) -> dict:
    hole = bore_["bore"].v
    made: dict = {}
    bush = None
    seat = hole
    if rng.random() < 0.25:
        inside = make.length(hole * rng.uniform(0.8, 0.92))
        seat = inside.v
        bush = {
            "elastic_modulus": make.modulus(rng.choice([100.0, 110.0, 205.0])),
            "poisson_ratio": rng.choice([0.3, 0.34]),
            "expansion": make.expansion(rng.choice([18.0, 16.5, 11.7])),
            "inside": inside,
            "fit": sizes(rng, make, hole, ["H7/p6", "H7/s6", "H7/r6"]),
            "yield_strength": make.stress(rng.uniform(120.0, 400.0)),
        }
    made["fit"] = sizes(rng, make, seat, FITS)
    if rng.random() < 0.6:
        made["compare"] = sizes(rng, make, seat, FITS)
    made["shaft"] = {
        "elastic_modulus": make.modulus(205.0),
        "poisson_ratio": 0.3,
        "expansion": make.expansion(11.7),
    }
    if rng.random() < 0.5:
        made["shaft"]["inside"] = make.length(
            rng.choice([0.0, min(999.0, seat * rng.uniform(0.1, 0.6))]), up=False
        )
    if bush:
        made["bush"] = bush
    if rng.random() < 0.3:
        made["hub_expansion"] = make.expansion(11.7)
    least = round(rng.uniform(0.05, 0.15), 2)
    made["friction"] = {"least": least, "most": round(least + rng.uniform(0.0, 0.2), 2)}
    if rng.random() < 0.5:
        made["roughness_bore"], made["roughness_shaft"] = (
            make.fine(rng.uniform(0.001, 0.01)),
            make.fine(rng.uniform(0.001, 0.01)),
        )
    made["service"] = [make.temperature(rng.uniform(-40.0, 5.0)), make.temperature(rng.uniform(20.0, 60.0))]
    made["assembly"] = {
        "room": make.temperature(20.0),
        "clearance": make.fine(rng.uniform(0.0, 0.15)),
        "hub_limit": make.temperature(rng.uniform(150.0, 300.0)),
    }
    if rng.random() < 0.4:
        made["assembly"]["cooled_shaft"] = make.temperature(rng.choice([-78.0, -196.0, 0.0]))
    return made


def sizes(rng: random.Random, make: Maker, nominal: float, names: list[str]) -> dict:
    """A fit by name where ISO 286 holds it, else measured."""
    if nominal <= 500.0 and rng.random() < 0.75:
        return {"fit": rng.choice(names)}
    gap = nominal * rng.choice([rng.uniform(0.0, 0.001), -rng.uniform(0.0, 0.0012)])
    return {
        "measured": {
            "bore": make.fine(nominal),
            "shaft": make.fine(nominal - gap),
            **({"uncertainty": make.fine(0.005)} if rng.random() < 0.5 else {}),
        }
    }


def weld(rng: random.Random, make: Maker, geometry: dict) -> dict:
    made: dict = {"region": rng.choice(["outside", "outside", "outside", *REGIONS])}
    if rng.random() < 0.7:
        side = rng.choice(["input", "output"])
        start, end = geometry["pivot"]["outside"].v / 2.0, geometry[f"{side}_arm"].v
        made["region"] = "outside"
        made |= {"arm": side, "station": make.length(rng.uniform(start, 0.9 * end), up=False)}
    made |= (
        {"category": rng.choice(CATEGORIES)}
        if rng.random() < 0.75
        else {"fat": rng.choice([63, 80, 90, 100, 225])}
    )
    if rng.random() < 0.5:
        made["thickness"] = make.length(rng.uniform(8.0, 80.0))
    return made | {
        "assessment": rng.choice(["damage tolerant", "safe life"]),
        "consequence": rng.choice(["low", "high"]),
    }


def history(rng: random.Random, cases: dict) -> dict:
    one, two = rng.sample(list(cases), 2)
    values = [round(rng.uniform(-0.2, 1.1), 2) for _ in range(rng.choice([2, 10, 200]))]
    return {
        "title": "Strain gauge, invented",
        "from_case": one,
        "to_case": two,
        "values": values,
        "times_per_year": round(log_uniform(rng, 1.0, 1e4)),
    }
