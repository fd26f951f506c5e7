"""Chances, dates and drivers against closed forms of one and two tasks, scipy, and the network run again."""

from __future__ import annotations

import datetime

import numpy as np
import pytest
from scipy import stats

from analysis.making.dates.plan import plan
from analysis.making.dates.risk import chance_ready, day_by, day_from, rank_correlation, whole
from params.schema.route import Route
from params.schema.schedule import Outage
from tests.making.files import ORIGIN, WEEKDAYS, demo, demo_outage, outage_of, route_of, task

SAMPLES = 40_000
FAR = 4.5  # standard errors, as in test_sampling


def error(share: float) -> float:
    return (share * (1.0 - share) / SAMPLES) ** 0.5


def test_single_triangular_task() -> None:
    """Percentiles of a triangle from 20 over 30 to 60 d; half a day for whole days, the rest for sampling."""
    result = plan(
        route_of({"a": task(20, 30, 60)}), outage_of(45, samples=SAMPLES, distribution="triangular")
    )
    one = stats.triang(0.25, 20.0, 40.0)
    for share in (0.5, 0.8, 0.9):
        exact = float(one.ppf(share))
        assert np.quantile(result.risk.ready, share) == pytest.approx(
            exact, abs=FAR * error(share) / float(one.pdf(exact))
        )
        assert 0.0 <= day_by(result.risk.ready, share) - np.quantile(result.risk.ready, share) < 1.0
    share, text = chance_ready(result.risk.ready, 45.0)
    assert share == pytest.approx(float(one.cdf(45.0)), abs=FAR * error(float(one.cdf(45.0))))
    assert text == pytest.approx(error(share), rel=1e-12)


def test_latest_order_of_a_single_task() -> None:
    """Opening on day 100 less the duration's percentile, as the beginning of a day."""
    result = plan(
        route_of({"a": task(20, 30, 60)}), outage_of(100, samples=SAMPLES, distribution="triangular")
    )
    exact = 100.0 - float(stats.triang(0.25, 20.0, 40.0).ppf(0.9))
    assert day_from(result.risk.order, 0.9) == pytest.approx(np.floor(exact), abs=1.0)
    assert result.due.start.min() == pytest.approx(100.0 - 110.0 / 3.0, abs=1e-9)  # planned with its mean


def test_latest_order_on_working_days() -> None:
    """Ready before Monday 1 February 2027 after ten working days: order on Monday 18 January."""
    result = plan(route_of({"a": task(10, 10, 10)}, WEEKDAYS), outage_of(28, samples=1000))
    assert ORIGIN + datetime.timedelta(28) == datetime.date(2027, 2, 1)
    assert ORIGIN + datetime.timedelta(float(result.due.start.min())) == datetime.date(2027, 1, 18)
    assert day_from(result.risk.order, 0.9) == 14.0


def test_two_alike_in_parallel() -> None:
    """The later of two independent tasks: chance F(x)^2; by symmetry each sets the end half the time."""
    route = route_of({"a": task(20, 30, 60), "b": task(20, 30, 60)})
    result = plan(route, outage_of(40, samples=SAMPLES, distribution="triangular"))
    exact = float(stats.triang(0.25, 20.0, 40.0).cdf(40.0)) ** 2
    assert chance_ready(result.risk.ready, 40.0)[0] == pytest.approx(exact, abs=FAR * error(exact))
    assert result.risk.criticality == pytest.approx([0.5, 0.5], abs=FAR * error(0.5))
    assert result.risk.criticality.sum() == pytest.approx(1.0, abs=1e-12)


def test_task_that_may_not_be_needed() -> None:
    """A fixed week, and a fixed month with chance 0.3: ready in a week with chance 0.7; the plan leaves the month out."""
    route = route_of({"a": task(7, 7, 7), "b": task(30, 30, 30, ("a",), chance=0.3)})
    result = plan(route, outage_of(10, samples=SAMPLES))
    assert chance_ready(result.risk.ready, 10.0)[0] == pytest.approx(0.7, abs=FAR * error(0.7))
    assert result.early.finish.max() == 7.0
    assert result.shortest == 7.0
    assert result.risk.gain[1] == pytest.approx(
        0.3 * 30.0, abs=30.0 * FAR * (0.21 / 4000.0) ** 0.5
    )  # on 4 000 networks
    likelier = plan(
        route_of({"a": task(7, 7, 7), "b": task(30, 30, 30, ("a",), chance=0.5)}), outage_of(10, samples=1000)
    )
    assert likelier.early.finish.max() == 37.0


def test_gain_of_a_chain_is_mean_less_planned() -> None:
    """In a chain the end moves with each task: mean (20 + 30 + 60)/3 less 30 of the first, nothing of the fixed one."""
    route = route_of({"a": task(20, 30, 60), "b": task(5, 5, 5, ("a",))})
    result = plan(route, outage_of(100, samples=SAMPLES, distribution="triangular"))
    spread = stats.triang(0.25, 20.0, 40.0).std()
    assert result.risk.gain[0] == pytest.approx(110.0 / 3.0 - 30.0, abs=FAR * spread / 4000.0**0.5)
    assert result.risk.gain[1] == pytest.approx(0.0, abs=1e-9)


def test_rank_correlation_as_scipy_has_it() -> None:
    draw = np.random.default_rng(3)
    drawn = draw.gamma(2.0, 3.0, (3, 500)).round(1)  # with ties
    drawn[2] = 4.0
    ready = drawn.sum(axis=0) + draw.normal(size=500)
    actual = rank_correlation(drawn, ready)
    for row in range(2):
        assert actual[row] == pytest.approx(stats.spearmanr(drawn[row], ready).statistic, abs=1e-12)
    assert actual[2] == 0.0


@pytest.mark.parametrize("name", ["cast", "deposited", "welded"])
@pytest.mark.parametrize("share", [0.5, 0.9])
def test_order_on_the_latest_day_and_a_day_later(name: str, share: float) -> None:
    """The network run again from the date that the backward pass gave is ready with that chance; a day later it is not."""
    route, outage = demo(name), demo_outage()
    latest = day_from(plan(route, outage).risk.order, share)
    assert chance_of(route, outage, latest) >= share
    assert chance_of(route, outage, latest + 1.0) < share


def chance_of(route: Route, outage: Outage, moved: float) -> float:
    order = outage.order + datetime.timedelta(moved)
    result = plan(route, outage.model_copy(update={"order": order}))
    return chance_ready(result.risk.ready, result.opens)[0]


def test_whole_days() -> None:
    ready = np.array([4.0, 4.2, 5.0, 9.9])
    assert day_by(ready, 0.5) == 5.0  # two of four are done by the end of the fifth day
    assert day_by(ready, 0.25) == 4.0
    assert day_from(np.array([1.0, 2.5, 3.0, 8.0]), 0.5) == 3.0  # day 3 is early enough for two of four
    assert whole(ready).tolist() == [4.0, 5.0, 5.0, 10.0]


@pytest.mark.parametrize("distribution", ["pert", "triangular"])
def test_more_time_never_hurts(distribution: str) -> None:
    route = demo("welded")
    chances = [
        chance_ready(result.risk.ready, result.opens)[0]
        for opens in (datetime.date(2027, 5, 10), datetime.date(2027, 6, 7), datetime.date(2027, 7, 5))
        for result in [
            plan(route, demo_outage().model_copy(update={"opens": opens, "distribution": distribution}))
        ]
    ]
    assert chances == sorted(chances)
    assert chances[0] < 0.1
    assert chances[-1] > 0.9


def test_common_causes_widen_the_dates() -> None:
    route = demo("cast")
    loose = route.model_copy(
        update={
            "causes": {},
            "tasks": {n: t.model_copy(update={"causes": ()}) for n, t in route.tasks.items()},
        }
    )
    shared, alone = plan(route, demo_outage()).risk.ready, plan(loose, demo_outage()).risk.ready
    assert shared.std() > 1.05 * alone.std()
    assert shared.mean() == pytest.approx(
        alone.mean(), rel=0.01
    )  # the chain's mean does not know of correlation
