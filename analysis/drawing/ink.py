"""Pens and strokes of a drawing; lengths in mm on paper.

Line types and widths: ISO 128-2:2020 (continuous 01, dashed 02, long-dashed dotted 04; wide to narrow 2 : 1, line group 0.5),
dashes in multiples of the width (12 d, gaps 3 d, long dashes 24 d, dots 0.5 d). Lettering ISO 3098, 0.35 mm wide at 3.5 mm.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from pathlib import Path

import numpy as np

Point = tuple[float, float]


@dataclass(frozen=True)
class Pen:
    width: float
    dashes: tuple[float, ...] = ()  # dash, gap, dash, gap


def chain(width: float) -> tuple[float, ...]:
    return (24.0 * width, 3.0 * width, 0.5 * width, 3.0 * width)


PENS = {
    "outline": Pen(0.5),  # 01.2 visible edges
    "smooth": Pen(0.25),  # 01.1 imaginary intersections
    "hidden": Pen(0.25, (12.0 * 0.25, 3.0 * 0.25)),  # 02.1
    "centre": Pen(0.25, chain(0.25)),  # 04.1 axes, cutting planes
    "plane_ends": Pen(0.7),  # 04.2 ends of cutting planes
    "dimension": Pen(0.25),  # 01.1 dimension, extension and leader lines
    "hatch": Pen(0.18),  # 01.1
    "symbol": Pen(0.35),  # of surfaces, datums and geometrical tolerances, as wide as lettering
    "lettering": Pen(0.35),
    "frame": Pen(0.7),  # frame and centring marks, ISO 5457
    "grid": Pen(0.35),  # grid reference border, title block
}


@dataclass(frozen=True)
class Stroke:
    pen: str
    points: tuple[Point, ...]


@dataclass(frozen=True)
class Arc:
    """Counter-clockwise, degrees; 0 to 360 is a circle."""

    pen: str
    centre: Point
    radius: float
    first: float
    last: float

    @property
    def points(self) -> tuple[Point, ...]:
        """Points along it, for what cannot draw arcs."""
        count = max(9, int(np.ceil((self.last - self.first) / 5.0)) + 1)
        turn = np.radians(np.linspace(self.first, self.last, count))
        x, y = self.centre
        return tuple(
            (float(x + self.radius * c), float(y + self.radius * s))
            for c, s in zip(np.cos(turn), np.sin(turn), strict=True)
        )


@dataclass(frozen=True)
class Fill:
    """A solid triangle or quadrilateral: arrow heads, datum triangles, trimming marks."""

    pen: str
    points: tuple[Point, ...]


@dataclass(frozen=True)
class Text:
    """One line; `at` is on the base line at its left end, middle or right end."""

    at: Point
    text: str
    height: float = 3.5  # of capitals
    align: str = "left"
    angle: float = 0.0  # degrees

    @property
    def box(self) -> np.ndarray:
        """Corners (4, 2) of what the lettering covers."""
        length = width(self.text, self.height)
        start = {"left": 0.0, "middle": -length / 2.0, "right": -length}[self.align]
        low, high = -0.22 * self.height if set(self.text) & set("gjpqy,;()/") else 0.0, self.height
        flat = np.array([[start, low], [start + length, low], [start + length, high], [start, high]])
        c, s = np.cos(np.radians(self.angle)), np.sin(np.radians(self.angle))
        return flat @ np.array([[c, s], [-s, c]]) + np.array(self.at)


@dataclass(frozen=True)
class Measure:
    """A dimension as one object: what it measures, its two feature points, a point on its line, and how it is drawn."""

    kind: str  # linear or angular
    points: tuple[Point, ...]
    line: Point
    text: str
    angle: float  # of the dimension line, degrees
    items: tuple[Item, ...]
    limits: tuple[str, str] | None = None  # upper and lower deviation, behind the text


Item = Stroke | Arc | Fill | Text | Measure
CAPITAL = 0.729  # height of capitals over the type size, DejaVu Sans (its OS/2 table)


def font_file() -> Path:
    """The font that comes with the plotting library, so that every machine letters alike."""
    from matplotlib import get_data_path

    return Path(get_data_path()) / "fonts" / "ttf" / "DejaVuSans.ttf"


@cache
def _font():
    from matplotlib.font_manager import get_font

    return get_font(str(font_file()))


@cache
def width(text: str, height: float) -> float:
    """Length of one line of lettering, mm."""
    from matplotlib.ft2font import LoadFlags

    font = _font()
    font.set_size(100.0, 72)
    font.set_text(text, 0.0, flags=LoadFlags.NO_HINTING)
    return float(font.get_width_height()[0] / 64.0 / 100.0 / CAPITAL * height)


def wrapped(text: str, height: float, room: float) -> list[str]:
    """Lines no longer than the room, broken between words."""
    lines: list[str] = []
    for word in text.split():
        longer = f"{lines[-1]} {word}" if lines else word
        if lines and width(longer, height) <= room:
            lines[-1] = longer
        else:
            lines.append(word)
    return lines
