"""Linkage, load table and cylinder: moment arms of one sign all the way, forces that stress the hub as real ones do."""

from __future__ import annotations

import math
import random
from itertools import pairwise

from tests.random_arms.quantities import Maker, Q


def linkage(rng: random.Random, make: Maker, geometry: dict, style: str) -> tuple[dict, dict, dict]:
    """Cylinder, anchor, swing and the line of the load; moment arms of one sign all the way."""
    a, b = geometry["input_arm"].v, geometry["output_arm"].v
    included = geometry["included_angle"].v
    for trial in range(4000):
        swing = rng.choices(
            [rng.uniform(3.0, 15.0), rng.uniform(15.0, 45.0), rng.uniform(45.0, 95.0)],
            [35, 45, 20 if trial < 1000 else 0],
        )[0]
        middle = rng.choices([rng.uniform(-25.0, 25.0), rng.uniform(-170.0, 170.0)], [70, 30])[0]
        ends = [middle - swing / 2.0, middle + swing / 2.0]
        if rng.random() < 0.15:
            ends.reverse()
        lowered, raised = make.degrees(ends[0]), make.degrees(ends[1])
        at_middle = math.radians(middle)
        pin = polar(a, at_middle + included)
        turn = rng.choice([-1.0, 1.0])
        push = at_middle + included + turn * (math.pi / 2.0 + math.radians(rng.uniform(-35.0, 35.0)))
        far = a * rng.uniform(0.8, 3.0)
        anchor = (make.length(pin[0] - far * math.cos(push)), make.length(pin[1] - far * math.sin(push)))
        out = polar(b, at_middle)
        pull = at_middle + rng.choice([-1.0, 1.0]) * (math.pi / 2.0 + math.radians(rng.uniform(-40.0, 40.0)))
        by_anchor = rng.random() < 0.45
        reach = b * rng.uniform(1.2, 8.0)
        link = (make.length(out[0] + reach * math.cos(pull)), make.length(out[1] + reach * math.sin(pull)))
        direction = make.degrees(math.degrees(math.atan2(math.sin(pull), math.cos(pull))))
        if max(map(abs, (anchor[0].v, anchor[1].v, link[0].v, link[1].v))) > 49_000.0:
            continue
        moved = poses(a, b, included, lowered.v, raised.v, anchor, link if by_anchor else None, direction.v)
        sines = [arm_ / a for arm_ in moved["push"]], [arm_ / b for arm_ in moved["pull"]]
        if not all(one_sign(values, 0.07) for values in sines):
            continue
        low, high = min(moved["length"]), max(moved["length"])
        closed = make.length(low * rng.uniform(0.93, 0.99), up=False)
        stroke = make.length((high - closed.v) * rng.uniform(1.01, 1.15) + 2.0, up=True)
        if stroke.v >= 0.97 * closed.v or math.hypot(anchor[0].v, anchor[1].v) < 0.12 * a:
            continue
        drive = {
            "cylinder_bore": Q("100 mm", 100.0),
            "rod": Q("60 mm", 60.0),
            "relief_pressure": make.pressure(rng.uniform(5.0, 35.0)),
            "anchor": {"x": anchor[0], "y": anchor[1]},
            "closed_length": closed,
            "stroke": stroke,
            "lowered": lowered,
            "raised": raised,
        }
        driven = {"anchor": {"x": link[0], "y": link[1]}} if by_anchor else {"direction": direction}
        return drive, driven, moved
    raise RuntimeError("no linkage found")


def polar(radius: float, angle: float) -> tuple[float, float]:
    return radius * math.cos(angle), radius * math.sin(angle)


def one_sign(values: list[float], least: float) -> bool:
    return all(value >= least for value in values) or all(value <= -least for value in values)


def poses(
    a: float,
    b: float,
    included: float,
    lowered: float,
    raised: float,
    anchor: tuple,
    link: tuple | None,
    direction: float,
) -> dict:
    """Cylinder length and moment arms of cylinder and load over the swing."""
    found: dict = {"length": [], "push": [], "pull": []}
    for step in range(361):
        phi = lowered + (raised - lowered) * step / 360.0
        pin, out = polar(a, phi + included), polar(b, phi)
        dx, dy = pin[0] - anchor[0].v, pin[1] - anchor[1].v
        size = math.hypot(dx, dy) or 1e-9
        found["length"].append(size)
        found["push"].append((pin[0] * dy - pin[1] * dx) / size)
        px, py = (
            (link[0].v - out[0], link[1].v - out[1]) if link else (math.cos(direction), math.sin(direction))
        )
        size = math.hypot(px, py) or 1e-9
        found["pull"].append((out[0] * py - out[1] * px) / size)
    return found


def load(
    rng: random.Random, make: Maker, geometry: dict, drive: dict, driven: dict, moved: dict, strength: float
) -> None:
    """Load table by the stress that it makes at the hub, and a cylinder that moves it."""
    section, length = geometry["section"], geometry["output_arm"].v
    largest = rng.uniform(0.04, 0.4) * strength * modulus(section) / length
    count = rng.choice([2, 2, 3, 4, 6])
    at = [0.0, *sorted(round(rng.uniform(0.05, 0.95), 2) for _ in range(count - 2)), 1.0]
    at = sorted(set(at))
    by_moment = rng.random() < 0.35
    low = rng.choice([0.0, rng.uniform(0.3, 0.9), rng.uniform(0.6, 0.95)])
    shares = [rng.uniform(low, 1.0) for _ in at]
    if low == 0.0 and rng.random() < 0.3:
        shares[0] = 0.0
    shares[-1] = max(shares[-1], 0.2)
    rows = []
    for place, share in zip(at, shares, strict=True):
        told = (
            {"moment": make.moment(share * largest * length)}
            if by_moment
            else {"force": make.force(share * largest)}
        )
        rows.append({"at": place, **told})
    driven["load"] = rows
    needed = 0.0
    for step, (push, pull) in enumerate(zip(moved["push"], moved["pull"], strict=True)):
        size = interpolated(rows, step / 360.0)
        moment = math.copysign(size, pull) if by_moment else size * pull
        force = -moment / push
        needed = force if abs(force) > abs(needed) else needed
    rod = rng.uniform(0.35, 0.75)
    area = abs(needed) * rng.uniform(0.95, 2.2) / drive["relief_pressure"].v
    area /= 1.0 if needed >= 0.0 else 1.0 - rod**2
    bore_ = math.sqrt(4.0 * max(area, 50.0) / math.pi)
    drive["cylinder_bore"] = make.length(min(max(bore_, 6.0), 3000.0), up=True)
    drive["rod"] = make.length(rod * drive["cylinder_bore"].v, up=False)


def interpolated(rows: list[dict], at: float) -> float:
    for one, two in pairwise(rows):
        if at <= two["at"]:
            x, y = (row.get("force") or row.get("moment") for row in (one, two))
            return x.v + (y.v - x.v) * (at - one["at"]) / (two["at"] - one["at"])
    last = rows[-1].get("force") or rows[-1].get("moment")
    return last.v


def modulus(section: dict) -> float:
    """Section modulus at the hub, mm3."""
    h, b = section["depth_at_hub"].v, section["width"].v
    if section["kind"] == "solid":
        return b * h**2 / 6.0
    t, w = (
        section["flange_thickness"].v,
        section["web_thickness"].v * (1.0 if section["kind"] == "i" else 2.0),
    )
    return (b * h**3 - (b - w) * (h - 2.0 * t) ** 3) / 6.0 / h
