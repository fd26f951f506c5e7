"""The designs of a sweep: every combination of section sizes, or a seeded Latin hypercube of them."""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import NDArray

from params.arm import Arm, Span
from params.units import inside

FIELDS = ("depth_at_hub", "depth_at_pins", "width", "flange_thickness", "web_thickness", "hub")
STEP = {"si": inside(0.1, "mm", "length"), "us": inside(0.01, "in", "length")}


def spans(arm: Arm) -> dict[str, Span]:
    """The swept sizes, in the order of `FIELDS`; those without a range stay as written."""
    return {field: span for field in FIELDS if (span := getattr(arm.sweep, field)) is not None}


def rounded(values: NDArray[np.float64], arm: Arm) -> NDArray[np.float64]:
    """Sizes in mm rounded to what a drawing would give: 0.1 mm, or 0.01 in."""
    step = STEP[arm.units]
    return np.round(values / step) * step


def designs(arm: Arm) -> dict[str, NDArray[np.float64]]:
    """Arrays (D,) in mm of every swept size; one design, as written, where nothing is swept."""
    swept = spans(arm)
    if not swept:
        return {}
    if math.prod(span.steps for span in swept.values()) <= arm.sweep.grid_limit:
        return grid(arm, swept)
    return hypercube(arm, swept)


def grid(arm: Arm, swept: dict[str, Span]) -> dict[str, NDArray[np.float64]]:
    """The full grid, the last size running fastest."""
    axes = [rounded(np.linspace(span.least, span.most, span.steps), arm) for span in swept.values()]
    return {name: axis.ravel() for name, axis in zip(swept, np.meshgrid(*axes, indexing="ij"), strict=True)}


def hypercube(arm: Arm, swept: dict[str, Span]) -> dict[str, NDArray[np.float64]]:
    """`grid_limit` designs of a Latin hypercube with the file's seed."""
    from scipy.stats import qmc  # a second to load, and most sweeps are grids

    points = qmc.LatinHypercube(d=len(swept), rng=np.random.default_rng(arm.sweep.seed)).random(
        arm.sweep.grid_limit
    )
    low = np.array([span.least for span in swept.values()])
    high = np.array([span.most for span in swept.values()])
    sizes = rounded(qmc.scale(points, low, np.maximum(high, low + 1e-9)), arm)
    return {name: sizes[:, column] for column, name in enumerate(swept)}
