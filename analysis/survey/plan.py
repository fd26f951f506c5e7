"""Plane figures of the arm's elevation as lines and circles: the outline with its blends, the pockets with their corners.

The same figures as `geometry.outline` builds with the CAD kernel, here as formulas, so that a fit can differentiate them. A
figure is a union of convex pieces, each re-entrant corner filled up to a disc that touches two of their edges. Of a pocket
the figure is the metal around it.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from itertools import combinations

import numpy as np

from geometry.datums import ARMS, BEND, BORES, CORNER, ArmDatum, Floats, slant

TOUCH = 1e-6  # of the disc's radius and a mm: how exactly a blend must touch


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


@dataclass
class Figure:
    """Edges of convex pieces, the blends between them, and the pieces as groups of edges."""

    edges: Edges
    bars: list[tuple[tuple[int, int, int, Floats], ...]] = field(default_factory=list)  # see `bar_distance`
    ends: list[tuple[Floats, float]] = field(default_factory=list)  # direction and length of each bar
    radius: float = 0.0
    blends: tuple[Blend, ...] = ()
    base: int = 0  # edges before the blends

    def union(self, points: Floats) -> tuple[Floats, np.ndarray]:
        """Distance (m,) to the pieces without blends, and the nearest edge (m,)."""
        barred = {k for bar in self.bars for side in bar for k in side[:3]}
        best, label = np.full(len(points), np.inf), np.zeros(len(points), dtype=int)
        for k in range(self.base):
            if k not in barred:
                near = self.edges.one(points, k)
                label, best = np.where(near < best, k, label), np.minimum(near, best)
        for bar, end in zip(self.bars, self.ends, strict=True):
            near, which = self.bar_distance(points, bar, end)
            label, best = np.where(near < best, which, label), np.minimum(near, best)
        return best, label

    def bar_distance(
        self, points: Floats, bar: tuple, end: tuple[Floats, float]
    ) -> tuple[Floats, np.ndarray]:
        """Distance to one arm's bar and its nearest edge; each side has a parallel, a bend and a tapered edge."""
        s = points @ end[0]
        far = np.maximum(-s, s - end[1])
        best, label = far, np.full(len(points), bar[0][0])
        for parallel, bend, taper, turns in bar:
            away = points - self.edges.a[bend]
            which = np.where(away @ turns[0] < 0.0, parallel, np.where(away @ turns[1] > 0.0, taper, bend))
            near = self.edges.distance(points, which)
            label, best = np.where(near > best, which, label), np.maximum(near, best)
        return best, label

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
    for i, j in combinations(range(figure.base), 2):
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
        return line_and_circle(edges.a[i], edges.b[i] + radius, edges.a[j], edges.b[j] + radius)
    apart = edges.a[j] - edges.a[i]
    far, one, other = np.hypot(*apart), edges.b[i] + radius, edges.b[j] + radius
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
        self.rows: list[tuple[bool, Floats, float]] = []

    def circle(self, middle: Floats, radius: float) -> int:
        self.rows.append((True, middle, radius))
        return len(self.rows) - 1

    def line(self, first: Floats, second: Floats, inside: Floats) -> int:
        """The line through two points, its normal away from the point `inside` the metal."""
        along = (second - first) / np.hypot(*(second - first))
        normal = np.array([along[1], -along[0]])
        if normal @ (inside - first) > 0.0:
            normal = -normal
        self.rows.append((False, normal, float(normal @ first)))
        return len(self.rows) - 1

    def edges(self) -> Edges:
        circle, a, b = zip(*self.rows, strict=True)
        return Edges(np.array(circle), np.array(a, dtype=float), np.array(b, dtype=float), np.ones(len(b)))


def outline(
    sizes: dict[str, float], datums: dict[str, ArmDatum], blends: tuple[Blend, ...] | None = None
) -> Figure:
    """Hub, bosses and both arms in one; edges 0 to 2 are the circles of pivot, input and output."""
    made, figure = Collector(), Figure(Edges(*[np.zeros(0)] * 4))
    for name in BORES:
        middle = np.zeros(2) if name == "pivot" else datums[name].pin
        made.circle(middle, sizes[f"{name}.outside"] / 2.0)
    for name in ARMS:
        datum, sides = datums[name], []
        for side in (1.0, -1.0):
            sides.append(bar_side(made, datum, side))
        figure.bars.append(tuple(sides))
        figure.ends.append((datum.along, datum.length))
    figure.edges = made.edges()
    return joined(figure, sizes["blend_radius"], blends)


def bar_side(made: Collector, datum: ArmDatum, side: float) -> tuple[int, int, int, Floats]:
    """Parallel, bent and tapered edge of one side of an arm, and their directions (2, 2)."""
    s = np.array([0.0, datum.hub_edge, datum.length])
    points = datum.point(s, side * datum.depth(s) / 2.0)
    middle = datum.point(datum.hub_edge)
    parallel, taper = made.line(points[0], points[1], middle), made.line(points[1], points[2], middle)
    one, other = made.rows[parallel][1], made.rows[taper][1]
    rho, both = BEND * datum.depth_at_hub, one + other
    bend = made.circle(points[1] - rho / (both @ both / 2.0) * both, rho)
    turns = np.array([points[1] - points[0], points[2] - points[1]])
    return parallel, bend, taper, turns / np.linalg.norm(turns, axis=1)[:, None]


def pocket(
    sizes: dict[str, float], datums: dict[str, ArmDatum], name: str, blends: tuple[Blend, ...] | None = None
) -> Figure:
    """The metal around the pocket of one arm of an I; edges 0 and 1 are the circles of hub and boss."""
    made, own = Collector(), datums[name]
    other = datums["output" if name == "input" else "input"]
    made.circle(np.zeros(2), sizes["pivot.outside"] / 2.0)
    made.circle(own.pin, sizes[f"{name}.outside"] / 2.0)
    s, flange = np.array([0.0, own.hub_edge, own.length]), sizes["section.flange_thickness"]
    half = own.depth(s) / 2.0 - flange * slant(own)
    for side in (1.0, -1.0):
        points = own.point(s, side * half)
        beyond = own.point(own.hub_edge, 2.0 * side * own.depth_at_hub)
        made.line(points[0], points[1], beyond)
        made.line(points[1], points[2], beyond)
    middle = own.along + other.along
    middle = middle / np.hypot(*middle) if np.hypot(*middle) > 1e-9 else own.across
    away = other.along - (other.along @ middle) * middle
    away = away / np.hypot(*away)
    made.rows.append((False, -away, 0.5 * flange))
    figure = Figure(made.edges())
    return joined(figure, CORNER * sizes["section.fillet"], blends)
