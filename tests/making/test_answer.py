"""The answer in sentences and the table of choices, from tables whose figures are set by hand."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from analysis.making.decision import answer, decision
from analysis.tables.files import read_csv, write_json
from params.steps.caution import CAUTION
from params.steps.sealed import write_text
from tests.making.test_decision import tables
from tests.summaries import a_summary

SIZES = {"depth_at_hub": 600.0, "width": 240.0}


@pytest.fixture
def arm(tmp_path: Path) -> Path:
    """The linkspan rocker: cast and deposited hold, welded does not; 1,718 kg is the deposited one."""
    folder = tables(tmp_path / "linkspan-rocker")
    decision.main(folder)
    written = a_summary(mass_kg=1807.0, sizes_mm=SIZES, hand_margin=0.2, mesh_margin=-0.1)
    write_json(folder / "as-written" / "summary.json", written)
    for route, mass in (("cast", 2231.0), ("deposited", 1718.0), ("welded", 1949.0)):
        best = a_summary(
            mass_kg=mass, sizes_mm=SIZES, hand_margin=0.07, governing="rupture", mesh_margin=0.09, explain=()
        )
        write_json(folder / "making" / route / "best" / "summary.json", best)
    write_json(folder / "sweep" / "recommended.json", {"id": None, "reason": "none holds"})
    return folder


def test_before_a_choice_the_first_route_is_recommended_with_its_reason(arm: Path) -> None:
    answer.main(arm)
    told = json.loads((arm / "making" / "answer.json").read_text())
    text = " ".join(told["lines"])
    dates = {row["route"]: row for row in read_csv(arm / "making" / "dates.csv")}["deposited"]
    for words in (
        "Nothing is chosen yet. Recommended: order linkspan-rocker, design d000002, by the route deposited in m:",
        "depth at hub 600",
        "width 240",
        " mm; 1,718 kg.",
        "Least margin +7.0 %: rupture (hand); +5 % is wanted.",
        f"Ready by {dates['p90_ready']} with 90 % confidence if ordered on 2026-06-22; order by {dates['latest_order_p90']}",
        "Likely price 92,416 EUR",  # as test_decision reckons it by hand
        "Why it comes first: stays first until",
    ):
        assert words in text
    assert told["open"][0].startswith(
        "the choice: `python -m analysis.adopt linkspan-rocker deposited --reason"
    )
    assert any("rest on one mesh, without a band" in line for line in told["open"])
    assert told["caution"] == CAUTION


def test_all_choices_stand_in_one_table_the_recommended_first(arm: Path) -> None:
    answer.main(arm)
    rows = read_csv(arm / "making" / "choices.csv")
    assert [row["choice"] for row in rows] == [
        "recommended",
        "other route",
        "other route",
        "as written",
        "two routes",
        "spare",
        "spare",
        "keep the old arm until the next window",
        "keep the cracked arm",
    ]
    by = {row["choice"]: row for row in rows}
    assert by["recommended"]["route"] == "deposited" and by["recommended"]["holds"] == "yes"
    assert (by["as written"]["least_margin"], by["as written"]["holds"]) == ("-0.1", "no")
    assert all(row["why"] and row["caution"] == CAUTION for row in rows)


def test_a_route_in_the_file_is_what_is_ordered(arm: Path) -> None:
    path = arm / "as-written" / "arm.yaml"
    path.write_text(path.read_text().replace("\nroutes:", "\nroute: cast\nroutes:"))
    answer.main(arm)
    told = json.loads((arm / "making" / "answer.json").read_text())
    assert told["lines"][0].startswith("Order linkspan-rocker, revision A, by the route cast in er100s-1:")
    assert "1,807 kg" in told["lines"][0] and "-10.0 %" in told["lines"][1].replace("\u2212", "-")
    assert not any(line.startswith("the choice") for line in told["open"])
    assert any("2026-06-22 is later than the latest for 90 % confidence" in line for line in told["open"])
    assert read_csv(arm / "making" / "choices.csv")[0]["choice"] == "as written"


def test_no_route_that_holds_is_no_order(arm: Path) -> None:
    table = arm / "making" / "routes.csv"
    write_text(table, table.read_text().replace(",0.01,", ",-0.01,"))
    decision.main(arm)
    for route in ("cast", "deposited"):
        bad = a_summary(sizes_mm=SIZES, hand_margin=-0.01, mesh_margin=0.09)
        write_json(arm / "making" / route / "best" / "summary.json", bad)
    answer.main(arm)
    told = json.loads((arm / "making" / "answer.json").read_text())
    assert told["lines"] == [
        "No route has a design that has the margin wanted by hand and by mesh: nothing can be ordered yet."
    ]
