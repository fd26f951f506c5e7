"""Toughness in the requirement sheet: specified, asked for at purchase, and what the acceptance sizes rest on."""

from __future__ import annotations

from analysis.package.sheets import charpy
from tests.arms import changed, demo
from tests.package.made import said, seen


def rows(arm, shown):
    return dict(charpy(said(arm, shown)))


def test_specified_and_assumed_toughness() -> None:
    """The demo's wire: 68 J at -51 degC by its specification (published G034); its fracture check takes 90 ft lbf = 122 J."""
    arm = demo("linkspan-rocker")
    actual = rows(arm, seen("bench-lever"))  # the views' figures are not looked at
    assert actual["Charpy V, mean of three, at least"] == "68 J at -51 °C"
    assert actual["Charpy V on which the acceptance sizes rest, mean of three, at least"] == "122 J at -20 °C"
    assert len(actual) == 2


def test_asked_for_at_purchase() -> None:
    """Plate whose specification has no Charpy: the buyer's requirement, marked as such; once where the check rests on it."""
    arm = demo("bench-lever")
    actual = rows(arm, seen("bench-lever"))
    text = actual["Charpy V asked for at purchase, mean of three, at least"]
    assert text.startswith("27 J at -30 °C; supplementary requirement of the buyer: ")
    assert text.endswith("invented for the demo, to be agreed with the mill")
    assert actual["Charpy V on which the acceptance sizes rest, mean of three, at least"] == "40 J at 0 °C"
    assert arm.cracks is not None
    tough = arm.cracks.toughness
    point = tough.charpy[0].model_copy(update={"energy": 27.0, "temperature": -30.0})
    same = changed(arm, cracks__toughness=tough.model_copy(update={"charpy": (point,)}))
    assert len(rows(same, seen("bench-lever"))) == 1


def test_nothing_known() -> None:
    facts = said(changed(demo("bench-lever"), cracks=None), seen("bench-lever"))
    facts["material"] |= {"charpy": None, "supplementary": None}
    assert charpy(facts) == [["Charpy V", "the specification asks for none; agree it with the owner"]]
