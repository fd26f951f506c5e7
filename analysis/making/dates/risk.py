"""What the drawn networks say: chance of being ready, dates by confidence, latest order, and which tasks drive them."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from scipy.stats import rankdata

from analysis.making.dates.calendar import TIE
from analysis.making.dates.network import Network, backward, driving, forward
from params.steps.arrays import Floats

LEADING, GAIN_SAMPLES = 20, 4000  # tasks and networks on which the gain of a planned duration is tried


@dataclass(frozen=True)
class Risk:
    """Drawn networks judged; moments in days from the origin, shape (samples,); by task, shape (tasks,)."""

    ready: Floats
    order: Floats  # latest moment of the order that still meets the opening
    finish: Floats  # shape (tasks, samples)
    criticality: Floats  # share of networks in which the task sets the end
    rank_correlation: Floats  # Spearman's, of the task's duration and the end
    gain: Floats  # days by which the mean end comes sooner where the task takes its planned time; nan where not tried


def risk(net: Network, drawn: Floats, planned: Floats, opens: float) -> Risk:
    """Judge drawn durations, shape (tasks, samples), beside planned ones, shape (tasks,), against the opening."""
    early = forward(net, drawn)
    ready = early.finish.max(axis=0)
    criticality = (driving(net, early) & (drawn > 0.0)).mean(axis=1)
    return Risk(
        ready,
        backward(net, drawn, opens).start.min(axis=0),
        early.finish,
        criticality,
        rank_correlation(drawn, ready),
        gains(net, drawn, planned, criticality),
    )


def chance_ready(ready: Floats, opens: float) -> tuple[float, float]:
    """Share of networks ready before the opening, and the standard error of that share."""
    share = float(np.mean(ready <= opens + TIE))
    return share, float(np.sqrt(share * (1.0 - share) / ready.size))


def day_by(moments: Floats, share: float) -> float:
    """Least end of a day by which the share of networks is finished, days from the origin."""
    return float(np.quantile(np.ceil(moments - TIE), share, method="inverted_cdf"))


def day_from(moments: Floats, share: float) -> float:
    """Latest beginning of a day that is early enough for the share of networks, days from the origin."""
    return -float(np.quantile(-np.floor(moments + TIE), share, method="inverted_cdf"))


def days_late(ready: Floats, opens: float) -> Floats:
    """Whole calendar days from the opening to the end of the day on which it is ready; 0 where in time."""
    return np.maximum(np.ceil(ready - TIE) - opens, 0.0)


def rank_correlation(drawn: Floats, ready: Floats) -> Floats:
    """Spearman's rank correlation of each row with `ready`; 0 for a row that does not vary."""
    ranks, end = rankdata(drawn, axis=1), rankdata(ready)
    ranks, end = ranks - ranks.mean(axis=1, keepdims=True), end - end.mean()
    scale = np.sqrt((ranks**2).sum(axis=1) * (end**2).sum())
    return np.divide(ranks @ end, scale, out=np.zeros(len(drawn)), where=scale > 0.0)


def gains(net: Network, drawn: Floats, planned: Floats, criticality: Floats) -> Floats:
    """Mean end less the mean end with one task at its planned duration, days; of leading tasks, nan of the rest.

    Over the first networks only: both ends come from the same draws, so their difference varies little.
    """
    few = drawn[:, :GAIN_SAMPLES]
    ready = forward(net, few).finish.max(axis=0)
    mean_gain = np.full(len(drawn), np.nan)
    for task in np.argsort(-criticality * few.std(axis=1), kind="stable")[:LEADING]:
        fixed = few.copy()
        fixed[task] = planned[task]
        mean_gain[task] = np.mean(ready - forward(net, fixed).finish.max(axis=0))
    return mean_gain
