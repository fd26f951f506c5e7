"""All sizes and the pose of every setup by one robust least squares of all points to the arm's surface.

Faces are told to the points, the sum of the bounded losses (Tukey's biweight) is brought to its least with faces held, and
both again until nothing changes. Beside sizes and poses the instrument's common scale and offset are unknowns, known from its
stated accuracy; tape measurements and sizes given are further observations. Weak expectations about the first guess keep sizes
that nothing determines where they are; `covariance` tells which these were.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np
from scipy.linalg import cho_factor, cho_solve

from analysis.survey import sizes as named
from analysis.survey.pose import Pose
from analysis.survey.surface import Labels, Surface, surface
from geometry.datums import Floats

TUKEY = 4.685  # residuals beyond this many standard deviations count nothing; 95 % efficient on normal noise (Huber, 1981)
LOOSE = 0.3  # expectation about a first guess: this share of the size (and 1 mm)
ROUNDS, SETTLED, CALM = (
    30,
    0.1,
    6,
)  # rounds at most; it ends where no unknown moves by this share of its uncertainty, or after CALM rounds of fine gate
SHARP = 10.0  # a rounding of fewer standard deviations of a point is not told from a sharp corner
MARGIN = 3.0  # points nearer to another face than this many standard deviations are left out: their face is doubtful


@dataclass(frozen=True)
class Observation:
    """A size measured otherwise, mm or rad, with its standard uncertainty."""

    name: str
    value: float
    spread: float


@dataclass(frozen=True)
class Expected:
    """What is known beside the points: the instrument's spreads (scale as a share, offset in mm) and observations."""

    scale: float = 0.0
    offset: float = 0.0
    observations: tuple[Observation, ...] = ()
    least: float = 1e-3  # mm: noise is never taken for less
    together: float = (
        0.0  # mm: standard uncertainty of where setups stand to the first; 0: nothing is known of it
    )


@dataclass
class Fitted:
    """A fit: sizes (mm, rad), poses, scale and offset, and per point its setup, face, residual and standard deviation."""

    kind: str
    sizes: dict[str, float]
    poses: list[Pose]
    scale: float
    offset: float
    expected: Expected
    first: dict[str, float]
    setups: list[Floats]
    setup: np.ndarray = field(default_factory=lambda: np.zeros(0, dtype=int))
    points: Floats = field(default_factory=lambda: np.zeros((0, 3)))  # arm's axes
    labels: Labels = field(default_factory=lambda: np.zeros(0, dtype=int))
    residual: Floats = field(default_factory=lambda: np.zeros(0))
    spread: Floats = field(default_factory=lambda: np.zeros(0))
    sure: np.ndarray = field(
        default_factory=lambda: np.zeros(0, dtype=bool)
    )  # used: face sure, within the gate
    rounds: int = 0
    settled: bool = False
    gate: float = 0.0
    joined: list[Pose] = field(
        default_factory=list
    )  # poses at the start, for what is known of the setups' places
    body: Surface | None = None

    @property
    def order(self) -> tuple[str, ...]:
        return named.names(self.kind)

    @property
    def surface(self) -> Surface:
        """The surface of today's sizes, made once for each set of them."""
        if self.body is None or self.body.sizes is not self.sizes:
            self.body = surface(self.sizes, self.kind)
        return self.body

    def placed(self) -> Floats:
        """All points (n, 3) in the arm's axes."""
        return np.vstack(
            [pose(points, self.scale) for pose, points in zip(self.poses, self.setups, strict=True)]
        )


def fit(
    setups: Sequence[Floats],
    kind: str,
    sizes: dict[str, float],
    poses: Sequence[Pose],
    expected: Expected,
    gate: float,
    held: bool = False,
) -> Fitted:
    """Fit all unknowns from a first guess that is within about `gate` mm; with `held` the poses alone."""
    state = Fitted(
        kind,
        dict(sizes),
        list(poses),
        1.0,
        0.0,
        expected,
        dict(sizes),
        list(setups),
        gate=gate,
        joined=list(poses),
    )
    calm, quiet = False, 0
    setup = np.repeat(np.arange(len(setups)), [len(points) for points in setups])
    for state.rounds in range(1, ROUNDS + 1):
        told(state, setup, calm)
        moved = improved(state, held, calm)
        noise = max(expected.least, spread_of(state.residual[state.sure]))
        calm = state.gate <= 1.05 * TUKEY * noise
        state.gate = max(TUKEY * noise, 0.45 * state.gate)
        quiet += calm
        state.settled = calm and moved < SETTLED
        if state.settled or quiet >= CALM:
            state.settled |= moved < 1.0
            break
    told(state, setup, True)
    return state


def told(state: Fitted, setup: np.ndarray, exact: bool) -> None:
    """Give every point its face, residual, spread, and whether it is sure enough to be used."""
    body = state.surface
    points = state.placed()
    residual, labels = body.nearest(points)
    residual = residual - state.offset
    within = np.abs(residual) < state.gate
    state.setup, state.points, state.labels, state.residual = setup, points, labels, residual
    state.spread = spreads(residual, labels, setup, within, state)
    state.sure = within & (np.abs(residual) < TUKEY * state.spread) if exact else within
    if not exact:
        return
    clear = np.flatnonzero(state.sure)
    margin = MARGIN * min(state.gate / TUKEY, float(np.median(state.spread[clear]))) if len(clear) else 0.0
    state.sure[clear] = inner(body, points[clear], labels[clear], residual[clear] + state.offset, margin)


def inner(body: Surface, points: Floats, labels: Labels, far: Floats, margin: float) -> np.ndarray:
    """Whether the face stays the same all round the point's foot on it, at a distance of `margin` mm."""
    feet = points - far[:, None] * body.normals(points, labels)
    same = np.ones(len(points), dtype=bool)
    for axis in range(3):
        for side in (-1.0, 1.0):
            move = np.zeros(3)
            move[axis] = side * margin
            ask = np.flatnonzero(same)
            same[ask] = body.nearest(feet[ask] + move)[1] == labels[ask]
    return same


def spread_of(residual: Floats) -> float:
    """Standard deviation of most of them, by the median of their sizes about zero."""
    return 1.4826 * float(np.median(np.abs(residual))) if len(residual) else 0.0


def spreads(residual: Floats, labels: Labels, setup: np.ndarray, within: np.ndarray, state: Fitted) -> Floats:
    """Standard deviation (n,) of the noise of each face in each setup; few points lean on all."""
    every = max(state.expected.least, spread_of(residual[within]))
    made = np.full(len(residual), every)
    _, key = np.unique(np.column_stack([labels, setup]), axis=0, return_inverse=True)
    order = np.argsort(key, kind="stable")
    for chosen in np.split(order, np.flatnonzero(np.diff(key[order])) + 1):
        own = residual[chosen[within[chosen]]]
        n = len(own)
        square = (n * spread_of(own) ** 2 + 30.0 * every**2) / (n + 30.0)
        made[chosen] = max(state.expected.least, np.sqrt(square))
    return made


def improved(state: Fitted, held: bool, calm: bool) -> float:
    """One Gauss-Newton step with faces and weights held; returns the largest move over its uncertainty.

    Once `calm`, a rounding of no size stays so: it has no face and no point on it, and the expectation about the first
    guess alone would bring it back, to be taken away again by the points.
    """
    problem = Linear(state, np.flatnonzero(state.sure))
    free = problem.free(held)
    if calm:
        free = free[~np.isin(free, [k for k, name in enumerate(problem.order) if state.sizes[name] == 0.0])]
    J, r = problem.jacobian()[:, free], problem.residuals()
    weight = problem.weights(r)
    H = J.T @ (weight[:, None] * J)
    size = 1.0 / np.sqrt(np.maximum(np.diag(H), 1e-30))
    scaled = cho_factor(H * np.outer(size, size) + 1e-12 * np.eye(len(free)))
    step = -size * cho_solve(scaled, size * (J.T @ (weight * r)))
    spread = size * np.sqrt(np.diag(cho_solve(scaled, np.eye(len(free)))))
    whole = np.zeros(problem.count)
    whole[free] = step
    problem.accept(whole)
    stuck = [
        k for k, name in enumerate(problem.order) if sharp(state, name)
    ]  # such a rounding never comes to rest
    return float(np.max((np.abs(step) / spread)[~np.isin(free, stuck)], initial=0.0))


class Linear:
    """Residuals over their spread and their derivatives, for steps of the unknowns: sizes, poses, scale, offset."""

    def __init__(self, state: Fitted, rows: np.ndarray) -> None:
        self.state, self.rows = state, rows
        self.setup, self.labels, self.spread = state.setup[rows], state.labels[rows], state.spread[rows]
        self.order, self.blends = state.order, state.surface.blends()
        self.n, self.setups = len(self.order), len(state.setups)
        self.count = self.n + 6 * self.setups + 2

    def free(self, held: bool) -> np.ndarray:
        """Unknowns that are varied."""
        chosen = np.ones(self.count, dtype=bool)
        if held:
            chosen[: self.n] = False
        chosen[-2] = self.state.expected.scale > 0.0
        chosen[-1] = self.state.expected.offset > 0.0
        return np.flatnonzero(chosen)

    def weights(self, residuals: Floats) -> Floats:
        """Tukey's biweight of the points over the gate's share; observations behind them count in full."""
        made = np.ones(len(residuals))
        limit = max(TUKEY, self.state.gate / float(np.median(self.spread)) if len(self.spread) else TUKEY)
        points = slice(0, len(self.rows))
        made[points] = np.clip(1.0 - (residuals[points] / limit) ** 2, 0.0, None) ** 2
        return made

    def residuals(self) -> Floats:
        return np.concatenate([self.state.residual[self.rows] / self.spread, self.known()])

    def known(self) -> Floats:
        """Observations, expectations about the sizes, and the instrument's stated accuracy, over their spreads."""
        state, sizes = self.state, self.state.sizes
        seen = [
            (sizes[one.name] - one.value) / one.spread
            for one in state.expected.observations
            if one.name in sizes
        ]
        guess = [(sizes[name] - state.first[name]) / loose(name, state.first[name]) for name in self.order]
        stated = [
            (state.scale - 1.0) / (state.expected.scale or 1.0),
            state.offset / (state.expected.offset or 1.0),
        ]
        return np.array([*seen, *guess, *stated, *self.apart()])

    def apart(self) -> Floats:
        """How far each setup has moved against the first since they were joined, over the uncertainty of that."""
        state = self.state
        if not state.expected.together or not state.joined:
            return np.zeros(0)
        first, began = state.poses[0], state.joined[0]
        made = []
        for pose, start in zip(state.poses[1:], state.joined[1:], strict=True):
            moved = first.after(began.inverse()).after(
                start
            )  # where it would stand had it gone with the first
            off = pose.after(moved.inverse())
            made.append(np.append(off.turn.as_rotvec() * self.lever, off.shift) / state.expected.together)
        return np.concatenate(made) if made else np.zeros(0)

    @property
    def lever(self) -> float:
        """mm by which a turn of a rad is told, half of the arm."""
        return (self.state.first["input_arm"] + self.state.first["output_arm"]) / 2.0

    def jacobian(self) -> Floats:
        state = self.state
        points = state.points[self.rows]
        made = np.zeros((len(self.rows), self.count))
        body = state.surface
        here = body.distance(points, self.labels)
        for k, name in enumerate(self.order):
            made[:, k] = self.by_size(name, points, here)
        normal = body.normals(points, self.labels)
        moment = np.cross(points, normal)
        for k in range(self.setups):
            own, at = self.setup == k, self.n + 6 * k
            made[own, at : at + 3], made[own, at + 3 : at + 6] = moment[own], normal[own]
        turned = points - np.array([pose.shift for pose in state.poses])[self.setup]
        made[:, -2], made[:, -1] = np.sum(normal * turned, axis=1) / state.scale, -1.0
        made = np.nan_to_num(made) / self.spread[:, None]
        return np.vstack([made, self.known_jacobian()])

    def by_size(self, name: str, points: Floats, here: Floats) -> Floats:
        """Change of the distance with one size, faces and blends held."""
        step = 1e-7 if name == named.ANGLE else 1e-4
        body = surface(
            {**self.state.sizes, name: self.state.sizes[name] + step}, self.state.kind, self.blends
        )
        return (body.distance(points, self.labels) - here) / step

    def known_jacobian(self) -> Floats:
        state, rows = self.state, []
        for one in state.expected.observations:
            if one.name in self.order:
                rows.append((self.order.index(one.name), 1.0 / one.spread))
        rows += [(k, 1.0 / loose(name, state.first[name])) for k, name in enumerate(self.order)]
        rows += [(self.count - 2, 1.0 / (state.expected.scale or 1.0))]
        rows += [(self.count - 1, 1.0 / (state.expected.offset or 1.0))]
        made = np.zeros((len(rows), self.count))
        for row, (column, value) in enumerate(rows):
            made[row, column] = value
        return np.vstack([made, self.apart_jacobian()])

    def apart_jacobian(self) -> Floats:
        state = self.state
        if not state.expected.together or not state.joined:
            return np.zeros((0, self.count))
        size = np.array([self.lever] * 3 + [1.0] * 3) / state.expected.together
        made = np.zeros((6 * (self.setups - 1), self.count))
        for k in range(1, self.setups):
            rows = np.arange(6 * (k - 1), 6 * k)
            made[rows, self.n + np.arange(6)] = -size
            made[rows, self.n + 6 * k + np.arange(6)] = size
        return made

    def accept(self, step: Floats) -> None:
        """Move the unknowns; no size becomes negative."""
        state = self.state
        moves = zip(self.order, step[: self.n], strict=True)
        state.sizes = {name: max(0.0, state.sizes[name] + move) for name, move in moves}
        parts = step[self.n : -2].reshape(-1, 6)
        state.poses = [pose.moved(part) for pose, part in zip(state.poses, parts, strict=True)]
        state.scale, state.offset = state.scale + step[-2], state.offset + step[-1]


def sharp(state: Fitted, name: str) -> bool:
    """Whether a rounding is so small that the points cannot tell it from a sharp corner."""
    least = SHARP * float(np.median(state.spread[state.sure])) if state.sure.any() else 0.0
    return name.endswith(("chamfer", "fillet", "blend_radius")) and state.sizes[name] <= least


def loose(name: str, size: float) -> float:
    """How far a size may be from its first guess."""
    return 0.2 if name == named.ANGLE else LOOSE * size + 1.0
