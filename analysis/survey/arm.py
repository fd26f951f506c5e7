"""The arm in a scan: walls along each direction seen from its end are circles, three centres make a first guess of all sizes."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import combinations

import numpy as np
from scipy.spatial.transform import Rotation

from analysis.survey import sizes as named
from analysis.survey.circles import STEEP, Centre, centres
from analysis.survey.normals import crowded, directions, normals
from analysis.survey.pose import Pose
from analysis.survey.surface import surface
from geometry.datums import Floats

FACING = np.cos(np.radians(8.0))  # a normal within 8 degrees of the axis: an end or side face
FEWEST = 200  # points of an arm
CANDIDATES = 10  # guesses of each direction that are compared with all points
LEAST_SHARE = 0.5  # of the points near an arm that face as its surface does; demo arms 0.97 or more, an animal's shape 0.3
EXPLAINED = 0.012  # a point is explained within this share of the arms' lengths
BLENDS = (0.03, 0.06, 0.1, 0.15, 0.2, 0.3, 0.45)  # of the depth at the hub
FILLETS = (0.02, 0.06, 0.12, 0.2)  # of half the section's width
NONE_FOUND = "no arm is found: three parallel bores with hub and bosses on two arms are looked for"


class NotFound(Exception):  # noqa: N818 - an answer about a scan, not a fault of the program
    """There is no arm in the points; the text says what was looked for and what was found."""


@dataclass
class Guess:
    """A first guess: kind, sizes (mm, rad), pose, and how many of the points it explains."""

    kind: str
    sizes: dict[str, float]
    pose: Pose
    explained: int
    share: float = 0.0  # of the points near the arm: those that face as its surface does
    weight: float = 0.0  # of the three centres

    @property
    def merit(self) -> float:
        return self.explained * self.weight


@dataclass(frozen=True)
class Seen:
    """Points (n, 3) and normals of one scan in axes whose z is the direction looked along."""

    points: Floats
    normal: Floats
    turn: Rotation

    @property
    def faces(self) -> np.ndarray:
        return np.abs(self.normal[:, 2]) > FACING

    @property
    def walls(self) -> np.ndarray:
        return np.abs(self.normal[:, 2]) < STEEP


def find(points: Floats, longer: str, known: dict[str, float] | None = None) -> Guess:
    """The arm among points (n, 3) in mm, in any pose; `longer` is the longer arm, `known` sizes that are given.

    Raises
    ------
    NotFound
        where nothing in the points is such an arm.
    """
    if len(points) < FEWEST:
        raise NotFound(f"has {len(points)} points, at least {FEWEST} are needed")
    points = points[crowded(points)]
    normal, sound = normals(points)
    points, normal = points[sound], normal[sound]
    if len(points) < FEWEST:
        raise NotFound(f"{NONE_FOUND}; only {len(points)} points lie on a surface")
    best: list[Guess] = []
    for way in directions(normal):
        turn = Rotation.align_vectors([[0.0, 0.0, 1.0]], [way])[0]
        best += guesses(Seen(turn.apply(points), turn.apply(normal), turn), longer, known or {})
    best = [guess for guess in best if guess.explained >= FEWEST / 2]
    if not best:
        raise NotFound(NONE_FOUND)
    alike = [guess for guess in best if guess.share >= LEAST_SHARE]
    if not alike:
        share = 100.0 * max(guess.share for guess in best)
        raise NotFound(
            f"{NONE_FOUND}; of the points near the likeliest only {share:.0f} % face as an arm's surface would"
        )
    return max(alike, key=lambda guess: guess.merit)


def guesses(seen: Seen, longer: str, known: dict[str, float]) -> list[Guess]:
    """Guesses along one direction."""
    walls = seen.walls
    flat = seen.normal[walls, :2] / np.linalg.norm(seen.normal[walls, :2], axis=1)[:, None]
    found = centres(seen.points[walls, :2], flat)[:12]
    ranked = sorted(triples(seen, found), key=lambda one: -one[0])[:CANDIDATES]
    made = []
    for _, pivot, one, other in ranked:
        guess = first(seen, pivot, one, other, longer, known)
        if guess is not None:
            guess.weight = float(np.cbrt(pivot.weight * one.weight * other.weight))
            made.append(guess)
    made.sort(key=lambda guess: -guess.merit)
    return [refined(seen, guess, known) for guess in made[:2]]


def triples(seen: Seen, found: list[Centre]) -> list[tuple[float, Centre, Centre, Centre]]:
    """Centres that can be a pivot and two pins, and how much speaks for them: circles, and faces along both arms."""
    made = []
    faces = seen.points[seen.faces, :2]
    for chosen in combinations(range(len(found)), 3):
        for k in chosen:
            pivot, (one, other) = found[k], [found[m] for m in chosen if m != k]
            ways = [centre.place - pivot.place for centre in (one, other)]
            lengths = [float(np.hypot(*way)) for way in ways]
            cosine = ways[0] @ ways[1] / (lengths[0] * lengths[1] + 1e-9)
            largest = [max(circle.radius for circle in centre.circles) for centre in (pivot, one, other)]
            if cosine > 0.05 or largest[0] < 0.8 * max(largest[1:]):
                continue
            if (
                min(lengths[0] - largest[1], lengths[1] - largest[2]) < 0.8 * largest[0]
                or max(lengths) > 20.0 * largest[0]
            ):
                continue
            filled = min(share(faces, pivot.place, way, largest[0]) for way in ways)
            if filled > 0.3:
                made.append((filled * (pivot.weight + one.weight + other.weight), pivot, one, other))
    return made


def share(faces: Floats, start: Floats, way: Floats, wide: float) -> float:
    """Share of the length between two centres along which there are side faces, web or edges."""
    length = float(np.hypot(*way))
    along = way / length
    away = faces - start
    s, eta = away @ along, away @ np.array([-along[1], along[0]])
    own = (np.abs(eta) < 0.5 * wide) & (s > 0.0) & (s < length)
    return len(np.unique((s[own] / length * 30.0).astype(int))) / 30.0


def first(
    seen: Seen, pivot: Centre, one: Centre, other: Centre, longer: str, known: dict[str, float]
) -> Guess | None:
    """Sizes and pose from three centres, before any fit; None where there is no room for an arm."""
    short, long = sorted((one, other), key=lambda centre: float(np.hypot(*(centre.place - pivot.place))))
    output, input_ = (long, short) if longer == "output" else (short, long)
    hubs = {"pivot": pivot, "input": input_, "output": output}
    x = output.place - pivot.place
    x = x / np.hypot(*x)
    way = input_.place - pivot.place
    flip = (
        x[0] * way[1] - x[1] * way[0] < 0.0
    )  # the input arm goes counter-clockwise: else look from the other side
    y = np.array([-x[1], x[0]]) * (-1.0 if flip else 1.0)
    levels = {name: heights(seen, centre) for name, centre in hubs.items()}
    if any(not np.isfinite(level).all() for level in levels.values()):
        return None
    middle = float(np.median([(low + high) / 2.0 for low, high in levels.values()]))
    matrix = np.array([[*x, 0.0], [*y, 0.0], [0.0, 0.0, -1.0 if flip else 1.0]])
    turn = Rotation.from_matrix(matrix)
    pose = Pose(turn * seen.turn, -turn.apply([*pivot.place, middle]))
    local = turn.apply(seen.points) + pose.shift
    sizes = {
        f"{name}_arm": float(np.hypot(*(hubs[name].place - pivot.place))) for name in ("input", "output")
    }
    sizes[named.ANGLE] = float(np.clip(np.arctan2(way @ y, way @ x), np.pi / 2.0, np.pi))
    for name, centre in hubs.items():
        sizes |= boss(seen, centre, name, levels[name], middle)
    sizes |= section(local, turn.apply(seen.normal), sizes)
    sizes |= {name: value for name, value in known.items() if name in named.ALL}
    kind = "i" if sizes.get("section.web_thickness") else "solid"
    if not sensible(sizes):
        return None
    guess = Guess(kind, {name: sizes[name] for name in named.names(kind)}, pose, 0)
    guess.explained = explained(local, turn.apply(seen.normal), guess)
    return guess


def heights(seen: Seen, centre: Centre) -> tuple[float, float]:
    """Lowest and highest of the round walls about a centre."""
    walls = seen.walls
    away = seen.points[walls, :2] - centre.place
    reach = np.hypot(*away.T)
    radius = np.array([circle.radius for circle in centre.circles])
    near = np.abs(reach[:, None] - radius).min(axis=1) < 0.03 * radius.max()
    z = seen.points[walls, 2][near]
    z = z[np.abs(z - np.median(z)) < 3.0 * radius.max()] if len(z) else z
    if len(z) < 10:
        return np.nan, np.nan
    low, high = np.percentile(z, [2.0, 98.0])
    ends = seen.points[seen.faces]
    reach = np.hypot(*(ends[:, :2] - centre.place).T)
    own = (reach < 0.97 * radius.max()) & (reach > 1.03 * radius.min() if len(radius) > 1 else reach > 0.0)
    z, middle = ends[own, 2], (low + high) / 2.0
    z = z[np.abs(z - middle) < 1.5 * (high - low)]
    below, above = z[z < middle - 0.2 * (high - low)], z[z > middle + 0.2 * (high - low)]
    return (
        float(np.median(below)) if len(below) > 10 else float(low),
        float(np.median(above)) if len(above) > 10 else float(high),
    )


def boss(
    seen: Seen, centre: Centre, name: str, level: tuple[float, float], middle: float
) -> dict[str, float]:
    """Bore, outside, width and chamfer of a hub or boss."""
    radii = sorted(
        circle.radius for circle in centre.circles if circle.support > 0.05 * centre.circles[0].support
    )
    ends = seen.points[seen.faces]
    reach = np.hypot(*(ends[:, :2] - centre.place).T)
    outside = radii[-1]
    if len(radii) == 1:  # bore or outside: the end face lies between them
        beyond = np.sum((reach > 1.1 * outside) & (reach < 1.5 * outside))
        within = np.sum((reach > 0.7 * outside) & (reach < 0.95 * outside))
        if beyond > 2.0 * within and within < 10:
            outside = 2.0 * outside
        bore = 0.5 * outside
    else:
        bore = next((radius for radius in radii if radius < 0.8 * outside), 0.5 * outside)
    width = 2.0 * max(abs(level[0] - middle), abs(level[1] - middle))
    made = {"bore": 2.0 * bore, "outside": 2.0 * outside, "width": width, "chamfer": 0.02 * 2.0 * bore}
    return {f"{name}.{size}": float(value) for size, value in made.items()}


def section(points: Floats, normal: Floats, sizes: dict[str, float]) -> dict[str, float]:
    """Depths, width and plates of the arms, from points in the arm's axes."""
    top, deep, shallow, flanges, outer, inner = 0.0, [], [], [], [], []
    datums = named.datums({**sizes, "section.depth_at_hub": 1.0, "section.depth_at_pins": 1.0})
    hub = sizes["pivot.outside"] / 2.0
    for datum in datums.values():
        s, eta = points[:, :2] @ datum.along, points[:, :2] @ datum.across
        on = (s > 1.1 * datum.hub_edge) & (s < datum.boss_edge - 0.05 * datum.length) & (np.abs(eta) < hub)
        on &= np.abs(points[:, 2]) < 0.6 * max(
            sizes[f"{name}.width"] for name in ("pivot", "input", "output")
        )
        across = on & (np.abs(normal[:, :2] @ datum.across) > 0.95)
        line = envelope(s[across], np.abs(eta[across]))
        if line is None:
            continue
        deep.append(2.0 * (line[0] + line[1] * datum.hub_edge))
        shallow.append(2.0 * (line[0] + line[1] * datum.length))
        edge = line[0] + line[1] * s
        below = (edge - np.abs(eta))[across]
        flanges.append(below[(below > 0.04 * edge[across]) & (below < 0.45 * edge[across])])
        faces = on & (np.abs(normal[:, 2]) > FACING)
        z = np.abs(points[:, 2])
        outer.append(z[faces & (np.abs(eta) > 0.8 * edge) & (np.abs(eta) < edge)])
        inner.append(z[faces & (np.abs(eta) < 0.4 * edge)])
    if not deep:
        return {}
    outer_z, inner_z = np.concatenate(outer), np.concatenate(inner)
    widest = min(sizes[f"{name}.width"] for name in ("pivot", "input", "output"))
    top = float(np.median(outer_z)) if len(outer_z) > 5 else 0.45 * widest
    floor = float(np.median(inner_z)) if len(inner_z) > 5 else top
    made = {
        "section.depth_at_hub": float(min(np.median(deep), 1.95 * hub)),
        "section.depth_at_pins": float(min(np.median(shallow), np.median(deep))),
        "section.width": float(min(2.0 * top, 0.97 * widest)),
        "blend_radius": 0.15 * float(np.median(deep)),
    }
    if floor < 0.8 * top:
        found = np.concatenate(flanges)
        thick = float(np.median(found)) if len(found) > 10 else 0.12 * made["section.depth_at_pins"]
        made |= {"section.flange_thickness": min(thick, 0.35 * made["section.depth_at_pins"])}
        made |= {"section.web_thickness": 2.0 * floor, "section.fillet": 0.1 * top}
    return made


def envelope(s: Floats, eta: Floats) -> tuple[float, float] | None:
    """Intercept and slope of the outer edge |eta| = a + b s of an arm, from its wall points."""
    if len(s) < 20:
        return None
    low, high = np.percentile(s, [2.0, 98.0])
    bins = np.clip(((s - low) / max(high - low, 1e-9) * 12.0).astype(int), 0, 11)
    spots = [
        (np.median(s[bins == k]), np.percentile(eta[bins == k], 85.0))
        for k in range(12)
        if np.sum(bins == k) >= 5
    ]
    if len(spots) < 3:
        return None
    at, edge = np.array(spots).T
    pairs = [
        (edge[j] - edge[i]) / (at[j] - at[i])
        for i, j in combinations(range(len(at)), 2)
        if at[j] > at[i] + 1e-6
    ]
    slope = float(np.clip(np.median(pairs), -0.3, 0.0))
    return float(np.median(edge - slope * at)), slope


def sensible(sizes: dict[str, float]) -> bool:
    """Whether the sizes can be an arm at all."""
    if not all(name in sizes for name in named.names("solid")):
        return False
    hub, depth = sizes["pivot.outside"], sizes["section.depth_at_hub"]
    if min(sizes.values()) < 0.0 or depth <= 0.1 * hub or sizes["section.width"] <= 0.02 * hub:
        return False
    if (
        sizes["section.depth_at_pins"] <= 0.0
        or min(sizes[f"{name}.width"] for name in ("pivot", "input", "output")) <= 0.0
    ):
        return False
    return all(
        sizes[f"{name}_arm"] > (hub + sizes[f"{name}.outside"]) / 2.0
        and sizes[f"{name}.outside"] > sizes[f"{name}.bore"]
        for name in ("input", "output")
    )


def explained(local: Floats, normal: Floats, guess: Guess) -> int:
    """Points within reach of the guess's surface whose normals are the surface's."""
    reach = EXPLAINED * (guess.sizes["input_arm"] + guess.sizes["output_arm"])
    body = surface(guess.sizes, guess.kind)
    step = max(1, len(local) // 12000)
    local, normal = local[::step], normal[::step]
    far, labels = body.nearest(local)
    near = np.abs(far) < reach
    own = body.normals(local[near], labels[near])
    good = np.abs(np.sum(own * normal[near], axis=1)) > 0.95
    guess.share = float(np.mean(good)) if len(good) else 0.0
    weight = 1.0 - (far[near][good] / reach) ** 2
    return int(step * weight.sum())


def refined(seen: Seen, guess: Guess, known: dict[str, float]) -> Guess:
    """The same with the small radii and the bores that explain most points, tried one by one."""
    turn = guess.pose.turn * seen.turn.inv()
    local, normal = turn.apply(seen.points) + guess.pose.shift, turn.apply(seen.normal)
    depth, width = guess.sizes["section.depth_at_hub"], guess.sizes["section.width"]
    tried = [("blend_radius", [share * depth for share in BLENDS])]
    if guess.kind == "i":
        tried += [("section.fillet", [share * width / 2.0 for share in FILLETS])]
    for name, values in tried:
        if name in known:
            continue
        for value in values:
            other = Guess(guess.kind, {**guess.sizes, name: value}, guess.pose, 0, weight=guess.weight)
            other.explained = explained(local, normal, other)
            guess = other if other.explained > guess.explained else guess
    return guess
