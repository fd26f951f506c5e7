"""Costs added by hand, and money as people write it."""

from __future__ import annotations

import pytest
from pydantic_core import PydanticCustomError

from analysis.making.decision.cost import late_cost, part_cost
from params.schema.money import Money, money
from tests.making.files import demo


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
