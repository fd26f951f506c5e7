"""Where a deposited part is cut into pieces: every piece within reach and mass, joints where they may lie, least time.

Every choice of at most `MOST` cuts on each arm is judged at once, with masses in closed form; the pieces themselves are
cut from the near-net solid afterwards (geometry.pieces) and judged again by their own mass and box.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import partial
from itertools import combinations

import numpy as np
from more_itertools import set_partitions

from analysis.making.pieces.deposition import work
from analysis.making.pieces.envelope import Box, box_of, circle, stance
from analysis.making.pieces.joints import Joints
from analysis.mechanics.internal_forces import outer_mass
from analysis.mechanics.mass import mass
from analysis.mechanics.sizes import Sizes
from analysis.mechanics.spans import spans
from geometry.datums import ARMS, ArmDatum, arm_datum
from geometry.stock import near_net
from params.schema.arm import Arm
from params.schema.route import Deposition, Route
from params.schema.units import show
from params.steps.arrays import Floats

MOST = 2  # cuts on one arm
SURE = 1.02  # closed forms of mass stay within two per cent of the solid's
# A further joint must win this many days of deposition: it takes as long to make and examine; common practice, no source.
JOINT_DAYS = 1.0
ALIKE = 0.25  # days: of splits this close the one whose joints are least used


@dataclass(frozen=True)
class Blank:
    """The near-net part: what a piece of it weighs and measures. Arms in the order of `ARMS`, stations in mm."""

    arm: Arm
    total: float
    stations: tuple[Floats, Floats]
    outer: tuple[Floats, Floats]  # kg outside each station

    def outside(self, limb: int, k: int | None) -> float:
        """Mass beyond station k of an arm; none beyond its end."""
        return 0.0 if k is None else float(self.outer[limb][k])

    def segment(self, limb: int, start: int, end: int | None) -> Box:
        """Box of the piece of an arm between two stations, or from one to the end of its boss."""
        datum, geometry = arm_datum(self.arm, ARMS[limb]), self.arm.geometry
        boss = getattr(geometry, ARMS[limb])
        s = self.stations[limb]
        turn = float(np.arctan2(datum.along[1], datum.along[0]))
        depth = float(datum.depth(s[start]))
        if end is not None:
            return Box(turn, float(s[end] - s[start]), depth, geometry.section.width)
        length = datum.length + boss.outside / 2.0 - float(s[start])
        return Box(turn, length, max(depth, boss.outside), max(geometry.section.width, boss.width))

    def hub(self, ends: tuple[int | None, int | None]) -> Box:
        """Box of the hub's piece, each arm with it up to a station or whole."""
        geometry = self.arm.geometry
        points, width = [circle(np.zeros(2), geometry.pivot.outside)], geometry.pivot.width
        for limb, end in enumerate(ends):
            datum = arm_datum(self.arm, ARMS[limb])
            points.append(edges(datum, datum.length if end is None else float(self.stations[limb][end])))
            if end is None:
                boss = getattr(geometry, ARMS[limb])
                points.append(circle(datum.pin, boss.outside))
                width = max(width, boss.width)
        return box_of(np.concatenate(points), width)


def edges(datum: ArmDatum, s: float) -> Floats:
    """Corners of an arm's elevation at the hub edge and at s."""
    at = np.array([datum.hub_edge, datum.hub_edge, s, s])
    return datum.point(at, datum.depth(at) / 2.0 * np.array([1.0, -1.0, 1.0, -1.0]))


def blank(arm: Arm, route: Route, density: float, arm_joints: tuple[Joints, Joints]) -> Blank:
    """The near-net part of a route with the stations that are allowed."""
    big = near_net(arm, route)
    sizes = Sizes.from_arm(big)
    span, heavy = spans(big, sizes), mass(big, sizes, density)
    stations = (arm_joints[0].s[arm_joints[0].allowed], arm_joints[1].s[arm_joints[1].allowed])
    outer = [outer_mass(span, heavy, s[None, None, :])[0][0, limb] for limb, s in enumerate(stations)]
    return Blank(big, float(heavy.total[0]), stations, (outer[0], outer[1]))


Cuts = tuple[int, ...]  # stations of one arm that are cut, from the hub outward


@dataclass(frozen=True)
class Split:
    """The chosen cuts and how the pieces come off the cells."""

    cuts: tuple[Cuts, Cuts]
    boxes: tuple[Box, ...]  # hub first, then each arm from the hub outward, input arm first
    days: float


def options(blank_: Blank, limb: int, cell: Deposition, most: float) -> list[Cuts]:
    """Cuts of one arm whose pieces beside the hub's all fit."""
    count = len(blank_.stations[limb])
    chosen = [cuts for number in range(MOST + 1) for cuts in combinations(range(count), number)]
    fits = {
        (start, end): fitting(blank_.segment(limb, start, end), weight, cell, most)
        for start in range(count)
        for end in (*range(start + 1, count), None)
        for weight in [blank_.outside(limb, start) - blank_.outside(limb, end)]
    }
    return [cuts for cuts in chosen if all(fits[pair] for pair in segments(cuts))]


def segments(cuts: Cuts) -> Iterator[tuple[int, int | None]]:
    """The pieces of one arm as pairs of stations; the last runs to the arm's end."""
    yield from zip(cuts, (*cuts[1:], None)[: len(cuts)], strict=True)


def fitting(box: Box, weight: float, cell: Deposition, most: float) -> bool:
    return SURE * weight <= most and stance(box, cell) is not None


def choices(blank_: Blank, route: Route, cell: Deposition) -> list[tuple[Cuts, Cuts]]:
    """Every split whose pieces all fit."""
    most = route.limits.largest_mass
    sides = [options(blank_, limb, cell, most) for limb in (0, 1)]
    hubs = {
        (a, b): fitting(blank_.hub((a, b)), hub_mass(blank_, (a, b)), cell, most)
        for a in {first(cuts) for cuts in sides[0]}
        for b in {first(cuts) for cuts in sides[1]}
    }
    return [(a, b) for a in sides[0] for b in sides[1] if hubs[first(a), first(b)]]


def first(cuts: Cuts) -> int | None:
    return cuts[0] if cuts else None


def hub_mass(blank_: Blank, ends: tuple[int | None, int | None]) -> float:
    return blank_.total - blank_.outside(0, ends[0]) - blank_.outside(1, ends[1])


def masses(blank_: Blank, cuts: tuple[Cuts, Cuts]) -> list[float]:
    """Mass of every piece in kg, in the order of `Split.boxes`."""
    outer = [
        blank_.outside(limb, start) - blank_.outside(limb, end)
        for limb in (0, 1)
        for start, end in segments(cuts[limb])
    ]
    return [hub_mass(blank_, (first(cuts[0]), first(cuts[1]))), *outer]


def boxes(blank_: Blank, cuts: tuple[Cuts, Cuts]) -> tuple[Box, ...]:
    outer = [blank_.segment(limb, *pair) for limb in (0, 1) for pair in segments(cuts[limb])]
    return (blank_.hub((first(cuts[0]), first(cuts[1]))), *outer)


def longest(days: Floats, cells: int) -> Floats:
    """Time (n,) until the last of the pieces, (n, pieces) days, is done, each piece whole on one of the cells.

    Every way to share pieces out is tried.
    """
    least = np.full(len(days), np.inf)
    pieces = range(days.shape[1])
    for used in range(1, min(len(pieces), cells) + 1):
        for shares in set_partitions(pieces, used):
            least = np.minimum(least, np.max([days[:, share].sum(axis=1) for share in shares], axis=0))
    return least


def split(blank_: Blank, route: Route, used: tuple[Floats, Floats]) -> Split | None:
    """The split with the least time; `used` is the share of joint strength at each station. None where nothing fits.

    Fewer joints come first: a further one must win `JOINT_DAYS`.
    """
    cell = route.deposition
    if cell is None:
        return None
    best: tuple[float, tuple[Cuts, Cuts]] | None = None
    every_split = choices(blank_, route, cell)
    for count in range(2 * MOST + 1):
        some = [cuts for cuts in every_split if len(cuts[0]) + len(cuts[1]) == count]
        if some:
            days, cuts = quickest(blank_, some, cell, used)
            if best is None or days < best[0] - JOINT_DAYS * (count - joints_of(best[1])):
                best = days, cuts
    return None if best is None else Split(best[1], boxes(blank_, best[1]), best[0])


def joints_of(cuts: tuple[Cuts, Cuts]) -> int:
    return len(cuts[0]) + len(cuts[1])


def quickest(
    blank_: Blank, some: list[tuple[Cuts, Cuts]], cell: Deposition, used: tuple[Floats, Floats]
) -> tuple[float, tuple[Cuts, Cuts]]:
    """Of splits with one number of joints: within a quarter of a day of the least time, the one with the least used joints."""
    days = work(cell, 1.0).days * np.array([masses(blank_, cuts) for cuts in some])
    ends = longest(days, cell.cells)
    near = np.flatnonzero(ends <= ends.min() + ALIKE)
    most = [max((float(used[limb][k]) for limb in (0, 1) for k in some[i][limb]), default=0.0) for i in near]
    chosen = int(near[int(np.argmin(most))])
    return float(ends[chosen]), some[chosen]


def why_not(blank_: Blank, route: Route, cell: Deposition) -> tuple[tuple[str, ...], str, str]:
    """Key of the limit that no split keeps, the piece that breaks it, and the limit: the smallest pieces there can be."""
    most, units = route.limits.largest_mass, blank_.arm.units
    heavy, long = (partial(show, kind=kind, system=units) for kind in ("mass", "length"))
    inner = tuple(0 if len(s) else None for s in blank_.stations)
    pieces = [("the hub's piece", blank_.hub((inner[0], inner[1])), hub_mass(blank_, (inner[0], inner[1])))]
    for limb, s in enumerate(blank_.stations):
        if len(s):
            end = len(s) - 1
            pieces.append(
                (f"the {ARMS[limb]} boss's piece", blank_.segment(limb, end, None), blank_.outside(limb, end))
            )
    for name, box, weight in pieces:
        if SURE * weight > most:
            return ("limits", "largest_mass"), f"{name}, at least {heavy(weight)}", f"at most {heavy(most)}"
        if stance(box, cell) is None:
            described = f"{name}, at least {' x '.join(map(long, (box.length, box.depth, box.width)))}"
            limit = f"within a radius of {long(cell.reach_radius)} and {long(cell.reach_height)} high"
            return ("deposition", "reach_radius"), described, limit
    described = f"pieces cut at the allowed joints, at most {MOST} joints on an arm"
    return (
        ("limits", "largest_mass"),
        described,
        f"at most {heavy(most)} and within a radius of {long(cell.reach_radius)}",
    )
