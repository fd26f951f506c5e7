"""Dimension lines, extension lines and leaders after ISO 129-1:2018: closed filled arrows, text above the line.

Each function takes feature points on paper and returns the strokes; nothing is put on a sheet here.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence

import numpy as np

from analysis.drawing.ink import Arc, Fill, Item, Measure, Point, Stroke, Text, width
from analysis.drawing.sheet import Sheet

ARROW = 3.0  # length; a sixth as wide to each side
GAP, OVER = 0.8, 2.0  # between feature and extension line; of that beyond the dimension line
ABOVE = 0.8  # text above its line
TEXT = 3.5
SMALL, APART = (
    2.5,
    0.9,
)  # lettering of stacked deviations (next smaller of ISO 3098), between them and before them
STEP = 8.0  # between parallel dimension lines
TRIES = 12


def linear(
    first: Point,
    second: Point,
    angle: float,
    line: Point,
    text: str,
    shift: float | None = None,
    beside: bool = False,
    limits: tuple[str, str] | None = None,
) -> Measure:
    """Distance of two points along a direction (deg), the dimension line through `line`; `limits` are stacked behind the text.

    Where arrows do not fit between the extension lines they stand outside. Text that does not fit there (or is to stand
    `beside`) goes behind the second arrow; `shift` puts it that far from the middle of the line instead.
    """
    along, up = axes(angle)
    a, b = (foot(np.array(point), np.array(line), along) for point in (first, second))
    if (b - a) @ along < 0.0:
        a, b, first, second = b, a, second, first
    size = float((b - a) @ along)
    half = lettering(text, limits) / 2.0
    meets = shift is not None and abs(abs(shift) - size / 2.0) < half + 0.5
    over = ABOVE / 2.0 if meets else OVER  # not into the text
    items: list[Item] = [*extension(np.array(first), a, over), *extension(np.array(second), b, over)]
    outside = size < 3.5 * ARROW
    if shift is None and (beside or outside or 2.0 * half > size - 1.0):
        place = b + ((ARROW + 2.0) * outside + 2.5 + half) * along
    else:
        place = (a + b) / 2.0 + (shift or 0.0) * along
    reach = float((place - (a + b) / 2.0) @ along)
    low = min(-size / 2.0 - (ARROW + 2.0) * outside, reach - half if abs(reach) > size / 2.0 else 0.0)
    high = max(size / 2.0 + (ARROW + 2.0) * outside, reach + half if abs(reach) > size / 2.0 else 0.0)
    middle = (a + b) / 2.0
    items.append(Stroke("dimension", (pair(middle + low * along), pair(middle + high * along))))
    inward = -1.0 if outside else 1.0
    items += [arrow(a, -inward * along), arrow(b, inward * along)]
    items += lettered(place + ABOVE * up, text, limits, readable(angle))
    return Measure("linear", (first, second), pair(a), text, angle, tuple(items), limits)


def lettering(text: str, limits: tuple[str, str] | None) -> float:
    """Length of a dimension's text with its deviations."""
    behind = APART + max(width(one, SMALL) for one in limits) if limits else 0.0
    return width(text, TEXT) + behind


def lettered(base: np.ndarray, text: str, limits: tuple[str, str] | None, lean: float) -> list[Text]:
    """The text about `base`, the upper deviation behind it above the lower, which stands on the text's base line."""
    if limits is None:
        return [Text(pair(base), text, TEXT, "middle", lean)]
    start = base - lettering(text, limits) / 2.0 * unit(lean)
    behind = start + (width(text, TEXT) + APART) * unit(lean)
    upper = behind + (SMALL + APART) * unit(lean + 90.0)
    return [
        Text(pair(start), text, TEXT, "left", lean),
        Text(pair(upper), limits[0], SMALL, "left", lean),
        Text(pair(behind), limits[1], SMALL, "left", lean),
    ]


def angular(
    centre: Point, radius: float, first: float, last: float, text: str, at: float | None = None
) -> Measure:
    """Angle between two directions (deg, counter-clockwise), its arc about their meeting point."""
    middle = (first + last) / 2.0 if at is None else at
    turn = float(np.degrees(ARROW / radius))
    ends = [np.array(centre) + radius * unit(angle) for angle in (first, last)]
    items: list[Item] = [Arc("dimension", centre, radius, first, last)]
    items += [arrow(ends[0], unit(first - 90.0 + turn / 2.0)), arrow(ends[1], unit(last + 90.0 - turn / 2.0))]
    lean = readable(middle - 90.0)
    out = unit(middle) * (1.0 if np.cos(np.radians(lean - middle + 90.0)) > 0.0 else -1.0)
    base = np.array(centre) + radius * unit(middle) + out * ABOVE
    items.append(Text(pair(base), text, TEXT, "middle", lean))
    points = (pair(ends[0]), pair(ends[1]), centre)
    return Measure("angular", points, pair(np.array(centre) + radius * unit(middle)), text, 0.0, tuple(items))


def leader(tip: Point, elbow: Point, text: str, dot: bool = False) -> list[Item]:
    """An arrow on an edge (a dot within an outline), a line to the elbow and the text on its shelf."""
    right = elbow[0] >= tip[0]
    length = width(text, TEXT) + 1.0
    end = (elbow[0] + (length if right else -length), elbow[1])
    start = min(elbow[0], end[0]) + 0.5
    head = Arc("dimension", tip, 0.5, 0.0, 360.0) if dot else arrow(np.array(tip), toward(elbow, tip))
    return [Stroke("dimension", (tip, elbow, end)), head, Text((start, elbow[1] + ABOVE), text, TEXT)]


def placed(sheet: Sheet, options: Iterable[Sequence[Item]]) -> Sequence[Item]:
    """Put down the first of the options that meets nothing; the last where all do."""
    chosen: Sequence[Item] = []
    for chosen in options:
        if sheet.is_free(chosen):
            break
    sheet.add(chosen)
    return chosen


def stacked(sheet: Sheet, make: Callable[[float], Measure], start: float, step: float) -> Measure:
    """A dimension on the first of several parallel lines on which it meets nothing."""
    levels = (start + step * count for count in range(TRIES))
    chosen = placed(sheet, ([make(level)] for level in levels))[0]
    assert isinstance(chosen, Measure)
    return chosen


def centre_mark(frame_point: Point, radius: float, angle: float = 0.0) -> list[Item]:
    """Two axes of a circle, 3 mm beyond it."""
    middle, reach = np.array(frame_point), radius + 3.0
    return [
        Stroke("centre", (pair(middle - reach * way), pair(middle + reach * way)))
        for way in (unit(angle), unit(angle + 90.0))
    ]


def extension(feature: np.ndarray, line: np.ndarray, over: float = OVER) -> list[Item]:
    """From just off the feature to just beyond the dimension line."""
    away = line - feature
    length = float(np.hypot(*away))
    if length < 2.0 * GAP:
        return []
    way = away / length
    return [Stroke("dimension", (pair(feature + GAP * way), pair(line + over * way)))]


def arrow(tip: np.ndarray, way: np.ndarray) -> Fill:
    """A filled arrow head that points along `way`."""
    side = np.array([-way[1], way[0]]) * ARROW / 6.0
    back = tip - ARROW * way
    return Fill("dimension", (pair(tip), pair(back + side), pair(back - side)))


def foot(point: np.ndarray, line: np.ndarray, along: np.ndarray) -> np.ndarray:
    """The point on the line through `line` that lies square across from `point`."""
    return line + ((point - line) @ along) * along


def axes(angle: float) -> tuple[np.ndarray, np.ndarray]:
    """Direction of a dimension line read from below or from the right, and the way up from it."""
    lean = readable(angle)
    return unit(lean), unit(lean + 90.0)


def readable(angle: float) -> float:
    """The same direction, to be read from below or from the right: over -90 up to 90 degrees."""
    turned = (angle + 90.0) % 180.0 - 90.0
    return 90.0 if abs(turned + 90.0) < 1e-6 else turned


def unit(angle: float) -> np.ndarray:
    return np.array([np.cos(np.radians(angle)), np.sin(np.radians(angle))])


def toward(start: Point, end: Point) -> np.ndarray:
    way = np.array(end) - np.array(start)
    return way / np.hypot(*way)


def pair(point: np.ndarray) -> Point:
    return float(point[0]), float(point[1])
