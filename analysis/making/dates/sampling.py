"""Thousands of drawn durations at once, with causes that make several tasks long or short together.

Each task has a standard normal number z = sum sqrt(w_c) Z_c + sqrt(1 - sum w_c) e from its causes' common numbers Z and one of
its own (normal copula), and its duration is the quantile of its distribution at the share Phi(z).
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray
from scipy.special import ndtr

from analysis.making.dates.threepoint import Shape, quantile
from params.steps.arrays import Floats

Seed = int | Sequence[int]  # of a stream of random numbers; several numbers name a stream of their own
REACH, KNOTS = (
    6.0,
    1201,
)  # normal numbers beyond +-6 come once in 5e8; 0.01 apart the interpolation errs by some 1e-5


def normals(weights: Floats, samples: int, seed: Seed) -> Floats:
    """Standard normal numbers, shape (tasks, samples), correlated by common causes.

    `weights`, shape (tasks, causes): correlation that each cause gives to its tasks, rows adding up to 1 at most.
    """
    draw = np.random.Generator(np.random.PCG64(np.random.SeedSequence(seed)))
    tasks, causes = weights.shape
    common = draw.standard_normal((causes, samples))
    own = np.sqrt(np.clip(1.0 - weights.sum(axis=1), 0.0, 1.0))
    return np.sqrt(weights) @ common + own[:, None] * draw.standard_normal((tasks, samples))


def durations(shape: Shape, three: Floats, z: Floats) -> Floats:
    """Durations, shape (tasks, samples), of three-point estimates `three` (tasks, 3) at normal numbers z.

    Quantiles are looked up in a table over z: the inverse beta function costs some 10 us a call.
    """
    knots = np.linspace(-REACH, REACH, KNOTS)
    table = quantile(shape, three[:, :1], three[:, 1:2], three[:, 2:], ndtr(knots)[None, :])
    place = (np.clip(z, -REACH, REACH) + REACH) * ((KNOTS - 1) / (2.0 * REACH))
    index = np.minimum(place.astype(int), KNOTS - 2)
    row = np.arange(len(three))[:, None]
    below, above = table[row, index], table[row, index + 1]
    return below + (place - index) * (above - below)


def needed(chance: Floats, samples: int, seed: Seed) -> NDArray[np.bool_]:
    """Whether each task is needed at all, shape (tasks, samples), each on its own."""
    draw = np.random.Generator(np.random.PCG64([*np.atleast_1d(seed).tolist(), 1]))
    return draw.random((len(chance), samples)) < chance[:, None]
