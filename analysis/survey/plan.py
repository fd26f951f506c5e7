"""Plane figures of the arm's elevation as lines and circles: the outline with its blends, the pockets with their corners.

The same figures as `geometry.outline` builds with the CAD kernel, here as formulas, so that a fit can differentiate them. A
figure is a union of convex pieces, each re-entrant corner filled up to a disc that touches two of their edges. Of a pocket
the figure is the metal around it.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from itertools import combinations, pairwise

import numpy as np

from geometry.datums import ARMS, BORES, CORNER, ArmDatum, Floats
from geometry.edges import (
    BEND,
    BLENDED,
    INSIDE_ANGLE,
    LEAST_ANGLE,
    bent,
    boss_angle,
    edge_line,
    hub_angle,
    inner_radius,
    knee_points,
)

TOUCH = 1e-6  # of the disc's radius and a mm: how exactly a blend must touch
MOST_STRETCHES = 3  # straights of an arm's edge: along the hub, tapered, leaning in to the boss


@dataclass(frozen=True)
class Edges:
    """Carriers of the edges: lines (a = unit normal out of the metal, b = offset) and circles (a = centre, b = radius)."""

    circle: np.ndarray  # (n,) bool
    a: Floats  # (n, 2)
    b: Floats  # (n,)
    sign: Floats  # (n,) 1: metal within the circle; -1: metal around it

    def distance(self, points: Floats, which: np.ndarray) -> Floats:
        """Signed distance (m,) of points (m, 2) from the carriers `which` (m,), positive outside of the metal."""
        a, b, sign = self.a[which], self.b[which], self.sign[which]
        straight = a[:, 0] * points[:, 0] + a[:, 1] * points[:, 1] - b
        round_ = sign * (np.hypot(points[:, 0] - a[:, 0], points[:, 1] - a[:, 1]) - b)
        return np.where(self.circle[which], round_, straight)

    def one(self, points: Floats, k: int) -> Floats:
        """The same of all points from one carrier."""
        if not self.circle[k]:
            return points @ self.a[k] - self.b[k]
        return self.sign[k] * (np.hypot(*(points - self.a[k]).T) - self.b[k])


@dataclass(frozen=True)
class Blend:
    """A disc in a re-entrant corner: it touches the edges `first` and `second`; `branch` tells which of two it is."""

    first: int
    second: int
    branch: int


@dataclass(frozen=True)
class BarSide:
    """One edge of an arm: its lines in turn, the arcs between them, and the directions (2,) before and after each arc."""

    lines: tuple[int, ...]
    arcs: tuple[int, ...]
    turns: tuple[tuple[Floats, Floats], ...]


@dataclass(frozen=True)
class Bar:
    """Both sides of an arm's elevation; `sign` 1: metal between them, -1: a clear field."""

    sides: tuple[BarSide, ...]
    along: Floats
    length: float
    sign: float


@dataclass
class Figure:
    """Edges of convex pieces, the blends between them, and the pieces as groups of edges; other edges are pieces alone."""

    edges: Edges
    bars: list[Bar] = field(default_factory=list)
    pieces: list[tuple[int, ...]] = field(default_factory=list)
    absent: set[int] = field(default_factory=set)  # edges that these sizes do not need
    radius: float = 0.0
    blends: tuple[Blend, ...] = ()
    base: int = 0  # edges before the blends

    def union(self, points: Floats) -> tuple[Floats, np.ndarray]:
        """Distance (m,) to the pieces without blends, and the nearest edge (m,)."""
        barred = {k for bar in self.bars for side in bar.sides for k in (*side.lines, *side.arcs)}
        alone = set(range(self.base)) - barred - {k for piece in self.pieces for k in piece} - self.absent
        best, label = np.full(len(points), np.inf), np.zeros(len(points), dtype=int)
        for piece in [*((k,) for k in sorted(alone)), *self.pieces]:
            each = np.array([self.edges.one(points, k) for k in piece])
            far, which = each.max(axis=0), np.array(piece)[each.argmax(axis=0)]
            label, best = np.where(far < best, which, label), np.minimum(far, best)
        for bar in self.bars:
            near, which = self.bar_distance(points, bar)
            label, best = np.where(near < best, which, label), np.minimum(near, best)
        return best, label

    def bar_distance(self, points: Floats, bar: Bar) -> tuple[Floats, np.ndarray]:
        """Distance to the metal of one arm's bar, or around a clear one, and its nearest edge."""
        s = points @ bar.along
        best, label = np.maximum(-s, s - bar.length), np.full(len(points), bar.sides[0].lines[0])
        for side in bar.sides:
            which = np.full(len(points), side.lines[0])
            for arc, line, turn in zip(side.arcs, side.lines[1:], side.turns, strict=False):
                away = points - self.edges.a[arc]
                which = np.where(away @ turn[0] < 0.0, which, np.where(away @ turn[1] > 0.0, line, arc))
            near = bar.sign * self.edges.distance(points, which)
            label, best = np.where(near > best, which, label), np.maximum(near, best)
        return bar.sign * best, label

    def nearest(self, points: Floats) -> tuple[Floats, np.ndarray]:
        """Distance (m,) to the blended figure and the nearest edge (m,)."""
        best, label = self.union(points)
        for number, blend in enumerate(self.blends):
            k = self.base + number
            middle, radius = self.edges.a[k], self.edges.b[k]
            u, v = (-self.normal(middle, edge) for edge in (blend.first, blend.second))
            turn, half = u[0] * v[1] - u[1] * v[0], np.hypot(*(u + v)) / 2.0
            wide = radius / max(half, 0.05)
            close = np.flatnonzero(np.abs(points - middle).max(axis=1) < wide)
            away = points[close] - middle
            reach = np.hypot(away[:, 0], away[:, 1])
            inside = ((u[0] * away[:, 1] - u[1] * away[:, 0]) * turn >= 0.0) & (
                (away[:, 0] * v[1] - away[:, 1] * v[0]) * turn >= 0.0
            )
            near = radius - reach
            inside &= (reach < wide) & ((best[close] > 0.0) | (np.abs(near) < np.abs(best[close])))
            label[close[inside]], best[close[inside]] = k, near[inside]
        return best, label

    def normal(self, point: Floats, k: int) -> Floats:
        """Unit vector (2,) out of the metal at a point, from carrier k."""
        if not self.edges.circle[k]:
            return self.edges.a[k]
        away = point - self.edges.a[k]
        return self.edges.sign[k] * away / np.hypot(*away)


def joined(figure: Figure, radius: float, blends: tuple[Blend, ...] | None = None) -> Figure:
    """The figure with its blends of this radius: those given, or all that fit."""
    figure.base, figure.radius = len(figure.edges.b), radius
    if radius <= 0.0:
        return figure
    chosen = fitting(figure, radius) if blends is None else blends
    middles = [touching(figure.edges, blend.first, blend.second, radius)[blend.branch] for blend in chosen]
    figure.blends, old = tuple(chosen), figure.edges
    figure.edges = Edges(
        np.append(old.circle, np.ones(len(chosen), dtype=bool)),
        np.vstack([old.a, np.reshape(middles, (-1, 2))]),
        np.append(old.b, np.full(len(chosen), radius)),
        np.append(old.sign, -np.ones(len(chosen))),
    )
    return figure


def fitting(figure: Figure, radius: float) -> tuple[Blend, ...]:
    """Every disc of this radius that touches two edges of the figure and overlaps nothing of it."""
    slack, tried, places = TOUCH * (1.0 + radius), [], []
    for i, j in combinations(sorted(set(range(figure.base)) - figure.absent), 2):
        for branch, middle in enumerate(touching(figure.edges, i, j, radius)):
            if np.isfinite(middle).all():
                tried.append(Blend(i, j, branch))
                places += [middle, *(middle - radius * figure.normal(middle, k) for k in (i, j))]
    if not tried:
        return ()
    spots = np.array(places).reshape(-1, 3, 2)
    clear = figure.union(spots.reshape(-1, 2))[0].reshape(-1, 3)
    apart = np.hypot(*(spots[:, 1] - spots[:, 2]).T)
    good = (
        (clear[:, 0] > radius - slack) & (np.abs(clear[:, 1:]) < slack).all(axis=1) & (apart > 1e-3 * radius)
    )
    return tuple(blend for blend, one in zip(tried, good, strict=True) if one)


def touching(edges: Edges, i: int, j: int, radius: float) -> Floats:
    """Centres (2, 2) of the discs of this radius outside of both carriers that touch both; nan where there is none."""
    if edges.circle[i] and not edges.circle[j]:
        i, j = j, i
    if not edges.circle[j]:
        return two_lines(edges, i, j, radius)
    if not edges.circle[i]:
        return line_and_circle(
            edges.a[i], edges.b[i] + radius, edges.a[j], edges.b[j] + edges.sign[j] * radius
        )
    apart = edges.a[j] - edges.a[i]
    far, (one, other) = np.hypot(*apart), (edges.b[[i, j]] + edges.sign[[i, j]] * radius)
    if far < 1e-9:
        return np.full((2, 2), np.nan)
    along = (far**2 + one**2 - other**2) / (2.0 * far)
    return line_and_circle(apart / far, along + edges.a[i] @ apart / far, edges.a[i], one)


def two_lines(edges: Edges, i: int, j: int, radius: float) -> Floats:
    matrix = np.array([edges.a[i], edges.a[j]])
    made = np.full((2, 2), np.nan)
    if abs(np.linalg.det(matrix)) > 1e-6:
        made[0] = np.linalg.solve(matrix, edges.b[[i, j]] + radius)
    return made


def line_and_circle(normal: Floats, offset: float, middle: Floats, radius: float) -> Floats:
    """Both points (2, 2) on the line n . p = offset at `radius` from `middle`."""
    foot = middle + (offset - middle @ normal) * normal
    square = radius**2 - (offset - middle @ normal) ** 2
    if square < 0.0:
        return np.full((2, 2), np.nan)
    along = np.sqrt(square) * np.array([-normal[1], normal[0]])
    return np.array([foot + along, foot - along])


class Collector:
    """Edges gathered one by one."""

    def __init__(self) -> None:
        self.rows: list[tuple[bool, Floats, float, float]] = []

    def circle(self, middle: Floats, radius: float, sign: float = 1.0) -> int:
        self.rows.append((True, middle, radius, sign))
        return len(self.rows) - 1

    def line(self, first: Floats, second: Floats, inside: Floats, sign: float = 1.0) -> int:
        """The line through two points, its normal away from the point `inside` the metal (sign -1: the clear field)."""
        along = (second - first) / np.hypot(*(second - first))
        normal = np.array([along[1], -along[0]])
        if sign * (normal @ (inside - first)) > 0.0:
            normal = -normal
        self.rows.append((False, normal, float(normal @ first), 1.0))
        return len(self.rows) - 1

    def edges(self) -> Edges:
        circle, a, b, sign = zip(*self.rows, strict=True)
        return Edges(np.array(circle), np.array(a, dtype=float), np.array(b, dtype=float), np.array(sign))


def outline(
    sizes: dict[str, float], datums: dict[str, ArmDatum], blends: tuple[Blend, ...] | None = None
) -> Figure:
    """Hub, bosses and both arms in one; edges 0 to 2 are the circles of pivot, input and output that the blends touch.

    A carrier that these sizes do not need stays in its place, `absent`, so that edges keep their numbers as sizes vary.
    """
    made, figure, radius = Collector(), Figure(Edges(*[np.zeros(0)] * 4)), sizes["blend_radius"]
    for name in BORES:
        middle = np.zeros(2) if name == "pivot" else datums[name].pin
        outside = sizes[f"{name}.outside"] / 2.0
        number = made.circle(middle, inner_radius(outside, radius, LEAST_ANGLE))
        met = hub_angle(datums["input"], outside) if name == "pivot" else boss_angle(datums[name], outside)
        if met <= BLENDED:
            figure.absent.add(number)
    for name in ARMS:
        figure.bars.append(bar(made, datums[name], sizes[f"{name}.outside"] / 2.0, 0.0, figure.absent))
    knee(made, figure, knee_points(datums["input"], sizes["included_angle"]))
    figure.edges = made.edges()
    return joined(figure, radius, blends)


def knee(made: Collector, figure: Figure, points: Floats | None) -> None:
    """The triangle between the arms as a piece, where there is one."""
    corner = np.array([[1.0, 0.0], [0.0, 1.0], [0.0, 0.0]]) if points is None else points
    middle = corner.mean(axis=0)
    sides = tuple(made.line(corner[k], corner[(k + 1) % 3], middle) for k in range(3))
    if points is None:
        figure.absent.update(sides)
    else:
        figure.pieces.append(sides)


def bar(made: Collector, datum: ArmDatum, boss: float, inset: float, absent: set[int]) -> Bar:
    """Both edges of one arm moved inward by `inset`; with an inset the metal lies outside of them."""
    sign = -1.0 if inset else 1.0
    s, eta = edge_line(datum, inset)
    runs = bent(s, eta, BEND * datum.depth_at_hub, inset)
    sides = [bar_side(made, datum, runs, side, sign, absent) for side in (1.0, -1.0)]
    return Bar(tuple(sides), datum.along, datum.length, sign)


def bar_side(
    made: Collector, datum: ArmDatum, runs: list[Floats], side: float, sign: float, absent: set[int]
) -> BarSide:
    """One edge of an arm from its runs of `edges.bent`; straights and arcs that it lacks are made and named absent."""
    lines, arcs, heads = [], [], []
    placed = [datum.point(run[:, 0], side * run[:, 1]) for run in runs]
    straights, bends = placed[::2], placed[1::2]
    for k in range(MOST_STRETCHES):
        one, two = straights[min(k, len(straights) - 1)]
        lines.append(made.line(one, two, datum.point(0.5 * datum.length), sign))
        heads.append((two - one) / np.hypot(*(two - one)))
        if k >= len(straights):
            absent.add(lines[-1])
    for k in range(MOST_STRETCHES - 1):
        given = k < len(bends)
        arcs.append(made.circle(*(arc_circle(bends[k]) if given else (datum.pin, 1.0)), sign))
        if not given:
            absent.add(arcs[-1])
    return BarSide(tuple(lines), tuple(arcs), tuple(pairwise(heads[: len(bends) + 1])))


def arc_circle(points: Floats) -> tuple[Floats, float]:
    """Middle and radius of the circle through three points (3, 2)."""
    one, two = points[1] - points[0], points[2] - points[0]
    middle = np.linalg.solve(2.0 * np.array([one, two]), np.array([one @ one, two @ two]))
    return points[0] + middle, float(np.hypot(*middle))


def pocket(
    sizes: dict[str, float], datums: dict[str, ArmDatum], name: str, blends: tuple[Blend, ...] | None = None
) -> Figure:
    """The metal around the pocket of one arm of an I; edges 0 and 1 are the circles of hub and boss."""
    made, own, figure = Collector(), datums[name], Figure(Edges(*[np.zeros(0)] * 4))
    other = datums["output" if name == "input" else "input"]
    corner, flange = CORNER * sizes["section.fillet"], sizes["section.flange_thickness"]
    for part, middle in (("pivot", np.zeros(2)), (name, own.pin)):
        made.circle(middle, inner_radius(sizes[f"{part}.outside"] / 2.0, corner, INSIDE_ANGLE))
    figure.bars.append(bar(made, own, sizes[f"{name}.outside"] / 2.0, flange, figure.absent))
    middle = own.along + other.along
    middle = middle / np.hypot(*middle) if np.hypot(*middle) > 1e-9 else own.across
    away = other.along - (other.along @ middle) * middle
    away = away / np.hypot(*away)
    made.rows.append((False, -away, 0.5 * flange, 1.0))
    figure.edges = made.edges()
    return joined(figure, corner, blends)
