"""Projected edges without repeats: what lies on one line or one circle is joined, and what is seen covers what is hidden."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

import numpy as np

Edge = dict[str, Any]
Interval = tuple[float, float]
NEAR = 5e-3  # mm: edges of the kernel's projection that should coincide differ by less
NOTHING: Interval = (-np.inf, -np.inf)  # covers no stretch, but drops those too short to draw
ORDER = ("visible", "smooth", "hidden")  # a kind covers those behind it


def tidied(edges: dict[str, list[Edge]]) -> dict[str, list[Edge]]:
    """The same picture with every stretch of a line or circle drawn once, in the first kind of ORDER that has it."""
    covered: dict[tuple[float, ...], list[Interval]] = {}
    return {kind: uncovered(edges[kind], covered) for kind in ORDER}


def uncovered(edges: Iterable[Edge], covered: dict[tuple[float, ...], list[Interval]]) -> list[Edge]:
    """Edges joined on each carrier, less what is covered there; they cover it from now on."""
    carriers: dict[tuple[float, ...], list[Interval]] = {}
    kept = []
    for edge in edges:
        if "points" in edge and len(edge["points"]) > 2:
            kept.append(edge)
            continue
        key, stretches = carrier(edge)
        key = next((old for old in (*carriers, *covered) if alike(old, key)), key)
        carriers.setdefault(key, []).extend(stretches)
    for key, stretches in sorted(carriers.items()):
        free = less(joined(stretches), [*covered.get(key, []), NOTHING], slack(key))
        covered[key] = joined([*covered.get(key, []), *stretches])
        kept += [placed(key, stretch) for stretch in free]
    return kept


def carrier(edge: Edge) -> tuple[tuple[float, ...], list[Interval]]:
    """The line (direction, offset) or circle (centre, radius) an edge lies on, and its stretches there (mm or deg)."""
    if "centre" in edge:
        first, last = edge["from"], edge["to"]
        key = (*edge["centre"], edge["radius"])
        if last - first >= 360.0 or first <= last:
            return key, [(first, last)]
        return key, [(first, 360.0), (0.0, last)]
    (x0, y0), (x1, y1) = edge["points"]
    angle = np.arctan2(y1 - y0, x1 - x0) % np.pi
    along = np.array([np.cos(angle), np.sin(angle)])
    offset = -along[1] * x0 + along[0] * y0
    ends = sorted((float(along @ (x0, y0)), float(along @ (x1, y1))))
    return (float(angle), float(offset)), [(ends[0], ends[1])]


def alike(one: tuple[float, ...], other: tuple[float, ...]) -> bool:
    if len(one) != len(other):
        return False
    if len(one) == 3:
        return all(abs(a - b) < NEAR for a, b in zip(one, other, strict=True))
    turn = abs(one[0] - other[0])
    return turn < 1e-5 and abs(one[1] - other[1]) < NEAR


def slack(key: tuple[float, ...]) -> float:
    """Shortest stretch worth drawing: NEAR along a line, as far along the circle in degrees."""
    return NEAR if len(key) == 2 else float(np.degrees(NEAR / key[2]))


def joined(stretches: list[Interval]) -> list[Interval]:
    made: list[Interval] = []
    for first, last in sorted(stretches):
        if made and first <= made[-1][1] + NEAR:
            made[-1] = (made[-1][0], max(made[-1][1], last))
        else:
            made.append((first, last))
    return made


def less(stretches: list[Interval], covers: list[Interval], least: float) -> list[Interval]:
    """The parts of the stretches that no cover hides."""
    for low, high in covers:
        stretches = [
            part
            for first, last in stretches
            for part in ((first, min(last, low)), (max(first, high), last))
            if part[1] - part[0] > least
        ]
    return stretches


def placed(key: tuple[float, ...], stretch: Interval) -> Edge:
    """A stretch back on its line or circle."""
    first, last = (round(value, 4) + 0.0 for value in stretch)
    if len(key) == 3:
        return {"centre": [key[0], key[1]], "radius": key[2], "from": first, "to": last}
    along = np.array([np.cos(key[0]), np.sin(key[0])])
    across = key[1] * np.array([-along[1], along[0]])
    return {
        "points": [
            [round(float(value), 4) + 0.0 for value in across + place * along] for place in (first, last)
        ]
    }
