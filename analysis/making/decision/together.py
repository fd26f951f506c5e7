"""Rows of the decision beside the routes: two routes at once, a spare; and what a failed examination means, in words."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from analysis.tables.columns import chance
from analysis.tables.confidence import EVEN, READY, SURE, WITH
from params.steps.caution import CAUTION

Row = dict[str, Any]
MONEY = ("low", "likely", "high")
DAYS = [
    *(f"p{part}_ready" for part in (EVEN, SURE)),
    *(f"latest_order_p{part}" for part in (EVEN, SURE)),
    *(f"float_p{part}_d" for part in (EVEN, SURE)),
    "past",
]
FIGURES = (
    "chance_missed",
    "chance_missed_week_later",
    "expected_cost_of_lateness",
    "cost_of_a_week",
)


def dated(table: dict[str, str]) -> Row:
    """What decision.csv takes of a row of dates.csv or ways.csv."""
    figures = {name: float(table[name]) if table[name] else None for name in FIGURES}
    return {name: table[name] for name in DAYS} | figures


def past(table: dict[str, str], order: str) -> str:
    """That the latest order is before the day of the order; empty where it is not."""
    if table["past"] != "yes":
        return ""
    latest = table[f"latest_order_p{SURE}"]
    if not latest:
        return f"no day of the order gives {WITH}: the work in the outage alone is too long for it more often"
    return f"past: for {WITH} it had to be ordered by {latest}, and the order is on {order}"


def together(
    ways: Iterable[dict[str, str]], routes: list[Row], costs: dict[str, dict[str, str]], order: str
) -> list[Row]:
    """The rows of ways.csv whose routes all hold, with their price; each against the first route alone."""
    held = {row["route"]: row for row in routes if row["holds"]}
    first = next((row for row in routes if row.get("order") == 1), None)
    rows = []
    for way in ways:
        parts = way["routes"].split()
        if not all(name in held for name in parts):
            continue
        price, currency = priced(way["kind"], [costs[name] for name in parts])
        row: Row = {
            "route": way["way"],
            "kind": way["kind"],
            "title": way["title"],
            "design": " ".join(held[name]["design"] for name in parts),
            "material": " ".join(held[name]["material"] for name in parts),
            **dated(way),
            **price,
            "currency": currency,
            "holds": True,
            "years_to_crack": "",
            "acceptable_flaw": "",
            "note": "; ".join(filter(None, (past(way, order), way["note"]))),
            "caution": CAUTION,
        }
        if price["cost_likely"] is not None and row["expected_cost_of_lateness"] is not None:
            row["expected_total"] = price["cost_likely"] + row["expected_cost_of_lateness"]
        row["sensitivity"] = against(row, first)
        rows.append(row)
    return rows


def priced(kind: str, costs: list[dict[str, str]]) -> tuple[Row, str]:
    """Low, likely and high price of all parts, and their currency; none where one is not known or they are in two."""
    keys = [(one, "cost_{}") for one in costs] + ([(costs[0], "second_{}")] if kind == "spare" else [])
    currencies = {one["currency"] for one in costs}
    price: Row = {}
    for name in MONEY:
        given = [one[key.format(name)] for one, key in keys]
        known = len(currencies) == 1 and all(given)
        price[f"cost_{name}"] = sum(map(float, given)) if known else None
    return price, currencies.pop() if len(currencies) == 1 else ""


def against(row: Row, first: Row | None) -> str:
    """Price and lateness beside those of the first route alone."""
    if first is None or row.get("expected_total") is None or first.get("expected_total") is None:
        return "price and lateness are not known"
    if row["currency"] != first["currency"]:
        return "in another currency than the first route"
    more = row["expected_total"] - first["expected_total"]
    word = "more" if more >= 0.0 else "less"
    return f"price and lateness {abs(more):,.0f} {row['currency']} {word} than with the route {first['route']} alone"


def if_failed(failures: Iterable[dict[str, str]], route: str) -> str:
    """What each failed examination of a route means, in words."""
    said = [
        f"{one['examination']}: {one['remedy']}, {100.0 * float(one['chance']):.3g} % likely, {float(one['added_d']):.0f} d later,"
        f" ready by {one[f'{READY}_if_failed']} with {WITH}, outage missed with"
        f" {chance(float(one['chance_missed_if_failed']))} instead of {chance(float(one['chance_missed_if_passed']))}"
        for one in failures
        if one["route"] == route
    ]
    return "; ".join(said)
