"""Round walls parallel to one direction, found without a first guess: seen along it they are circles.

The normal of every wall point runs through its circle's centre; where many such lines from many sides cross, there is one
(Ballard, Pattern Recognition 13, 1981: the transform of arbitrary shapes, with the edge's direction known). Walls about one
axis, such as a bore and its hub, share their crossing.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from geometry.datums import Floats

SIDES = 12  # directions about a centre that are told apart
LEVELS = (3.0, 8.0, 20.0)  # extent of the scene over the largest radius looked for
CELLS = 50  # cells of the raster to the largest radius
TURNS, STRAIGHT = (
    60,
    0.01,
)  # directions of straight walls told apart, and the share of all points that makes one
MOST = 20  # centres kept of each level
BETTER = 1.5  # weight over another's from which a centre rules what lies within its circles
STEEP = np.sin(np.radians(8.0))


@dataclass(frozen=True)
class Circle:
    radius: float
    support: int
    cover: float  # share of the turn that is seen


@dataclass(frozen=True)
class Centre:
    """An axis seen from its end: place (2,) and the circles about it, largest support first."""

    place: Floats
    circles: tuple[Circle, ...]

    @property
    def weight(self) -> float:
        return sum(np.sqrt(circle.support) * circle.cover for circle in self.circles)


def centres(flat: Floats, normal: Floats) -> list[Centre]:
    """Axes among wall points (n, 2) with unit normals (n, 2), best first."""
    if len(flat) < 30:
        return []
    low, high = np.percentile(flat, [1.0, 99.0], axis=0)
    extent = float(np.max(high - low))
    curved = not_straight(flat, normal, extent)
    flat, normal = flat[curved], normal[curved]
    found: list[Centre] = []
    for level in LEVELS:
        largest = extent / level
        for place in crossings(flat, normal, largest, low - largest / 4.0, high + largest / 4.0):
            made = about(flat, normal, place, largest)
            if made is not None:
                found.append(made)
    found.sort(key=lambda centre: -centre.weight)
    return apart(found, extent / 200.0)


def not_straight(flat: Floats, normal: Floats, extent: float) -> np.ndarray:
    """Points (n,) that do not lie on a long straight wall: floors and flanges would drown the round ones."""
    turn = np.arctan2(normal[:, 1], normal[:, 0]) % np.pi
    way = np.column_stack([np.cos(turn), np.sin(turn)])
    index = (turn / np.pi * TURNS).astype(int) % TURNS
    off = np.floor(np.sum(flat * way, axis=1) / (0.01 * extent)).astype(int)
    off -= off.min()
    key = index * (off.max() + 1) + off
    count = np.bincount(key)
    return count[key] <= max(40.0, STRAIGHT * len(flat))


def crossings(flat: Floats, normal: Floats, largest: float, low: Floats, high: Floats) -> Floats:
    """Places (k, 2) where normals cross from many sides."""
    cell = largest / CELLS
    shape = np.maximum(1, np.ceil((high - low) / cell).astype(int))
    if np.prod(shape.astype(float)) > 4e6:
        return np.zeros((0, 2))
    step = max(1, len(flat) // 6000)
    flat, normal = flat[::step], normal[::step]
    away = np.arange(2, CELLS + 1) * cell
    score = np.zeros(shape)
    side = ((np.arctan2(normal[:, 1], normal[:, 0]) % np.pi) / np.pi * SIDES / 2).astype(int)
    for number in range(SIDES // 2):
        for sign in (1.0, -1.0):
            own = side == number
            votes = flat[own, None, :] + sign * away[None, :, None] * normal[own, None, :]
            index = np.floor((votes.reshape(-1, 2) - low) / cell).astype(int)
            index = index[((index >= 0) & (index < shape)).all(axis=1)]
            count = np.bincount(index @ np.array([shape[1], 1]), minlength=int(np.prod(shape))).reshape(shape)
            score += np.sqrt(smoothed(count))
    places = []
    for _ in range(MOST):
        at = np.unravel_index(int(np.argmax(score)), score.shape)
        places.append(low + (np.array(at) + 0.5) * cell)
        score[max(0, at[0] - 3) : at[0] + 4, max(0, at[1] - 3) : at[1] + 4] = 0.0
    return np.array(places)


def smoothed(count: np.ndarray) -> np.ndarray:
    """Sum over each cell and its eight neighbours."""
    padded = np.pad(count.astype(float), 1)
    rows = padded[:-2] + padded[1:-1] + padded[2:]
    return rows[:, :-2] + rows[:, 1:-1] + rows[:, 2:]


def about(flat: Floats, normal: Floats, place: Floats, largest: float) -> Centre | None:
    """The circles about a place, which moves to their common centre."""
    cell = largest / CELLS
    for slack in (3.0 * cell, 1.5 * cell):
        away = flat - place
        reach = np.hypot(*away.T)
        off = np.abs(away[:, 0] * normal[:, 1] - away[:, 1] * normal[:, 0])
        own = np.flatnonzero(
            (reach < 1.1 * largest) & (reach > 1.5 * cell) & (off < np.minimum(slack, 0.25 * reach))
        )
        rings = peaks(reach[own], cell)
        picked = [own[np.abs(reach[own] - ring) < slack] for ring in rings]
        picked = [rows for rows in picked if len(rows) >= 20]
        if not picked:
            return None
        place = common(flat, picked, place)
    circles = []
    for rows in picked:
        radius = float(np.median(np.hypot(*(flat[rows] - place).T)))
        near = rows[np.abs(np.hypot(*(flat[rows] - place).T) - radius) < slack]
        if len(near) >= 20:
            circles.append(Circle(radius, len(near), cover(flat[near] - place)))
    circles = [circle for circle in circles if circle.cover > 0.15]
    if not circles:
        return None
    return Centre(place, tuple(sorted(circles, key=lambda circle: -circle.support)))


def peaks(reach: Floats, cell: float) -> list[float]:
    """Radii that many points share, with those right beside left out."""
    count = np.bincount((reach / cell).astype(int)).astype(float) if len(reach) else np.zeros(1)
    count = np.convolve(count, [1.0, 1.0, 1.0], mode="same")
    made = []
    for _ in range(4):
        k = int(np.argmax(count))
        if count[k] < 20.0:
            break
        made.append((k + 0.5) * cell)
        count[max(0, k - 4) : k + 5] = 0.0
    return made


def common(flat: Floats, rings: list[np.ndarray], place: Floats) -> Floats:
    """Centre (2,) of circles about one place, their radii free: least squares, one step after the other, far points less."""
    for _ in range(6):
        rows, rest = [], []
        for number, ring in enumerate(rings):
            away = flat[ring] - place
            reach = np.hypot(*away.T)
            off = reach - np.median(reach)
            spread = 1.4826 * np.median(np.abs(off)) + 1e-9
            weight = np.sqrt(np.clip(1.0 - (off / (4.7 * spread)) ** 2, 0.0, None) ** 2)
            ones = np.zeros((len(ring), len(rings)))
            ones[:, number] = 1.0
            rows.append(np.column_stack([-away / reach[:, None], -ones]) * weight[:, None])
            rest.append(-off * weight)
        step = np.linalg.lstsq(np.vstack(rows), np.concatenate(rest), rcond=1e-8)[0]
        place = place + step[:2]
    return place


def cover(away: Floats) -> float:
    """Share of 36 sectors in which there are points."""
    return (
        len(np.unique((np.arctan2(away[:, 1], away[:, 0]) / (2.0 * np.pi) * 36.0 % 36.0).astype(int))) / 36.0
    )


def apart(found: list[Centre], least: float) -> list[Centre]:
    """The best of those that lie close together; within the circles of one far better there is no other axis."""
    kept: list[Centre] = []
    for centre in found:
        if all(np.hypot(*(centre.place - other.place)) > room(other, centre, least) for other in kept):
            kept.append(centre)
    return kept


def room(better: Centre, centre: Centre, least: float) -> float:
    """How far from a better centre another may be one of its own."""
    radius = max(circle.radius for circle in better.circles)
    return max(least, radius if better.weight > BETTER * centre.weight else 0.05 * radius)
