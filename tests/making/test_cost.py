"""Costs added by hand, and money as people write it."""

from __future__ import annotations

import pytest
from pydantic_core import PydanticCustomError

from analysis.making.dates.cost import exchanged, late_cost, part_cost
from params.schema.money import Money, money
from tests.making.files import demo, outage_of


def test_range_of_a_deposited_part() -> None:
    """2,000 kg and 500 h of arc: 25000 + 9 x 2000 + 60 x 500, 35000 + 12 x 2000 + 80 x 500, 60000 + 18 x 2000 + 110 x 500."""
    actual = part_cost(demo("deposited"), 2000.0, 500.0)
    assert actual is not None
    assert (actual.low, actual.likely, actual.high, actual.currency) == (73_000.0, 99_000.0, 151_000.0, "EUR")


def test_no_rates_no_cost() -> None:
    route = demo("welded").model_copy(update={"cost": None})
    assert part_cost(route, 2000.0) is None
    bare = route.lateness.model_copy(update={"once": None, "per_day": None})
    assert late_cost(bare, 0.5, 3.0) is None


def test_expected_cost_of_lateness() -> None:
    """150000 x 0.4 + 20000 x 2.5."""
    assert late_cost(demo("welded").lateness, 0.4, 2.5) == Money(110_000.0, "EUR")


def test_another_currency_by_the_rate_of_the_outage() -> None:
    """0.5 XTS for one EUR: 73,000 to 151,000 EUR are 36,500 to 75,500 XTS, 110,000 EUR of lateness are 55,000 XTS."""
    outage = outage_of(30, exchange={"EUR": "0.5 XTS"})
    actual = part_cost(exchanged(demo("deposited"), outage), 2000.0, 500.0)
    assert actual is not None
    assert (actual.low, actual.likely, actual.high, actual.currency) == (36_500.0, 49_500.0, 75_500.0, "XTS")
    assert late_cost(exchanged(demo("welded"), outage).lateness, 0.4, 2.5) == Money(55_000.0, "XTS")
    other = outage_of(30, exchange={"XXX": "0.5 XTS"})
    assert exchanged(demo("welded"), other) == demo("welded")


@pytest.mark.parametrize(
    "text", ["12000", "12000EUR", "12000 eur", "-1 EUR", "1e3 EUR", "12 EUR/m", 12, None, "12 000 EUR"]
)
def test_what_is_no_money(text: object) -> None:
    with pytest.raises(PydanticCustomError):
        money(text, "")


def test_money_of_another_kind() -> None:
    with pytest.raises(PydanticCustomError) as caught:
        money("9 EUR/kg", "h")
    assert caught.value.context is not None
    assert caught.value.context["wrong"] == "is a price per kg"
