"""Working days against numpy's business-day functions and a calendar on the wall."""

from __future__ import annotations

import datetime

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from analysis.making.dates.calendar import WEEK, first_day, laid_out, last_day, span
from params.schema.schedule import Calendar
from tests.making.files import ALL_DAYS, ORIGIN, WEEKDAYS, days

# Easter 2027 is on 28 March (Gauss' rule); the Friday before and the Monday after are off.
EASTER = Calendar.model_validate({"days": WEEKDAYS.days, "holidays": ["2027-03-26", "2027-03-29"]})
ROUNDING = 1e-9  # days


def test_over_easter() -> None:
    """Three days of work from Thursday 25 March: Thursday, Tuesday, Wednesday."""
    origin = datetime.date(2027, 3, 25)
    work = laid_out(EASTER, origin, 30, 30)
    assert last_day(origin, float(work.finish(0.0, 3.0))) == datetime.date(2027, 3, 31)
    assert last_day(origin, float(work.finish(0.0, 1.0))) == datetime.date(2027, 3, 25)
    assert first_day(origin, float(work.begins(1.0))) == datetime.date(2027, 3, 30)
    assert last_day(origin, float(work.ends(5.0))) == datetime.date(2027, 3, 25)
    assert first_day(origin, float(work.latest_start(6.0, 2.0))) == datetime.date(2027, 3, 25)


def test_round_the_clock_is_plain_arithmetic() -> None:
    work = days()
    assert work.finish(2.25, 3.5) == pytest.approx(5.75, abs=ROUNDING)
    assert work.latest_start(5.75, 3.5) == pytest.approx(2.25, abs=ROUNDING)


def test_work_of_no_length_stays_where_it_is() -> None:
    saturday = 5.0
    assert days(WEEKDAYS).finish(saturday, 0.0) == saturday
    assert days(WEEKDAYS).latest_start(saturday, 0.0) == saturday


weeks = st.sets(st.sampled_from(WEEK), min_size=1).map(
    lambda names: tuple(name for name in WEEK if name in names)
)
offs = st.lists(st.integers(0, 300), max_size=8)


@given(weeks, offs, st.integers(0, 200), st.integers(1, 60))
def test_whole_days_as_numpy_counts_them(
    week: tuple[str, ...], off: list[int], start: int, work: int
) -> None:
    holidays = [ORIGIN + datetime.timedelta(number) for number in off]
    given_days = Calendar.model_validate({"days": week, "holidays": [str(day) for day in holidays]})
    laid = laid_out(given_days, ORIGIN, 1500, 1500)
    wall = np.busdaycalendar([name in week for name in WEEK], holidays)
    began = np.datetime64(ORIGIN) + start
    ended = np.busday_offset(began, work - 1, roll="forward", busdaycal=wall)
    finish = float(laid.finish(float(start), float(work)))
    assert np.datetime64(last_day(ORIGIN, finish)) == ended
    assert laid.worked(finish) - laid.worked(float(start)) == pytest.approx(
        np.busday_count(began, ended + 1, busdaycal=wall)
    )
    back = np.busday_offset(ended, -(work - 1), roll="backward", busdaycal=wall)
    assert np.datetime64(first_day(ORIGIN, float(laid.latest_start(finish, float(work))))) == back


@given(weeks, st.floats(0.0, 100.0), st.floats(0.01, 80.0))
def test_backward_undoes_forward(week: tuple[str, ...], start: float, work: float) -> None:
    laid = laid_out(Calendar.model_validate({"days": week}), ORIGIN, 1500, 1500)
    finish = laid.finish(start, work)
    assert laid.worked(laid.latest_start(finish, work)) == pytest.approx(
        float(laid.worked(start)), abs=1e-6
    )  # ties snap by 1e-9
    assert laid.latest_start(finish, work) >= laid.begins(start) - 1e-6


def test_arrays_as_single_numbers() -> None:
    laid, start = days(WEEKDAYS), np.array([0.3, 4.9, 5.5, 6.0])
    together = laid.finish(start, np.array([1.0, 2.0, 3.0, 0.5]))
    alone = [float(laid.finish(one, work)) for one, work in zip(start, (1.0, 2.0, 3.0, 0.5), strict=True)]
    assert together.tolist() == alone


@pytest.mark.parametrize("calendar", [ALL_DAYS, WEEKDAYS, EASTER, Calendar(days=("sun",))])
def test_the_span_holds_the_work(calendar: Calendar) -> None:
    reach = span(400.0, [calendar])
    laid = laid_out(calendar, ORIGIN, reach, reach)
    assert laid.finish(0.0, 400.0) < reach
    assert laid.latest_start(0.0, 400.0) > -reach


def test_a_calendar_without_working_days() -> None:
    shut = Calendar.model_validate({"days": ["mon"], "holidays": ["2026-12-01 to 2027-12-31"]})
    with pytest.raises(ValueError, match="no working day"):
        laid_out(shut, ORIGIN, 10, 10)
