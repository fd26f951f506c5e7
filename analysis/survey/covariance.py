"""How sure each size is, and what that rests on: noise, neighbours that share their error, coverage, the instrument.

The information of all points is J^T W J, with W from the noise of each face, less for a bounded loss (Huber, Robust Statistics,
1981: E[psi]^2 / E[psi']^2), and less again by how much more the sums of neighbouring residuals scatter than sums of strangers
would. The inverse is the covariance of everything that was fitted together.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from scipy.linalg import cho_factor, cho_solve

from analysis.survey.fit import TUKEY, Fitted, Linear, loose, sharp
from geometry.datums import Floats

PATCHES = (4, 16, 64, 256)  # points of a patch for which the sums of residuals are compared
FEWEST = 12  # patches of a size, below which it tells nothing
DETERMINED = 0.15  # a size is determined where its uncertainty is below this share of what was expected without the points
REACH = 1.96  # standard uncertainties either way of a 95 % band (normal)


@dataclass(frozen=True)
class Certainty:
    """Of one size, mm or rad: standard uncertainty and the four parts whose squares add up to its square."""

    name: str
    value: float
    uncertainty: float
    noise: float
    neighbours: float
    coverage: float
    instrument: float
    determined: bool
    points: int
    other: str = ""  # the size it is most bound up with, and their correlation
    correlation: float = 0.0


@dataclass(frozen=True)
class Covariance:
    """Certainty of every size and the covariance (n, n) of the sizes in their order."""

    order: tuple[str, ...]
    rows: tuple[Certainty, ...]
    matrix: Floats
    inflation: float  # mean variance of a sum of neighbours over that of strangers

    def of(self, name: str) -> Certainty:
        return self.rows[self.order.index(name)]

    @property
    def correlation(self) -> Floats:
        spread = np.sqrt(np.diag(self.matrix))
        return self.matrix / np.outer(spread, spread)


def covariance(state: Fitted) -> Covariance:
    """Covariance of the sizes of a finished fit."""
    problem = Linear(state, np.flatnonzero(state.sure))
    free, n = problem.free(False), problem.n
    J, r = problem.jacobian()[:, free], problem.residuals()
    points = len(problem.rows)
    faces = groups(problem)
    robust = efficiency(r[:points], faces)
    shared = inflation(state, problem, r[:points], faces)
    known = J[points:].T @ J[points:]
    seen = J[:points]
    alone = seen.T @ (robust[:, None] * seen) + known
    along = seen.T @ ((robust / shared)[:, None] * seen) + known
    stated = [k for k, column in enumerate(free) if column >= problem.count - 2]
    rest = [k for k in range(len(free)) if k not in stated]
    single = 1.0 / np.diag(alone)[:n]
    noise = np.diag(inverse(alone[np.ix_(rest, rest)]))[:n]
    neighbours = np.diag(inverse(along[np.ix_(rest, rest)]))[:n]
    full = inverse(along)[:n, :n]
    counts = (np.abs(seen[:, :n]) > 1e-9).sum(axis=0)
    parts = (single, noise - single, neighbours - noise, np.diag(full) - neighbours)
    return Covariance(
        state.order,
        tuple(rows(state, full, [np.sqrt(np.maximum(part, 0.0)) for part in parts], counts)),
        full,
        float(np.average(shared)),
    )


def rows(state: Fitted, full: Floats, parts: list[Floats], counts: np.ndarray) -> list[Certainty]:
    made, spread = [], np.sqrt(np.diag(full))
    bound = full / np.outer(spread, spread) - np.eye(len(spread))
    for k, name in enumerate(state.order):
        other = int(np.argmax(np.abs(bound[k])))
        limit = DETERMINED * loose(name, state.first[name])
        sure = bool(spread[k] < limit) and not sharp(state, name)
        single, coverage, neighbours, instrument = (float(part[k]) for part in parts)
        made.append(
            Certainty(
                name,
                float(state.sizes[name]),
                float(spread[k]),
                single,
                neighbours,
                coverage,
                instrument,
                sure,
                int(counts[k]),
                state.order[other],
                float(bound[k, other]),
            )
        )
    return made


def inverse(matrix: Floats) -> Floats:
    size = 1.0 / np.sqrt(np.maximum(np.diag(matrix), 1e-30))
    scaled = cho_factor(matrix * np.outer(size, size) + 1e-13 * np.eye(len(matrix)))
    return cho_solve(scaled, np.eye(len(matrix))) * np.outer(size, size)


def groups(problem: Linear) -> np.ndarray:
    """A number (m,) for each face in each setup, the two sides of the mid-plane apart."""
    side = problem.state.points[problem.rows, 2] > 0.0
    _, key = np.unique(np.column_stack([problem.labels, problem.setup, side]), axis=0, return_inverse=True)
    return key


def psi(r: Floats) -> Floats:
    return r * np.clip(1.0 - (r / TUKEY) ** 2, 0.0, None) ** 2


def efficiency(r: Floats, faces: np.ndarray) -> Floats:
    """E[psi']^2 / E[psi^2] (m,) of each point's face, few points leaning on all of them."""
    part = (r / TUKEY) ** 2
    slope = np.where(part < 1.0, (1.0 - part) * (1.0 - 5.0 * part), 0.0)
    top, low = (leaning(one, faces, 30.0) for one in (slope, psi(r) ** 2))
    return np.clip(top, 0.2, None) ** 2 / np.maximum(low, 1e-6)


def leaning(values: Floats, faces: np.ndarray, weight: float) -> Floats:
    """Mean of each face, drawn toward the mean of all as if that were known from `weight` points."""
    count = np.bincount(faces)
    return ((np.bincount(faces, values) + weight * values.mean()) / (count + weight))[faces]


def inflation(state: Fitted, problem: Linear, r: Floats, faces: np.ndarray) -> Floats:
    """Variance of sums of neighbouring residuals over the sum of their variances (m,), 1 for strangers.

    The largest over patches of several sizes; a face counts for itself where it differs from all by three deviations.
    """
    points, made = state.points[problem.rows], np.ones(len(r))
    value = psi(r)
    for size in PATCHES:
        patch = patches(points, faces, size)
        total = np.bincount(patch, value) ** 2
        square = np.bincount(patch, value**2)
        count = np.bincount(patch)
        first = np.zeros(len(total), dtype=int)
        first[patch] = faces
        used = count >= max(2, size // 4)
        if used.sum() < FEWEST:
            continue
        every = total[used].sum() / square[used].sum()
        own_total, own_square = (
            np.bincount(first[used], one[used], faces.max() + 1) for one in (total, square)
        )
        number = np.bincount(first[used], minlength=faces.max() + 1)
        own = own_total / np.maximum(own_square, 1e-30)
        doubt = every * np.sqrt(2.0 / np.maximum(number, 1.0))
        chosen = np.where((number >= 3) & (np.abs(own - every) > 3.0 * doubt), own, every)
        made = np.maximum(made, chosen[faces])
    return made


def patches(points: Floats, faces: np.ndarray, size: int) -> np.ndarray:
    """A number (m,) for each patch of about `size` neighbours on one face: each face halved along its longest side."""
    made, number = np.zeros(len(points), dtype=int), 0
    order = np.argsort(faces, kind="stable")
    stack = np.split(order, np.flatnonzero(np.diff(faces[order])) + 1)
    while stack:
        rows = stack.pop()
        if len(rows) < 1.5 * size:
            made[rows], number = number, number + 1
            continue
        part = points[rows]
        axis = int(np.argmax(np.ptp(part, axis=0)))
        way = rows[np.argsort(part[:, axis], kind="stable")]
        stack += [way[: len(way) // 2], way[len(way) // 2 :]]
    return made
