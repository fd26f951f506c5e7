"""Toughness, examinations and cracks found."""

from __future__ import annotations

import math
import random

from tests.random_arms.quantities import Maker


def toughness(rng: random.Random, make: Maker, coldest: float) -> dict:
    """Charpy points about the coldest temperature, or the reference temperature."""
    method = rng.choice(["lower bound", "lower bound", "transition", "upper shelf"])
    low, high = {"lower bound": (8.0, 150.0), "transition": (8.0, 75.0), "upper shelf": (25.0, 115.0)}[method]
    held = rng.random() < 0.6
    start = coldest - rng.uniform(0.0, 20.0)
    points = [
        {"temperature": make.temperature(math.floor(start)), "energy": make.energy(rng.uniform(low, high))}
    ]
    for step in range(0 if held and rng.random() < 0.5 else rng.choice([1, 2])):
        before = points[-1]
        points.append(
            {
                "temperature": make.temperature(
                    max(before["temperature"].v + 15.0, coldest + 5.0 + 15.0 * step)
                ),
                "energy": make.energy(min(high, before["energy"].v * rng.uniform(1.0, 1.6))),
            }
        )
    made: dict = {"charpy": points}
    if held:
        made["held_when_warmer"] = True
    if method != "lower bound" or rng.random() < 0.5:
        made["method"] = method
    if rng.random() < 0.2:
        made["reference_temperature"] = make.temperature(coldest + rng.uniform(-40.0, 40.0))
    return made


def cracks(rng: random.Random, make: Maker) -> dict:
    coldest = make.temperature(rng.uniform(-40.0, 10.0))
    made: dict = {"coldest": coldest, "toughness": toughness(rng, make, coldest.v)}
    if rng.random() < 0.7:
        made["growth"] = rng.choice(
            [
                "simplified",
                "two-stage mean",
                "two-stage upper",
                "ferrite-pearlite",
                "martensitic",
                "austenitic",
            ]
        )
    if rng.random() < 0.5:
        made["residual_stress"] = make.stress(rng.uniform(1.0, 250.0))
    if rng.random() < 0.3:
        made["yield_plateau"] = rng.random() < 0.5
    if rng.random() < 0.4:
        made["old_arm"] = {
            "material": rng.choice(["a27-65-35", "a148-80-50"]),
            "toughness": toughness(rng, make, coldest.v),
        }
        if rng.random() < 0.4:
            made["old_arm"]["residual_stress"] = make.stress(rng.uniform(1.0, 100.0))
    if rng.random() < 0.7:
        made["scatter"] = {
            "load": round(rng.uniform(0.0, 0.2), 2),
            "size": round(rng.uniform(0.0, 0.4), 2),
            "growth": round(rng.uniform(0.0, 0.6), 2),
            "toughness": rng.choice(["weibull", 0.1, 0.25, 0.0]),
            "samples": 2000,
        }
        if rng.random() < 0.5:
            made["scatter"]["fractile"] = round(rng.uniform(0.01, 0.6), 2)
    if rng.random() < 0.7:
        made["inspection"] = {
            "examinations": [
                {
                    "method": method,
                    "depth": make.fine(rng.uniform(0.8, 8.0)),
                    "length": make.fine(rng.uniform(3.0, 25.0)),
                    "source": "common practice, no source",
                }
                for method in rng.sample(
                    ["radiography", "ultrasonics", "magnetic particle", "penetrant", "visual"],
                    rng.choice([1, 2, 3]),
                )
            ],
            "service_years": rng.choice([5, 20, 50, 100]),
        }
        if rng.random() < 0.5:
            made["inspection"]["factor_on_life"] = rng.choice([1.0, 2.0, 3.0])
    return made


def found_cracks(rng: random.Random, make: Maker, geometry: dict, said: dict) -> list[dict]:
    made = []
    for number in range(rng.choice([1, 1, 1, 2, 3])):
        shape_ = rng.choice(["corner", "corner", "surface", "edge", "hole-through"])
        part = rng.choice(["pivot", "pivot", "input", "output"])
        size = geometry[part]
        outside, hole, wide = size["outside"].v, size["bore"].v, size["width"].v
        ligament = (outside - hole) / 2.0
        crack: dict = {"name": f"crack-{number + 1}", "region": f"{part}_bore", "shape": shape_}
        if shape_ in ("corner", "hole-through"):
            if rng.random() < 0.2:
                crack["region"] = f"{part}_faces"
            length = min(0.9 * (0.4 * outside - hole / 2.0), wide) * rng.uniform(0.1, 0.9)
            crack["length"] = make.fine(max(length, 0.1))
            if shape_ == "corner":
                crack["depth"] = make.fine(
                    max(0.06, min(0.7 * wide, crack["length"].v * rng.uniform(0.3, 1.6)))
                )
        elif shape_ == "edge":
            crack["length"] = make.fine(wide * rng.uniform(0.2, 1.0))
            crack["depth"] = make.fine(ligament * rng.uniform(0.02, 0.4))
        elif rng.random() < 0.3:
            thick, across = (
                geometry["section"].get("flange_thickness", geometry["section"]["width"]),
                geometry["section"]["width"],
            )
            crack |= {"region": "outside", "length": make.fine(max(0.1, across.v * rng.uniform(0.05, 0.4)))}
            crack["depth"] = make.fine(
                max(0.06, min(0.7 * thick.v, crack["length"].v * rng.uniform(0.1, 0.8)))
            )
            crack["section"] = {"thickness": thick, "width": across}
        else:
            crack["length"] = make.fine(wide * rng.uniform(0.03, 0.4))
            crack["depth"] = make.fine(
                max(0.06, min(0.7 * ligament, crack["length"].v * rng.uniform(0.15, 0.8)))
            )
        if crack["region"] != "outside" and rng.random() < 0.4:
            crack["angle"] = make.degrees(rng.uniform(0.0, 359.0))
        crack["found"] = rng.choice(["2026-03-02", "2025-07-31", "2024-02-29", "2026-01-01"])
        made.append(crack)
    return made
