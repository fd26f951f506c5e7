"""Which part a package is of: no two parts share an identification number, and each paper says which it is."""

from __future__ import annotations

from pathlib import Path

from analysis.drawing.arrangement import drawn
from analysis.drawing.ink import Text
from analysis.drawing.sheet import flat
from analysis.package.facts import design_of, number
from analysis.package.requirements import sheet
from analysis.tables.files import write_csv
from tests.arms import demo
from tests.package.made import said, seen


def test_no_two_parts_share_a_number(tmp_path: Path) -> None:
    """As written, two designs of the sweep, and the bests of two routes that happen to have one design number."""
    for route in ("cast", "welded"):
        write_csv(tmp_path / "making" / route / "best.csv", ["id"], [{"id": "d000001"}])
    places = ["as-written", "designs/d000001", "designs/d000002", "making/cast/best", "making/welded/best"]
    arm = demo("linkspan-rocker")
    numbers = [number(arm, tmp_path / place) for place in places]
    assert numbers[0] == "LR-100" and numbers[3] == "LR-100-cast-d000001"
    assert len(set(numbers)) == len(places)
    assert [design_of(tmp_path / place) for place in places] == [
        "",
        "d000001",
        "d000002",
        "d000001",
        "d000001",
    ]
    assert number(demo("bench-lever"), tmp_path / places[1]) == "bench-lever-d000001"  # no number of its own


def test_drawing_and_sheet_say_which_part_it_is() -> None:
    facts = said(demo("bench-lever"), seen("bench-lever"))
    chosen = facts | {"design": "d000007", "number": "bench-lever-welded-d000007"}
    texts = " ".join(
        one.text for one in flat(drawn(chosen, seen("bench-lever")).items) if isinstance(one, Text)
    )
    assert "Design d000007, by the route welded, revision A." in texts
    printed = sheet(chosen)
    assert printed["number"] == "bench-lever-welded-d000007, revision A"
    assert printed["purpose"].startswith(
        "Design d000007, by the route welded, revision A. It replaces bench-lever."
    )
    assert "Lever of a small test bench" not in printed["purpose"]  # the owner's words on the arm as written
    written = sheet(facts)
    assert "Arm as its parameter file has it, by the route welded" in written["purpose"]
