"""Mean and variance of PERT as published: Malcolm, Roseboom, Clark & Fazar, Operations Research 7 (1959) 646."""

from __future__ import annotations

from params.steps.arrays import Floats


def pert_mean(low: Floats, likely: Floats, high: Floats) -> Floats:
    """Mean of PERT, unit of the durations."""
    return (low + 4.0 * likely + high) / 6.0


def pert_variance(low: Floats, high: Floats) -> Floats:
    """Variance as published for PERT, squared unit of the durations."""
    return ((high - low) / 6.0) ** 2
