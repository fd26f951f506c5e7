"""One sheet: what lies on it, and which lettering would meet what is there already."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from itertools import pairwise

import numpy as np

from analysis.drawing.ink import Arc, Fill, Item, Measure, Point, Stroke, Text

CLEAR = 0.4  # mm between lettering and anything else
CROSSING = (
    "outline",
    "smooth",
    "hidden",
    "centre",
    "plane_ends",
    "dimension",
    "symbol",
    "frame",
    "grid",
)  # not the hatching


@dataclass
class Sheet:
    width: float
    height: float
    title: str
    items: list[Item] = field(default_factory=list)

    def add(self, items: Iterable[Item]) -> None:
        self.items += items

    def line(self, pen: str, *points: Point) -> None:
        self.items.append(Stroke(pen, tuple((float(x), float(y)) for x, y in points)))

    def box(self, pen: str, x: float, y: float, wide: float, high: float) -> None:
        self.line(pen, (x, y), (x + wide, y), (x + wide, y + high), (x, y + high), (x, y))

    def text(
        self, x: float, y: float, text: str, height: float = 3.5, align: str = "left", angle: float = 0.0
    ) -> None:
        if text:
            self.items.append(Text((float(x), float(y)), text, height, align, angle))

    def is_free(self, items: Iterable[Item]) -> bool:
        """Whether lettering of `items` meets none on the sheet, and neither is crossed by the other's lines."""
        fresh = list(flat(items))
        there = list(flat(self.items))
        return not any(True for _ in meetings(fresh, there)) and not any(
            True for _ in crossings(fresh, there)
        )


def flat(items: Iterable[Item]) -> Iterator[Item]:
    """Items with dimensions taken apart."""
    for item in items:
        if isinstance(item, Measure):
            yield from flat(item.items)
        else:
            yield item


def meetings(some: Iterable[Item], others: Iterable[Item]) -> Iterator[tuple[Text, Text]]:
    """Pairs of lettering that overlap."""
    texts = [(item, grown(item.box)) for item in others if isinstance(item, Text)]
    for item in some:
        if isinstance(item, Text):
            box = item.box
            yield from ((item, other) for other, there in texts if other is not item and overlap(box, there))


def crossings(some: Iterable[Item], others: Iterable[Item]) -> Iterator[tuple[Text, Item]]:
    """Lettering with a line, arc or arrow head through it, either way round."""
    some, others = list(some), list(others)
    for texts, lines in ((some, others), (others, some)):
        boxes = [(item, item.box) for item in texts if isinstance(item, Text)]
        for item in lines:
            if not isinstance(item, Stroke | Arc | Fill) or item.pen not in CROSSING:
                continue
            points = np.array(item.points)
            low, high = points.min(0), points.max(0)
            for text, box in boxes:
                if (box.max(0) >= low).all() and (box.min(0) <= high).all() and crosses(points, box):
                    yield text, item


def grown(box: np.ndarray) -> np.ndarray:
    """The box with a little room all round."""
    middle = box.mean(0)
    size = np.hypot(*(box[1] - box[0])), np.hypot(*(box[3] - box[0]))
    along, up = (box[1] - box[0]) / size[0], (box[3] - box[0]) / size[1]
    shares = np.array([[-1, -1], [1, -1], [1, 1], [-1, 1]])
    half = np.array(size) / 2.0 + CLEAR
    return middle + (shares[:, :1] * half[0]) * along + (shares[:, 1:] * half[1]) * up


def overlap(one: np.ndarray, other: np.ndarray) -> bool:
    """Whether two convex figures (n, 2) share area: no edge of either separates them."""
    for corners in (one, other):
        for edge in np.roll(corners, -1, axis=0) - corners:
            normal = np.array([-edge[1], edge[0]])
            a, b = one @ normal, other @ normal
            if a.max() <= b.min() or b.max() <= a.min():
                return False
    return True


def crosses(points: np.ndarray, box: np.ndarray) -> bool:
    """Whether a line through points (n, 2) enters the box."""
    return any(overlap(np.array([a, b, b + 1e-9]), box) for a, b in pairwise(points))
