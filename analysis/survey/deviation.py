"""Where the part differs from the fitted solid: signed distance of every point, and areas beyond three sigma as a list.

Negative is missing metal. An area is a group of neighbouring patches whose mean lies beyond three times its own uncertainty,
which has the noise of its points, their shared errors, and the fit's.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from scipy.sparse import coo_matrix
from scipy.sparse.csgraph import connected_components
from scipy.spatial import cKDTree

from analysis.survey.fit import Fitted, spread_of
from analysis.survey.surface import BORE, END, FACTOR, FLOOR, SIDE, Surface, named
from geometry.datums import ARMS, BORES, Floats

SIGMAS = 3.0
PATCH = 60  # patches along the longer arm
FEWEST = 8  # points of a patch
MEDIAN = np.pi / 2.0  # variance of a median over that of a mean, normal noise
LARGE = 150  # patches from which an area is the arm's shape rather than a place on it
PATCHES_LEAST = 2  # patches of an area
MOST = 200  # areas listed
STRETCHES = 12  # of each arm, for the section lost


@dataclass(frozen=True)
class Area:
    """One area, mm: what it is likely to be, its face, place, extent, mean and largest depth (positive: metal missing)."""

    what: str
    face: str
    arm: str
    s: float  # along the arm from the pivot
    x: float
    y: float
    z: float
    length: float
    width: float
    square: float
    mean: float
    largest: float
    sigma: float
    points: int


def areas(
    body: Surface, points: Floats, far: Floats, labels: np.ndarray, fit_sigma: float, least: float | None
) -> list[Area]:
    """Areas among points (n, 3) of the arm's axes with their distances from the faces `labels`."""
    cell = max(body.sizes["input_arm"], body.sizes["output_arm"]) / PATCH
    group = np.column_stack([labels // FACTOR, np.floor(points / cell).astype(int)])
    _, patch = np.unique(group, axis=0, return_inverse=True)
    count = np.bincount(patch)
    noise = spread_of(far)
    mean = medians(far, patch, count)
    middle = np.column_stack([np.bincount(patch, points[:, k]) / count for k in range(3)])
    face = np.zeros(len(count), dtype=int)
    face[patch] = labels
    sigma = np.sqrt(noise**2 * MEDIAN / count + fit_sigma**2)
    limit = SIGMAS * sigma if least is None else np.maximum(SIGMAS * sigma, least)
    beyond = np.flatnonzero((np.abs(mean) > limit) & (count >= FEWEST))
    made = []
    for rows in clusters(middle[beyond], np.sign(mean[beyond]), face[beyond] // FACTOR, 1.8 * cell):
        own = beyond[rows]
        if len(own) >= PATCHES_LEAST or np.abs(mean[own]).max() > 2.0 * limit[own].max():
            made.append(area(body, own, patch, points, far, face, mean, sigma, cell))
    made.sort(key=lambda one: -abs(one.mean) * one.square)
    return made[:MOST]


def medians(far: Floats, patch: np.ndarray, count: np.ndarray) -> Floats:
    """Median of each patch: a few points beside the part, as at edges, do not move it."""
    order = np.lexsort((far, patch))
    first = np.cumsum(count) - count
    low, high = order[first + (count - 1) // 2], order[first + count // 2]
    return (far[low] + far[high]) / 2.0


def clusters(middle: Floats, sign: Floats, face: np.ndarray, reach: float) -> list[np.ndarray]:
    """Groups of patches of one sign and kind of face that lie side by side."""
    if not len(middle):
        return []
    pairs = cKDTree(middle).query_pairs(reach, output_type="ndarray")
    same = (sign[pairs[:, 0]] == sign[pairs[:, 1]]) & (face[pairs[:, 0]] == face[pairs[:, 1]])
    pairs = pairs[same]
    graph = coo_matrix((np.ones(len(pairs)), (pairs[:, 0], pairs[:, 1])), shape=(len(middle), len(middle)))
    count, which = connected_components(graph, directed=False)
    return [np.flatnonzero(which == k) for k in range(count)]


def area(body, own, patch, points, far, face, mean, sigma, cell) -> Area:
    rows = np.flatnonzero(np.isin(patch, own))
    part, depth = points[rows], -far[rows]
    label = int(face[own[np.argmax(np.abs(mean[own]))]])
    middle = part.mean(axis=0)
    x, y, z = (float(v) for v in middle)
    _, ways = np.linalg.eigh(np.cov((part - middle).T))
    along = (part - middle) @ ways
    length, width = (float(np.ptp(along[:, k])) for k in (2, 1))
    arm, s = whose(body, middle)
    worst = float(np.percentile(depth, 95.0) if mean[own].mean() < 0.0 else np.percentile(depth, 5.0))
    return Area(
        kind(label, float(np.median(depth)), len(own)),
        named(label),
        arm,
        s,
        x,
        y,
        z,
        length,
        width,
        float(len(own) * cell**2),
        float(-mean[own].mean()),
        worst,
        float(sigma[own].min()),
        len(rows),
    )


def kind(label: int, depth: float, patches: int) -> str:
    """What such a difference usually is (common practice, no source); the engineer says what it is."""
    if depth < 0.0:
        return "metal or something else on the surface"
    if label // FACTOR == BORE:
        return "wear"
    if label // FACTOR == END:
        return "wear of the face"
    return "corrosion or missing metal" if patches < LARGE else "bend, wear or corrosion over a large area"


def whose(body: Surface, place: Floats) -> tuple[str, float]:
    """The arm, hub or boss that a place belongs to, and its distance from the pivot along that arm."""
    for k, name in enumerate(BORES):
        if np.hypot(*(place[:2] - body.centres[k])) < body.sizes[f"{name}.outside"] / 2.0:
            return ("hub" if name == "pivot" else f"{name} boss"), float(np.hypot(*place[:2]))
    angle = {"input": body.sizes["included_angle"], "output": 0.0}
    along = {name: float(place[:2] @ [np.cos(angle[name]), np.sin(angle[name])]) for name in ARMS}
    name = max(along, key=lambda one: along[one])
    return f"{name} arm", along[name]


@dataclass(frozen=True)
class Shape:
    """Bend and twist of one arm out of the mid-plane, from its side faces: slope (rad), sag (mm), twist (rad) hub to boss."""

    arm: str
    slope: float
    u_slope: float
    sag: float
    u_sag: float
    twist: float
    u_twist: float
    points: int


def shape(state: Fitted, name: str) -> Shape | None:
    """How one arm's side faces lie against the mid-plane; None where too few points tell."""
    angle = state.sizes["included_angle"] if name == "input" else 0.0
    along = np.array([np.cos(angle), np.sin(angle)])
    across = np.array([-along[1], along[0]])
    group = state.labels // FACTOR
    s, eta = state.points[:, :2] @ along, state.points[:, :2] @ across
    hub, end = (
        state.sizes["pivot.outside"] / 2.0,
        state.sizes[f"{name}_arm"] - state.sizes[f"{name}.outside"] / 2.0,
    )
    own = state.sure & ((group == SIDE) | (group == FLOOR)) & (s > hub) & (s < end)
    if own.sum() < 60:
        return None
    t = (s[own] - hub) / (end - hub)
    up = state.residual[own] * np.sign(state.points[own, 2])
    half = state.sizes["section.depth_at_hub"] / 2.0
    A = np.column_stack([np.ones(len(t)), t, t * (1.0 - t) * 4.0, eta[own] / half, t * eta[own] / half])
    x, *_ = np.linalg.lstsq(A, up, rcond=1e-10)
    noise = spread_of(up - A @ x)
    u = noise * np.sqrt(np.diag(np.linalg.pinv(A.T @ A)))
    span = end - hub
    return Shape(
        name,
        float(x[1] / span),
        float(u[1] / span),
        float(x[2]),
        float(u[2]),
        float(x[4] / half),
        float(u[4] / half),
        int(own.sum()),
    )


@dataclass(frozen=True)
class Loss:
    """Metal that one stretch of an arm has lost: area of the section (mm2) and its share, at s from the pivot."""

    arm: str
    s: float
    lost: float
    share: float
    flange: float  # mean depth lost over edges and flanges, mm
    web: float  # mean depth lost over side faces or web, mm


def losses(body: Surface, found: list[Area]) -> list[Loss]:
    """Stretch by stretch along both arms: what the areas of the list take from the section, the longest side along the arm."""
    made = []
    for name in ARMS:
        hub, end = (
            body.sizes["pivot.outside"] / 2.0,
            body.sizes[f"{name}_arm"] - body.sizes[f"{name}.outside"] / 2.0,
        )
        step = (end - hub) / STRETCHES
        for k in range(STRETCHES):
            at = hub + (k + 0.5) * step
            here = [
                one
                for one in found
                if one.arm == f"{name} arm" and one.mean > 0.0 and abs(one.s - at) < (one.length + step) / 2.0
            ]
            if here:
                made.append(loss(body, name, at, here, step))
    return made


def loss(body: Surface, name: str, at: float, here: list[Area], step: float) -> Loss:
    """Mean depth times the width of each area; flanges and edges apart from side faces and web."""
    sides = [
        sum(one.mean * one.square / max(one.length, step) for one in here if flat(one) == side)
        for side in (False, True)
    ]
    depth, width = body.sizes["section.depth_at_hub"], body.sizes["section.width"]
    whole = depth * width
    if body.kind == "i":
        flange, web = body.sizes["section.flange_thickness"], body.sizes["section.web_thickness"]
        whole = 2.0 * width * flange + (depth - 2.0 * flange) * web
    return Loss(
        name,
        at,
        float(sum(sides)),
        float(sum(sides) / whole),
        float(sides[0] / width),
        float(sides[1] / depth),
    )


def flat(one: Area) -> bool:
    """Whether an area lies on a face square to the pins."""
    return "side" in one.face or "web" in one.face
