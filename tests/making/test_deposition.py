"""Wire, hours and days against closed forms; pieces on cells against trying every way."""

from __future__ import annotations

import itertools

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from analysis.making.pieces.deposition import on_cells, too_large, with_pieces, work
from params.schema.wire import wire_rate
from tests.making.files import demo
from tests.published import case
from tests.reference.bead import bead_section

POUND = 0.45359237  # kg, exact
ABOUT = 0.10  # "about" in common practice: a tenth


def test_rate_and_bead_of_a_wire() -> None:
    """1.2 mm wire at 8 m/min; travel 0.5 m/min."""
    assert wire_rate(1.2, 8000.0) == pytest.approx(case("G042").expected, abs=float(case("G042").tolerance))
    assert bead_section(1.2, 8000.0, 500.0) == pytest.approx(
        case("G043").expected, abs=float(case("G043").tolerance)
    )


def test_pounds_a_week() -> None:
    """About 1,000 lb a week for a cell that runs day and night; common practice, no source."""
    given_cell = demo("deposited").deposition
    assert given_cell is not None
    assert work(given_cell, 1000.0 * POUND).days == pytest.approx(7.0, rel=ABOUT)


def test_four_weeks_in_parallel_not_six() -> None:
    """4,000 lb about four weeks, 2,000 lb about two, on two cells four, on one six; common practice, no source."""
    given_cell = demo("deposited").deposition
    assert given_cell is not None
    days = [work(given_cell, mass * POUND).days for mass in (4000.0, 2000.0)]
    assert days == pytest.approx([28.0, 14.0], rel=ABOUT)
    assert on_cells(days, 2).days == pytest.approx(28.0, rel=ABOUT)
    assert on_cells(days, 1).days == pytest.approx(42.0, rel=ABOUT)
    assert on_cells(days, 1).cell == (0, 0)


def test_work_of_a_piece_by_hand() -> None:
    """100 kg at 4.05 kg/h: 24.69 h of arc, at duty 0.667 37.02 h of the clock, 1.5425 d; wire 100/0.95 kg."""
    given_cell = demo("deposited").deposition
    assert given_cell is not None
    actual = work(given_cell, 100.0)
    assert actual.arc_hours == pytest.approx(24.69, abs=0.005)  # last digit of the hand calculation
    assert actual.days == pytest.approx(1.5425, abs=0.0005)
    assert actual.wire_kg == pytest.approx(105.26, abs=0.005)


def test_where_longest_first_is_not_least() -> None:
    """3, 3, 2, 2, 2 on two: longest first takes 7, the least is 6 (Graham 1969, from memory)."""
    actual = on_cells([3.0, 3.0, 2.0, 2.0, 2.0], 2)
    assert actual.days == pytest.approx(6.0, abs=1e-9)
    assert actual.is_least


@settings(max_examples=25)
@given(st.lists(st.integers(1, 30), min_size=1, max_size=7), st.integers(1, 3))
def test_no_way_is_shorter(days: list[int], cells: int) -> None:
    ways = itertools.product(range(cells), repeat=len(days))
    least = min(
        max(sum(d for d, c in zip(days, way, strict=True) if c == cell) for cell in range(cells))
        for way in ways
    )
    actual = on_cells([float(day) for day in days], cells)
    assert actual.days == pytest.approx(least, abs=1e-9)
    loads = [sum(d for d, c in zip(days, actual.cell, strict=True) if c == cell) for cell in range(cells)]
    assert max(loads) == pytest.approx(actual.days, abs=1e-9)


def test_many_pieces_within_the_bound() -> None:
    """Longest first is at most 4/3 - 1/(3m) of the least, which is no less than the mean load or the longest piece."""
    days = [float(1 + (7 * number) % 13) for number in range(40)]
    actual = on_cells(days, 3)
    least = max(sum(days) / 3.0, *days)
    assert least <= actual.days <= (4.0 / 3.0 - 1.0 / 9.0) * least
    assert not actual.is_least


def test_route_with_its_pieces() -> None:
    """Two pieces on two cells: the heavier one sets the likely days; low and high keep their ratio."""
    route = demo("deposited")
    assert route.deposition is not None
    old, new = route.tasks["deposit"], with_pieces(route, [1200.0, 900.0]).tasks["deposit"]
    assert new.likely == pytest.approx(work(route.deposition, 1200.0).days, rel=1e-12)
    assert new.low / new.likely == pytest.approx(old.low / old.likely, rel=1e-12)
    assert new.high / new.likely == pytest.approx(old.high / old.likely, rel=1e-12)
    assert with_pieces(route, [1200.0, 900.0]).tasks["join"] == route.tasks["join"]
    assert with_pieces(demo("cast"), [1200.0]) == demo("cast")


def test_piece_that_no_cell_carries() -> None:
    faults = too_large(demo("deposited"), [900.0, 2600.0])
    assert [fault.value for fault in faults] == ["piece 2: 2,600 kg"]
    assert faults[0].limit == "at most 2,500 kg"


def test_piece_that_no_cell_carries_in_pounds() -> None:
    """1 lb = 0.45359237 kg, exact: 2600 kg = 5732.02 lb, 2500 kg = 5511.56 lb."""
    (fault,) = too_large(demo("deposited"), [900.0, 2600.0], "us")
    assert (fault.value, fault.limit) == ("piece 2: 5,732 lb", "at most 5,512 lb")
