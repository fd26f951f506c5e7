"""Symbols on a drawing: surface texture (ISO 21920-1), datums and tolerance frames (ISO 1101), projection (ISO 5456-2),
cutting planes (ISO 128-3), centre of gravity; lengths in mm on paper for 3.5 mm lettering."""

from __future__ import annotations

from itertools import pairwise

import numpy as np

from analysis.drawing.dims import arrow, pair
from analysis.drawing.ink import Arc, Fill, Item, Point, Stroke, Text, width

HIGH = 7.0  # of frames: twice the lettering
LETTER = 3.5


def texture(at: Point, text: str) -> list[Item]:
    """Material removal required; the tip stands on the surface or shelf at `at`."""
    x, y = at
    length = width(text, LETTER) + 3.0
    tick = Stroke("symbol", ((x - 2.9, y + 5.0), (x, y), (x + 5.8, y + 10.0), (x + 5.8 + length, y + 10.0)))
    bar = Stroke("symbol", ((x - 2.9, y + 5.0), (x + 2.9, y + 5.0)))
    return [tick, bar, Text((x + 6.3, y + 5.2), text, LETTER)]


def frame_length(value: str, datum: str) -> float:
    return HIGH + width(value, LETTER) + 4.0 + (HIGH if datum else 0.0)


def tolerance_frame(at: Point, kind: str, value: str, datum: str) -> list[Item]:
    """Tolerance frame with its lower left corner at `at`; kind is parallelism or squareness."""
    x, y = at
    wide = frame_length(value, datum)
    cell = x + HIGH + width(value, LETTER) + 4.0
    items: list[Item] = [
        Stroke("symbol", ((x, y), (x + wide, y), (x + wide, y + HIGH), (x, y + HIGH), (x, y))),
        Stroke("symbol", ((x + HIGH, y), (x + HIGH, y + HIGH))),
        Text((x + HIGH + 2.0, y + 1.75), value, LETTER),
    ]
    if datum:
        items.append(Stroke("symbol", ((cell, y), (cell, y + HIGH))))
        items.append(Text((cell + HIGH / 2.0, y + 1.75), datum, LETTER, "middle"))
    return items + _glyph(x, y, kind)


def _glyph(x: float, y: float, kind: str) -> list[Item]:
    if kind == "parallelism":
        return [Stroke("symbol", ((x + a, y + 1.5), (x + a + 2.0, y + 5.5))) for a in (1.5, 3.5)]
    if kind == "squareness":
        return [
            Stroke("symbol", ((x + 1.5, y + 1.5), (x + 5.5, y + 1.5))),
            Stroke("symbol", ((x + 3.5, y + 1.5), (x + 3.5, y + 5.5))),
        ]
    raise ValueError(f"no symbol for {kind}")


def datum_feature(at: Point, way: float, stem: float, letter: str) -> list[Item]:
    """Datum triangle on the vertical extension line at `at`, its letter in a box beyond the stem; way is 1 right or -1 left."""
    x, y = at
    foot = x + way * 3.0
    end = foot + way * stem
    left = end if way > 0.0 else end - HIGH
    corners = ((x, y - 1.8), (x, y + 1.8), (foot, y))
    box = ((left, y - 3.5), (left + HIGH, y - 3.5), (left + HIGH, y + 3.5), (left, y + 3.5), (left, y - 3.5))
    return [
        Fill("symbol", corners),
        Stroke("symbol", ((foot, y), (end, y))),
        Stroke("symbol", box),
        Text((left + HIGH / 2.0, y - LETTER / 2.0), letter, LETTER, "middle"),
    ]


def plane_end(at: Point, along: np.ndarray, sight: np.ndarray, letter: str) -> list[Item]:
    """End of a cutting plane: a wide stroke along the plane, the arrow of sight on it, its letter behind the arrow."""
    foot = np.array(at)
    tip = foot + 3.0 * along
    tail = tip - 9.0 * sight
    middle = tail - 3.0 * sight
    return [
        Stroke("plane_ends", (at, pair(foot + 6.0 * along))),
        Stroke("dimension", (pair(tail), pair(tip - 2.0 * sight))),
        arrow(tip, sight),
        Text((float(middle[0]), float(middle[1]) - 2.5), letter, 5.0, "middle"),
    ]


def gravity(at: Point) -> list[Item]:
    """Centre of gravity: a circle with two opposite quarters filled."""
    radius = 2.0
    items: list[Item] = [Arc("symbol", at, radius, 0.0, 360.0)]
    for start in (0.0, 180.0):
        rim = Arc("symbol", at, radius, start, start + 90.0).points
        items += [Fill("symbol", (at, a, b)) for a, b in pairwise(rim)]
    return items


def projection(x: float, y: float, kind: str) -> list[Item]:
    """Truncated cone and the view of its small end: to the right in first-angle, to the left in third-angle projection.

    About 24 mm by 10 mm, the middle of the left edge at (x, y).
    """
    cone, rings = (x + 1.0, x + 18.5) if kind == "first" else (x + 14.0, x + 5.5)
    small, large, length = 1.6, 3.2, 9.0
    corners = ((cone, y - small), (cone + length, y - large), (cone + length, y + large), (cone, y + small))
    return [
        Stroke("symbol", (*corners, corners[0])),
        Arc("symbol", (rings, y), small, 0.0, 360.0),
        Arc("symbol", (rings, y), large, 0.0, 360.0),
        Stroke("centre", ((x, y), (x + 24.0, y))),
        Stroke("centre", ((rings, y - 3.5), (rings, y + 3.5))),
    ]
