"""The designs of a sweep: every combination of section sizes, or a seeded Latin hypercube of them."""

from __future__ import annotations

import math
from collections.abc import Mapping

import numpy as np

from analysis.mechanics.sizes import SWEPT
from params.schema.arm import Arm, Span
from params.schema.units import inside
from params.steps.arrays import Floats

STEP = {"si": inside(0.1, "mm", "length"), "us": inside(0.01, "in", "length")}


def spans(arm: Arm) -> dict[str, Span]:
    """The swept sizes, in the order of `SWEPT`; those without a range stay as written."""
    return {field: span for field in SWEPT if (span := getattr(arm.sweep, field)) is not None}


def rounded(values: Floats, arm: Arm) -> Floats:
    """Sizes in mm rounded to what a drawing would give: 0.1 mm, or 0.01 in."""
    step = STEP[arm.units]
    return np.round(values / step) * step


def designs(arm: Arm, given: Mapping[str, Floats] | None = None) -> dict[str, Floats]:
    """Arrays (D,) in mm of every swept size; one design, as written, where nothing is swept.

    `given` holds the values (mm) of sizes sold only in steps, such as plates, in place of their range.
    """
    given, swept = given or {}, spans(arm)
    counts = [len(given[name]) if name in given else swept[name].steps for name in names(swept, given)]
    if not counts:
        return {}
    if math.prod(counts) <= arm.sweep.grid_limit:
        return grid(arm, swept, given)
    return hypercube(arm, swept, given)


def names(swept: Mapping[str, Span], given: Mapping[str, Floats]) -> list[str]:
    return [field for field in SWEPT if field in swept or field in given]


def grid(arm: Arm, swept: dict[str, Span], given: Mapping[str, Floats]) -> dict[str, Floats]:
    """The full grid, the last size running fastest."""

    def axis(name: str) -> Floats:
        if name in given:
            return given[name]
        return rounded(np.linspace(swept[name].least, swept[name].most, swept[name].steps), arm)

    every = names(swept, given)
    mesh = np.meshgrid(*(axis(name) for name in every), indexing="ij")
    return {name: values.ravel() for name, values in zip(every, mesh, strict=True)}


def hypercube(arm: Arm, swept: dict[str, Span], given: Mapping[str, Floats]) -> dict[str, Floats]:
    """`grid_limit` designs of a Latin hypercube with the file's seed."""
    from scipy.stats import qmc  # a second to load, and most sweeps are grids

    every = names(swept, given)
    points = qmc.LatinHypercube(d=len(every), rng=np.random.default_rng(arm.sweep.seed)).random(
        arm.sweep.grid_limit
    )

    def sizes(name: str, share: Floats) -> Floats:
        if name in given:
            return given[name][(share * len(given[name])).astype(int)]
        low, high = swept[name].least, swept[name].most
        return rounded(low + share * (max(high, low + 1e-9) - low), arm)

    return {name: sizes(name, points[:, column]) for column, name in enumerate(every)}
