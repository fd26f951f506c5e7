"""Two routes at once, a spare and failed examinations by hand; the normal approximation on published networks."""

from __future__ import annotations

import datetime

import numpy as np
import pytest
from scipy import stats

from analysis.making.dates.plan import plan
from analysis.making.dates.ways import failures, greater, ways
from analysis.making.decision.together import against, if_failed, priced, together
from analysis.tables.names import names
from params.rules.route import broken_route
from params.schema.money import Money
from tests.making.files import ORIGIN, WEEKDAYS, demo, outage_of, route_of, task
from tests.making.test_network import rows_of
from tests.published import case

SAMPLES = 40_000
FAR = 4.5  # standard errors, as in test_sampling


def error(share: float) -> float:
    return (share * (1.0 - share) / SAMPLES) ** 0.5


def test_two_routes_at_once_by_hand() -> None:
    """Alike and independent triangles from 20 over 30 to 60 d: both late with (1 - F(40))^2, F(40) = 1 - 20^2/(40 x 30) = 2/3;
    ready by the median where (1 - F)^2 = 1/2, 60 - sqrt(1200 sqrt(1/2))."""
    outage = outage_of(40, samples=SAMPLES, distribution="triangular")
    routes = [route_of({"a": task(20, 30, 60)}, name=name) for name in ("one", "other")]
    planned = [(route, outage, plan(route, outage)) for route in routes]
    (row,) = ways(planned)
    assert (row["way"], row["kind"]) == ("one and other", "two routes")
    assert row["chance_missed"] == pytest.approx(1.0 / 9.0, abs=FAR * error(1.0 / 9.0))
    half = 60.0 - (1200.0 * 0.5**0.5) ** 0.5
    assert abs((row["p50_ready"] - ORIGIN).days + 1 - half) <= 1.0
    # An order so many days sooner or later moves both: the latest with even chance is 40 less that.
    assert abs((row["latest_order_p50"] - ORIGIN).days - (40.0 - half)) <= 1.0


def test_a_spare_and_a_failed_examination_by_hand() -> None:
    """A week and an examination that fails with 0.3 and then costs 30 days; the outage opens on day 10. One part is late with
    0.3, two with 0.09; a failure adds 30 days and misses for sure, a pass never."""
    tasks = {"a": task(7, 7, 7), "b": task(30, 30, 30, ("a",), chance=0.3, remedy="repair")}
    route, outage = route_of(tasks), outage_of(10, samples=SAMPLES)
    planned = (route, outage, plan(route, outage))
    (row,) = ways([planned])
    assert row["kind"] == "spare" and row["chance_missed"] == pytest.approx(0.09, abs=FAR * error(0.09))
    # 150,000 EUR once and 20,000 a day for 27 days late
    assert row["expected_cost_of_lateness"] == pytest.approx(row["chance_missed"] * 690_000.0, rel=1e-9)
    (failed,) = failures(*planned)
    assert (failed["added_d"], failed["mean_d"], failed["remedy"]) == (30.0, 30.0, "repair")
    assert (failed["chance_missed_if_failed"], failed["chance_missed_if_passed"]) == (1.0, 0.0)
    assert (failed["p90_ready_if_passed"] - ORIGIN).days + 1 == 7
    assert failed["cost_of_lateness_if_failed"] == 690_000.0
    words = if_failed([{name: str(value) for name, value in failed.items()}], route.name)
    assert "repair, 30 % likely, 30 d later" in words and "over 99.9 % instead of under 0.1 %" in words


def test_without_remedies_no_spare() -> None:
    route, outage = route_of({"a": task(7, 7, 7)}), outage_of(10, samples=1000)
    assert list(ways([(route, outage, plan(route, outage))])) == []


def test_a_week_later_by_hand() -> None:
    """Seven days round the clock, opening on day 10: in time now, four days late if ordered a week later."""
    route, outage = route_of({"a": task(7, 7, 7)}), outage_of(10, samples=1000)
    result = plan(route, outage)
    assert set(result.outcome.ready) == {7.0} and set(result.outcome.week_later) == {14.0}


def test_a_remedy_that_cannot_be() -> None:
    route = route_of({"a": task(7, 7, 7, remedy="repair")})
    lines = [str(fault.wrong) for fault in broken_route(route, None)]
    assert "is certain, and yet mends a failed examination" in lines
    assert "mends a failed examination and follows none" in lines


def test_rates_of_two_routes() -> None:
    one = demo("cast").lateness
    other = one.model_copy(update={"once": Money(9.0, "EUR"), "per_day": Money(90_000.0, "EUR", "d")})
    late, said = greater(one, other)
    assert (late.once, late.per_day, said) == (Money(150_000.0, "EUR"), Money(90_000.0, "EUR", "d"), "")
    late, said = greater(one, one.model_copy(update={"once": Money(9.0, "USD"), "per_day": None}))
    assert late.once is None and "different currencies" in said


def cost(currency: str, *figures: float) -> dict[str, str]:
    heads = ("cost_low", "cost_likely", "cost_high", "second_low", "second_likely", "second_high")
    return dict(zip(heads, map(str, figures), strict=True)) | {"currency": currency}


def test_price_of_two_routes_and_of_a_spare() -> None:
    """100 and 200 together 300; a part of 100 of which 40 are fixed: 160 with its spare."""
    a, b = cost("EUR", 90, 100, 120, 50, 60, 80), cost("EUR", 180, 200, 260, 100, 120, 180)
    assert priced("two routes", [a, b]) == (
        {"cost_low": 270.0, "cost_likely": 300.0, "cost_high": 380.0},
        "EUR",
    )
    assert priced("spare", [a])[0] == {"cost_low": 140.0, "cost_likely": 160.0, "cost_high": 200.0}
    assert priced("two routes", [a, b | {"currency": "USD"}]) == (
        dict.fromkeys(("cost_low", "cost_likely", "cost_high")),
        "",
    )


def test_only_routes_that_hold_stand_together() -> None:
    way = {
        "way": "a and b",
        "kind": "two routes",
        "routes": "a b",
        "title": "t",
        "note": "n",
        "past": "yes",
        "latest_order_p90": "2027-01-01",
        "expected_cost_of_lateness": "50",
    }
    heads = names(
        "p50_ready p90_ready latest_order_p50 float_p50_d float_p90_d chance_missed chance_missed_week_later cost_of_a_week"
    )
    way = dict.fromkeys(heads, "") | way
    first = {
        "route": "a",
        "holds": True,
        "order": 1,
        "design": "d1",
        "material": "m",
        "expected_total": 330.0,
    }
    first["currency"] = "EUR"
    costs = {"a": cost("EUR", 90, 100, 120, 50, 60, 80), "b": cost("EUR", 180, 200, 260, 100, 120, 180)}
    weak = first | {"route": "b", "holds": False, "order": None}
    assert together([way], [first, weak], costs, "2027-01-04") == []
    (row,) = together([way], [first, weak | {"holds": True}], costs, "2027-01-04")
    assert row["expected_total"] == 350.0
    assert row["sensitivity"] == "price and lateness 20 EUR more than with the route a alone"
    assert row["note"].startswith(
        "past: for 90 % confidence it had to be ordered by 2027-01-01, and the order is on 2027-01-04"
    )
    assert against({"expected_total": None}, first) == "price and lateness are not known"


@pytest.mark.parametrize(
    ("columns", "ids", "due"),
    [("pred; o,m,p wk", ("H01", "H02", "H03"), 47), ("o,p,m", ("H07", "H08", "H09"), 41)],
)
def test_published_schedules_planned_and_by_the_normal_approximation(columns, ids, due) -> None:
    """Weeks as days of a calendar without days off; sources in tests/published/networks.csv. The drawn chance stands beside it
    and is lower or higher by what the approximation leaves out; it is checked against draws of numpy's beta distribution."""
    rows = small_letters(rows_of(ids[0], columns))
    tasks = {name: task(*three, after) for name, (after, three) in rows.items()}
    mean, variance, chance = (case(name) for name in ids)
    result = plan(route_of(tasks), outage_of(due, samples=SAMPLES))
    assert result.early.finish.max() == pytest.approx(mean.expected, abs=1e-6)  # planned with the means
    assert result.normal.mean == pytest.approx(mean.expected, abs=1e-6)
    assert result.normal.deviation**2 == pytest.approx(variance.expected, abs=1e-6)
    assert 1.0 - result.normal.after(float(due)) == pytest.approx(chance.expected, abs=1e-6)
    drawn = ends(rows)
    share = float(np.mean(drawn <= due))
    assert np.mean(result.risk.ready <= due) == pytest.approx(share, abs=FAR * 2.0**0.5 * error(share))


def small_letters(rows):
    """Names of tasks as a route file writes them."""
    return {
        name.lower(): (tuple(one.lower() for one in after), three) for name, (after, three) in rows.items()
    }


def ends(rows) -> np.ndarray:
    """Ends of the network with durations from numpy's beta distribution, in the order of the letters."""
    draw, finish = np.random.default_rng(7), {}
    for name, (after, (low, likely, high)) in rows.items():
        width = high - low
        share = (likely - low) / width if width else 0.0
        long = low + width * draw.beta(1.0 + 4.0 * share, 5.0 - 4.0 * share, SAMPLES)
        finish[name] = long + np.max([finish[one] for one in after], axis=0) if after else long
    return np.max(list(finish.values()), axis=0)


def test_triangles_of_the_published_schedule() -> None:
    """The same network with triangular tasks: the textbook's own simulation finds about 0.59 for 47 weeks, where the normal
    approximation says 0.84 (Hillier & Lieberman, chapter on simulation with spreadsheets; from memory)."""
    rows = small_letters(rows_of("H01", "pred; o,m,p wk"))
    tasks = {name: task(*three, after) for name, (after, three) in rows.items()}
    result = plan(route_of(tasks), outage_of(47, samples=SAMPLES, distribution="triangular"))
    assert np.mean(result.risk.ready <= 47.0) == pytest.approx(0.59, abs=0.01)


def test_normal_of_a_task_in_doubt() -> None:
    """Needed with 0.3, fixed 30 days on five days of seven: mean 9 working days, variance 0.3 x 0.7 x 30^2 x (7/5)^2."""
    route = route_of({"b": task(30, 30, 30, chance=0.3)}, WEEKDAYS)
    result = plan(route, outage_of(100, samples=1000))
    assert result.normal.deviation == pytest.approx((0.21 * 900.0) ** 0.5 * 1.4, rel=1e-12)
    assert ORIGIN + datetime.timedelta(result.normal.mean) == datetime.date(
        2027, 1, 15
    )  # 9 days from Monday 4th
    assert stats.norm.sf(100.0, result.normal.mean, result.normal.deviation) == pytest.approx(
        result.normal.after(100.0), rel=1e-9
    )
