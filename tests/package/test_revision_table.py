"""The revision table on the sheet, in the manifest's facts: what the arm's file says, over nothing, all of it inside its cells."""

from __future__ import annotations

import datetime

import pytest

from analysis.drawing import revisions
from analysis.drawing.arrangement import drawn
from analysis.drawing.ink import Text
from analysis.drawing.sheet import crossings, flat, meetings
from analysis.package.facts import facts
from params.schema.revised import Revised
from tests.arms import demo
from tests.package.made import NOWHERE, said, seen

LONG = "Crack at the pivot bore found by the yearly examination; deposited, since no foundry is ready before the outage"


def rows(count: int, reason: str = LONG) -> tuple[Revised, ...]:
    return tuple(
        Revised(
            revision="BCDEFGHJ"[index],
            date=datetime.date(2026, 1 + index, 1),
            reason=f"{index}: {reason}",
            by="A. Invented, engineer responsible",
            design=f"deposited-d{index:06d}",
            route="deposited",
        )
        for index in range(count)
    )


def test_without_a_table_the_sheet_has_none() -> None:
    told = said(demo("bench-lever"), seen("bench-lever"))
    assert told["revisions"] == [] and revisions.height(told) == 0.0
    assert "Revisions" not in [
        one.text for one in flat(drawn(told, seen("bench-lever")).items) if isinstance(one, Text)
    ]


@pytest.mark.parametrize("count", [1, 3, 8])
def test_rows_stand_on_the_sheet_and_meet_nothing(count: int) -> None:
    arm = demo("bench-lever").model_copy(update={"revision": "BCDEFGHJ"[count - 1], "revisions": rows(count)})
    told = said(arm, seen("bench-lever"))
    items = list(flat(drawn(told, seen("bench-lever")).items))
    assert [(a.text, b.text) for a, b in meetings(items, items)] == []
    assert [(text.text, line.pen) for text, line in crossings(items, items)] == []
    texts = [one.text for one in items if isinstance(one, Text)]
    assert texts.count("Revisions") == 1
    shown = " ".join(texts)
    there = [row for row in arm.revisions if str(row.date) in texts]
    assert there == list(arm.revisions[-len(there) :]) and there  # the last ones
    for row in there:
        assert row.revision in texts and f"(design {row.design}, route deposited)" in shown
    plain = drawn(said(demo("bench-lever"), seen("bench-lever")), seen("bench-lever"))
    scale = [one.text for one in flat(plain.items) if isinstance(one, Text) and one.text.startswith("1 : ")]
    assert scale and set(scale) <= set(texts)  # the views keep theirs


def test_figures_stay_with_the_owner() -> None:
    """The vendor's facts say what changed, when, why; not what the margins of the former part were."""
    told = facts(
        demo("bench-lever").model_copy(update={"revisions": rows(1)}), seen("bench-lever"), NOWHERE, NOWHERE
    )
    assert set(told["revisions"][0]) == {"revision", "date", "reason", "by", "design", "route"}
