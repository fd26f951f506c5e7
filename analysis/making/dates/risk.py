"""What the drawn networks say: chance of being ready, dates by confidence, latest order, and which tasks drive them."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from scipy.stats import rankdata

from analysis.making.dates.calendar import TIE
from analysis.making.dates.network import Network, backward, driving, forward
from params.steps.arrays import Floats

LEADING, GAIN_SAMPLES = 20, 4000  # tasks and networks on which the gain of a likely duration is tried


@dataclass(frozen=True)
class Risk:
    """Drawn networks judged; moments in days from the origin, shape (samples,); by task, shape (tasks,)."""

    ready: Floats
    order: Floats  # latest moment of the order with which the part is there when it is due; -inf where none is early enough
    finish: Floats  # shape (tasks, samples)
    criticality: Floats  # share of networks in which the task sets the end
    rank_correlation: Floats  # Spearman's, of the task's duration and the end
    gain: Floats  # days by which the mean end comes sooner where the task takes its likely time; nan where not tried


def risk(net: Network, drawn: Floats, likely: Floats, due: Floats | float) -> Risk:
    """Judge drawn durations, shape (tasks, samples), beside likely ones, shape (tasks,).

    `due`, shape (samples,) or one: when the part has to be there, -inf where no day is early enough.
    """
    early = forward(net, drawn)
    ready = early.finish.max(axis=0)
    criticality = (driving(net, early) & (drawn > 0.0)).mean(axis=1)
    return Risk(
        ready,
        latest_order(net, drawn, due),
        early.finish,
        criticality,
        rank_correlation(drawn, ready),
        gains(net, drawn, likely, criticality),
    )


def ready_of(net: Network, drawn: Floats, begin: float = 0.0) -> Floats:
    """End of each network that is ordered at `begin`, shape (samples,)."""
    return forward(net, drawn, begin).finish.max(axis=0)


def latest_order(net: Network, drawn: Floats, due: Floats | float) -> Floats:
    """Latest moment of the order with which each network ends when it is due; -inf where that is -inf."""
    due = np.broadcast_to(np.asarray(due, dtype=float), drawn.shape[1:])
    known = np.isfinite(due)
    order = backward(net, drawn, np.where(known, due, 0.0)).start.min(axis=0)
    return np.where(known, order, -np.inf)


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


def whole(ready: Floats) -> Floats:
    """End of the day on which each is ready, days from the origin."""
    return np.ceil(ready - TIE)


def rank_correlation(drawn: Floats, ready: Floats) -> Floats:
    """Spearman's rank correlation of each row with `ready`; 0 for a row that does not vary."""
    ranks, end = rankdata(drawn, axis=1), rankdata(ready)
    ranks, end = ranks - ranks.mean(axis=1, keepdims=True), end - end.mean()
    scale = np.sqrt((ranks**2).sum(axis=1) * (end**2).sum())
    return np.divide(ranks @ end, scale, out=np.zeros(len(drawn)), where=scale > 0.0)


def gains(net: Network, drawn: Floats, likely: Floats, criticality: Floats) -> Floats:
    """Mean end less the mean end with one task at its likely duration, days; of leading tasks, nan of the rest.

    Over the first networks only: both ends come from the same draws, so their difference varies little.
    """
    few = drawn[:, :GAIN_SAMPLES]
    ready = ready_of(net, few)
    mean_gain = np.full(len(drawn), np.nan)
    for task in np.argsort(-criticality * few.std(axis=1), kind="stable")[:LEADING]:
        fixed = few.copy()
        fixed[task] = likely[task]
        mean_gain[task] = np.mean(ready - ready_of(net, fixed))
    return mean_gain
