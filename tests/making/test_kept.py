"""The arm in service kept until the next outage: chance, share of its loads and cost of the wait by hand."""

from __future__ import annotations

from pathlib import Path

import pytest

from analysis.making.decision.kept import UNKNOWN, load_limit, until_next
from analysis.tables.files import write_csv

DATES = {"outage_opens": "2026-11-02", "next_opens": "2027-11-01"}
COST = {"route": "welded", "late_per_day": "20000", "currency": "EUR"}
LIMITS = ["crack", "governs", "load_percent", "years", "factor_on_life", "until", "end"]
ROWS = [
    ("a", "yes", 200, "", 2, "", "does not grow"),  # no end: no day
    ("b", "yes", 110, 1.0, 2, "2026-08-01", "too long"),
    ("b", "yes", 80, 4.0, 2, "2027-11-01", "too long"),
    ("b", "yes", 70, 9.0, 2, "2030-01-01", "too long"),
    ("b", "no", 200, 9.0, 2, "2030-01-01", "too long"),  # of a residual stress that does not count
]


def limits(folder: Path, rows=ROWS) -> Path:
    place = folder / "as-written" / "bores" / "load-limit.csv"
    write_csv(place, LIMITS, (dict(zip(LIMITS, row, strict=True)) for row in rows))
    return folder


def test_share_of_the_loads_until_the_next_outage(tmp_path: Path) -> None:
    """Crack b runs to 2027-11-01 at 80 % at most, crack a at any share: 80 %."""
    share, said = load_limit(limits(tmp_path), "2027-11-01")
    assert share == 80.0
    assert said == "may run until 2027-11-01 at up to 80 % of its loads, factor 2 on life"
    assert load_limit(tmp_path, "2031-01-01") == (
        None,
        "crack b may not run until 2031-01-01 even at 70 % of its loads",
    )
    assert load_limit(limits(tmp_path, ROWS[:1]), "2031-01-01")[1].startswith(
        "may run until 2031-01-01 at its full loads"
    )
    assert load_limit(tmp_path / "none", "2027-11-01") == (None, "")


def test_row_of_the_wait(tmp_path: Path) -> None:
    """364 days at 20,000 EUR; the crack with the least chance counts."""
    names = ["crack", "material", "chance_at_next_outage", "next_outage", "years", "end", "status", "note"]
    rows = [
        ("a", "m", 0.9, "2027-11-01", 3.0, "", "ok", ""),
        ("b", "m", 0.35, "2027-11-01", 2.0, "", "ok", ""),
    ]
    place = tmp_path / "as-written" / "bores" / "cracks.csv"
    write_csv(place, names, (dict(zip(names, row, strict=True)) for row in rows))
    row = until_next(limits(tmp_path), DATES, COST)
    assert (row["chance_of_lasting"], row["load_limit_percent"]) == (0.35, 80.0)
    assert row["expected_cost_of_lateness"] == pytest.approx(364.0 * 20_000.0)
    assert "crack b, chance of lasting to 2027-11-01; lasts 2.0 years" in row["note"]
    assert "364 d at the daily cost of lateness of the route welded" in row["note"]


def test_without_the_bores_nothing_is_known(tmp_path: Path) -> None:
    row = until_next(tmp_path, DATES, None)
    assert row["chance_of_lasting"] == UNKNOWN and row["load_limit_percent"] is None
    assert "expected_cost_of_lateness" not in row
