"""For every node the plane on which all cycles of a year together do the most damage.

On a plane of normal n each state gives a normal stress n.S n; a cycle gives a range and a mean (of more than
two states from the least to the most on this plane), the
mean-stress rule an equivalent range, the S-N curve a share of damage. The search looks at a fixed set of
planes over the half sphere and at the principal directions of every cycle's stress change, then closes in on
the best. For one cycle without mean-stress effect the answer is the largest principal value of the stress
change by size, which the tests hold it against. Shear on the plane plays no part; where shear governs
(torsion) set the shear curve against the shear range, see `shear_range`.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from analysis.fatigue.curve import Curve
from analysis.fatigue.duty import Cycles
from analysis.fatigue.meanstress import MeanRule
from analysis.fatigue.plane_kernel import worst_planes
from params.steps.arrays import Floats

Ints = NDArray[np.int64]

PLANES = 160  # on the half sphere, about 11 degrees apart; closing in on the best takes the rest


@dataclass(frozen=True)
class Search:
    """What the search found, by node (n,)."""

    damage: Floats  # of a year, on the worst plane
    normal: Floats  # of that plane, (n, 3)
    cycle: Ints  # the one that does most there
    range: Floats  # of that cycle, MPa
    mean: Floats  # of that cycle, MPa
    equivalent: Floats  # largest fully reversed range there, MPa
    reserve: Floats  # factor on all stresses that uses up the service life; below 1 the node falls short
    service_years: float
    limit: float  # Miner sum at which life ends


def search(
    stress: Floats,
    cycles: Cycles,
    curves: Sequence[Curve],
    rules: Sequence[MeanRule],
    which: Ints,
    service_years: float,
    limit: float = 1.0,
) -> Search:
    """The worst plane of every node.

    Parameters
    ----------
    stress
        (states, n, 6) MPa, components xx, yy, zz, xy, yz, zx.
    curves, rules
        S-N curves and the mean-stress rule of each; `which` (n,) names the curve of every node.
    service_years, limit
        service life wanted and the Miner sum at which life ends, for `reserve`.

    Raises
    ------
    ValueError
        for shapes that do not go together, or a stress that is not finite.
    """
    _check(stress, cycles, curves, rules, which)
    if not service_years > 0.0 or not 0.0 < limit <= 1.0:
        raise ValueError(f"service life {service_years:g} years, Miner sum {limit:g}: over 0, at most 1")
    lines = np.array(
        [[c.knee, c.cycles_at_knee, c.slope, c.slope_beyond, c.limit, c.cut_off] for c in curves]
    )
    kinds = np.array([r.kind for r in rules])
    numbers, credits = (np.array([getattr(r, name) for r in rules], float) for name in ("number", "credit"))
    table = np.column_stack([cycles.low, cycles.high, cycles.per_year])
    also = np.ascontiguousarray(cycles.also, np.int64)
    nodes = np.ascontiguousarray(np.moveaxis(stress, 0, 1), dtype=float)
    own = _principal_directions(stress, cycles)
    duty = (cycles.start, cycles.end, table, also)
    share = service_years / limit
    figures, normal, worst = worst_planes(
        nodes, own, half_sphere(PLANES), duty, lines, kinds, numbers, credits, which, share
    )
    damage, span, mean, equivalent, reserve = figures.T
    return Search(damage, normal, worst, span, mean, equivalent, reserve, service_years, limit)


def half_sphere(count: int) -> Floats:
    """Unit normals (count, 3) spread evenly over the half sphere z >= 0 (Fibonacci lattice)."""
    i = np.arange(count)
    z = (i + 0.5) / count
    around = i * math.pi * (3.0 - math.sqrt(5.0))
    across = np.sqrt(1.0 - z * z)
    return np.column_stack([across * np.cos(around), across * np.sin(around), z])


def shear_range(stress: Floats, cycles: Cycles) -> Floats:
    """Largest shear stress range over all planes by cycle and node (k, n), MPa.

    Half the spread of the principal values of the stress change.
    """
    low, high = cycles.ends(stress, tensor=True)
    principal = np.linalg.eigvalsh(_matrices(high - low))
    return 0.5 * (principal[..., 2] - principal[..., 0])


def _principal_directions(stress: Floats, cycles: Cycles) -> Floats:
    """Normals (n, distinct pairs * 3, 3): principal directions of each stress change."""
    a, b, *also = np.unique(np.column_stack([cycles.start, cycles.end, cycles.also]), axis=0).T
    none, full = np.zeros(len(a)), np.ones(len(a))
    low, high = Cycles(a, b, none, full, full, np.column_stack(also)).ends(stress, tensor=True)
    _, vectors = np.linalg.eigh(_matrices(np.moveaxis(high - low, 0, 1)))
    return np.ascontiguousarray(np.swapaxes(vectors, -1, -2).reshape(stress.shape[1], -1, 3))


def _matrices(stress: Floats) -> Floats:
    return stress[..., [[0, 3, 5], [3, 1, 4], [5, 4, 2]]]


def _check(
    stress: Floats, cycles: Cycles, curves: Sequence[Curve], rules: Sequence[MeanRule], which: Ints
) -> None:
    if stress.ndim != 3 or stress.shape[2] != 6 or which.shape != (stress.shape[1],):
        raise ValueError(
            f"stress {stress.shape} and curve numbers {which.shape}: (states, n, 6) and (n,) expected"
        )
    if len(curves) != len(rules) or (len(which) and not 0 <= which.min() <= which.max() < len(curves)):
        raise ValueError(
            f"{len(curves)} curves, {len(rules)} rules: one rule a curve and every node's curve among them"
        )
    if not len(cycles) or max(cycles.start.max(), cycles.end.max(), cycles.also.max()) >= len(stress):
        raise ValueError(f"cycles name states beyond the {len(stress)} of the stress, or there are none")
    if not np.isfinite(stress).all():
        raise ValueError("stress: every value must be finite")
