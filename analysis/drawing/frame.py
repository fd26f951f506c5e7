"""A view at its scale and place: edges of the part become strokes on paper."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from analysis.drawing.ink import Arc, Item, Point, Stroke

Edges = dict[str, list[dict[str, Any]]]
PENS = {"visible": "outline", "cut": "outline", "smooth": "smooth", "hidden": "hidden"}


@dataclass(frozen=True)
class Frame:
    """Where the part's origin lies on paper, and paper over part."""

    x: float
    y: float
    scale: float

    def at(self, x: float, y: float) -> Point:
        return float(self.x + self.scale * x), float(self.y + self.scale * y)


def strokes(edges: Edges, frame: Frame, kinds: tuple[str, ...]) -> list[Item]:
    """The edges of these kinds, thin ones first."""
    return [stroke(edge, frame, PENS[kind]) for kind in kinds for edge in edges.get(kind, [])]


def stroke(edge: dict[str, Any], frame: Frame, pen: str) -> Item:
    if "centre" not in edge:
        return Stroke(pen, tuple(frame.at(x, y) for x, y in edge["points"]))
    last = edge["to"] if edge["to"] > edge["from"] else edge["to"] + 360.0
    return Arc(pen, frame.at(*edge["centre"]), frame.scale * edge["radius"], edge["from"], last)


def extent(edges: Edges) -> tuple[float, float, float, float]:
    """Left, bottom, right, top of all edges, mm of the part."""
    unit = Frame(0.0, 0.0, 1.0)
    points = np.array(
        [point for kind in edges.values() for edge in kind for point in stroke(edge, unit, "outline").points]
    )
    (left, bottom), (right, top) = points.min(0), points.max(0)
    return float(left), float(bottom), float(right), float(top)


def hatched(edges: list[dict[str, Any]], frame: Frame, apart: float = 2.5) -> list[Item]:
    """Lines at 45 degrees over the inside of closed edges (inside: after an odd number of edges)."""
    unit = [np.array(stroke(edge, frame, "outline").points) for edge in edges]
    turn = np.sqrt(0.5) * np.array([[1.0, 1.0], [-1.0, 1.0]])  # rows: along the lines, across them
    runs = [points @ turn.T for points in unit]
    low, high = min(run[:, 1].min() for run in runs), max(run[:, 1].max() for run in runs)
    lines: list[Item] = []
    for level in np.arange(np.ceil(low / apart), np.floor(high / apart) + 1.0) * apart + 1e-7:
        hits = sorted(hit for run in runs for hit in meets(run, level))
        for start, stop in zip(hits[::2], hits[1::2], strict=False):
            ends = np.array([[start, level], [stop, level]]) @ turn
            lines.append(Stroke("hatch", tuple((float(x), float(y)) for x, y in ends)))
    return lines


def meets(run: np.ndarray, level: float) -> list[float]:
    """Where a chain of points (n, 2) crosses a level of its second coordinate."""
    a, b = run[:-1], run[1:]
    crossing = (a[:, 1] > level) != (b[:, 1] > level)
    a, b = a[crossing], b[crossing]
    return list(a[:, 0] + (level - a[:, 1]) / (b[:, 1] - a[:, 1]) * (b[:, 0] - a[:, 0]))
