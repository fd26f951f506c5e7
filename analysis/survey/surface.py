"""The whole surface of the arm as formulas: the face nearest to a point, and the signed distance from that face.

The solid as `geometry.solid` builds it: the outline as thick as the section, less the pockets of an I with their rounded
floors, with hub and bosses, less the bores with their countersinks. A face is told by a group and, for walls of the
elevation, by its edge in the figure. With faces held, the distance is smooth in sizes and point; a closed box looks like a bar.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from analysis.survey import plan
from analysis.survey.plan import Blend, Figure
from analysis.survey.sizes import datums
from geometry.datums import ARMS, BORES, Floats

Labels = np.ndarray  # (m,) int: GROUP * FACTOR + edge
FACTOR = 1000
BORE, CHAMFER, END, SIDE, EDGE, FLOOR, WALL, FILLET = range(8)
GROUPS = ("bore", "chamfer", "end face", "side face", "edge", "web", "pocket wall", "fillet")
ARM_STEP = 500  # edges of the second arm's pocket begin here


@dataclass
class Surface:
    """The surface of one set of sizes."""

    kind: str
    sizes: dict[str, float]
    outline: Figure
    pockets: dict[str, Figure]
    centres: Floats  # (3, 2) of pivot, input, output

    def nearest(self, points: Floats) -> tuple[Floats, Labels]:
        """Signed distance (m,) of points (m, 3) and the face that governs it."""
        flat, z = points[:, :2], np.abs(points[:, 2])
        far, edge = self.outline.nearest(flat)
        label = EDGE * FACTOR + edge
        best, label = more(far, label, z - self.sizes["section.width"] / 2.0, SIDE * FACTOR)
        if self.kind == "i":
            for number, name in enumerate(ARMS):
                depth, which = self.pocket(flat, z, number, name)
                best, label = more(best, label, depth, which)
        hubs = np.full(len(points), np.inf)
        hub_label = np.zeros(len(points), dtype=int)
        for k, name in enumerate(BORES):
            reach = np.hypot(*(flat - self.centres[k]).T)
            out = reach - self.sizes[f"{name}.outside"] / 2.0
            end = z - self.sizes[f"{name}.width"] / 2.0
            disc, which = more(out, EDGE * FACTOR + k, end, END * FACTOR + k)
            hub_label, hubs = np.where(disc < hubs, which, hub_label), np.minimum(disc, hubs)
        label, best = np.where(hubs < best, hub_label, label), np.minimum(hubs, best)
        for k, _ in enumerate(BORES):
            hole = self.one(BORE, k, points)
            best, label = more(best, label, hole, BORE * FACTOR + k)
            best, label = more(best, label, self.one(CHAMFER, k, points), CHAMFER * FACTOR + k)
        return best, label

    def pocket(self, flat: Floats, z: Floats, number: int, name: str) -> tuple[Floats, Labels]:
        """Distance to the metal around one pocket, positive in the pocket's air ... negative elsewhere, and its face.

        The sign is turned: what is taken out counts as minus the distance to the tool.
        """
        inside, edge = self.pockets[name].nearest(flat)  # positive within the clear field
        above = z - self.sizes["section.web_thickness"] / 2.0
        wall = WALL * FACTOR + number * ARM_STEP + edge
        air, label = (
            np.where(inside < above, inside, above),
            np.where(inside < above, wall, FLOOR * FACTOR + number),
        )
        fillet = self.sizes["section.fillet"]
        if fillet > 0.0:
            rounded = (inside < fillet) & (above < fillet)
            arc = fillet - np.hypot(fillet - inside, fillet - above)
            air = np.where(rounded, arc, air)
            label = np.where(rounded, FILLET * FACTOR + number * ARM_STEP + edge, label)
        return air, label

    def distance(self, points: Floats, labels: Labels) -> Floats:
        """Signed distance (m,) of points (m, 3) from the faces `labels`, positive outside of the metal."""
        made = np.empty(len(points))
        group, edge = labels // FACTOR, labels % FACTOR
        for number in np.unique(group):
            chosen = group == number
            made[chosen] = self.group(int(number), edge[chosen], points[chosen])
        return made

    def group(self, number: int, edge: np.ndarray, points: Floats) -> Floats:
        z = np.abs(points[:, 2])
        if number == EDGE:
            return self.outside(edge, points[:, :2])
        if number == SIDE:
            return z - self.sizes["section.width"] / 2.0
        if number == FLOOR:
            return z - self.sizes["section.web_thickness"] / 2.0
        if number in (WALL, FILLET):
            inside = np.empty(len(points))
            for k, name in enumerate(ARMS):
                own = edge // ARM_STEP == k
                inside[own] = self.pockets[name].edges.distance(points[own, :2], edge[own] % ARM_STEP)
            if number == WALL:
                return inside
            fillet = self.sizes["section.fillet"]
            above = z - self.sizes["section.web_thickness"] / 2.0
            return fillet - np.hypot(fillet - inside, fillet - above)
        made = np.empty(len(points))
        for k in np.unique(edge):
            made[edge == k] = self.one(number, int(k), points[edge == k])
        return made

    def outside(self, edge: np.ndarray, flat: Floats) -> Floats:
        """Distance from edges of the elevation; of the circles it is the hub's and bosses' own that shows."""
        made = self.outline.edges.distance(flat, edge)
        for k, name in enumerate(BORES):
            own = edge == k
            made[own] = np.hypot(*(flat[own] - self.centres[k]).T) - self.sizes[f"{name}.outside"] / 2.0
        return made

    def one(self, number: int, k: int, points: Floats) -> Floats:
        """Distance from the bore, chamfer or end faces of hub or boss k."""
        name, z = BORES[k], np.abs(points[:, 2])
        radius, width = self.sizes[f"{name}.bore"] / 2.0, self.sizes[f"{name}.width"] / 2.0
        if number == END:
            return z - width
        reach = np.hypot(*(points[:, :2] - self.centres[k]).T)
        if number == BORE:
            return radius - reach
        return (radius + z - width + self.sizes[f"{name}.chamfer"] - reach) / np.sqrt(2.0)

    def normals(self, points: Floats, labels: Labels, step: float = 1e-4) -> Floats:
        """Directions (m, 3) in which the distance grows fastest, by central differences of `step` mm."""
        made = np.empty((len(points), 3))
        for axis in range(3):
            move = np.zeros(3)
            move[axis] = step
            made[:, axis] = (self.distance(points + move, labels) - self.distance(points - move, labels)) / (
                2.0 * step
            )
        return made

    def blends(self) -> dict[str, tuple[Blend, ...]]:
        """Which blends there are, to be held while sizes are varied."""
        return {"outline": self.outline.blends, **{name: one.blends for name, one in self.pockets.items()}}


def more(best: Floats, label: Labels | int, other: Floats, which: Labels | int) -> tuple[Floats, Labels]:
    """The greater of two distances, and whose it is."""
    return np.maximum(best, other), np.where(other > best, which, label)


def surface(
    sizes: dict[str, float], kind: str, blends: dict[str, tuple[Blend, ...]] | None = None
) -> Surface:
    """The surface of these sizes (mm, rad); with `blends` those of another set of sizes are held."""
    arms = datums(sizes)
    held = blends or {}
    pockets = {name: plan.pocket(sizes, arms, name, held.get(name)) for name in ARMS} if kind == "i" else {}
    centres = np.array([np.zeros(2), arms["input"].pin, arms["output"].pin])
    return Surface(kind, sizes, plan.outline(sizes, arms, held.get("outline")), pockets, centres)


def named(label: int) -> str:
    """A face's name for people: the group and, where it has one, whose it is.

    >>> named(BORE * FACTOR), named(SIDE * FACTOR), named(WALL * FACTOR + ARM_STEP + 2)
    ('pivot bore', 'side face', 'output pocket wall')
    """
    group, edge = divmod(int(label), FACTOR)
    if group in (BORE, CHAMFER, END):
        return f"{BORES[edge]} {GROUPS[group]}"
    if group in (WALL, FILLET, FLOOR):
        return f"{ARMS[edge // ARM_STEP if group != FLOOR else edge]} {GROUPS[group]}"
    if group == EDGE and edge < 3:
        return f"{BORES[edge]} outside"
    return GROUPS[group]
