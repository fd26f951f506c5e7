"""The outage as a window: hand-worked chances and waits, rules of the file, and the demo recomputed by a script of its own."""

from __future__ import annotations

import csv
import datetime
from itertools import pairwise
from pathlib import Path

import numpy as np
import pytest

from analysis.making.dates.plan import plan
from analysis.making.dates.table import main, write_dates
from analysis.making.dates.window import Window, window
from analysis.tables.confidence import ORDER, SURE
from params import check
from params.schema.schedule import Outage, next_window
from tests.making.files import ORIGIN, PARAMS, outage_of, route_of, task

DEMO = PARAMS / "outages" / "late-autumn.yaml"
DAY = datetime.timedelta(1)


def stages(*days: float) -> dict[str, dict[str, str]]:
    """Work of fixed days, one stage after the other."""
    return {
        f"s{n}": {"title": "t", **dict.fromkeys(("low", "likely", "high"), f"{d} d")}
        for n, d in enumerate(days)
    }


def opened(work: tuple[float, ...], **more: object) -> Outage:
    """Opens on day 30 for 20 days: closes on day 49, and at the midnight that is 50 days from the order."""
    return outage_of(30, closes=ORIGIN + 49 * DAY, work=stages(*work), samples=1000, **more)


def test_fixed_work_by_hand() -> None:
    """10 days of work in an outage from day 30 to the end of day 49 (midnight 50): the part is needed
    by the end of the day at 40."""
    one = window(opened((4, 3, 2, 1)))
    assert one.span(0) == (30.0, 50.0) and set(one.work) == {10.0} and set(one.due) == {40.0}
    assert one.missed(np.array([0.0, 30.0, 40.0, 41.0, 60.0])).tolist() == [0.0, 0.0, 0.0, 1.0, 1.0]
    assert one.late(np.array([0.0, 40.0, 41.0, 60.0])).tolist() == [0.0, 0.0, 1.0, 20.0]


def test_wait_for_the_next_window_by_hand() -> None:
    """Missed: the wait is from opening to opening, 365 days where the file names none; 400 where the next opens on day 430.
    Ready only on day 600, after that one: a year more, 2028-03-09 to 2029-03-09 being 365 days."""
    yearly = window(opened((10,), missed="next window"))
    assert yearly.late(np.array([40.0, 41.0])).tolist() == [0.0, 365.0]
    named = window(opened((10,), missed="next window", next_opens=ORIGIN + 430 * DAY))
    assert named.late(np.array([40.0, 41.0, 600.0])).tolist() == [0.0, 400.0, 765.0]


def test_work_that_varies_by_hand() -> None:
    """Drawn 8, 8, 10 and 12 days, a quarter each. There at 41, nine days are left: half miss, by 0, 0, 1 and 3 days, mean 1.
    Waiting: half of 365 days, for in the next outage of 20 days all fit."""
    drawn = np.array([8.0, 8.0, 10.0, 12.0])
    one = Window(opened((10,)), drawn)
    at = np.array([41.0])
    assert (one.missed(at)[0], one.late(at)[0]) == pytest.approx((0.5, 1.0))
    assert one.fits(np.array([-1.0, 7.0, 8.0, 9.0, 10.0, 12.0, 99.0])).tolist() == [
        0,
        0,
        0.5,
        0.5,
        0.75,
        1,
        1,
    ]
    assert Window(opened((10,), missed="next window"), drawn).late(at)[0] == pytest.approx(182.5)
    short = outage_of(30, closes=ORIGIN + 40 * DAY, work=stages(10), samples=1000)  # 11 days: 12 never fit
    assert Window(short, drawn).due.tolist() == [33.0, 33.0, 31.0, -np.inf]
    assert Window(short, drawn).missed(np.array([0.0]))[0] == pytest.approx(0.25)


def test_a_short_outage_is_missed_again_and_again() -> None:
    """11 days each year and work of 12 in one draw of four: 1/4 x 365 + 1/16 x 366 (a 29 February between)
    + 1/64 x 365..."""
    drawn = np.array([8.0, 8.0, 10.0, 12.0])
    one = outage_of(30, closes=ORIGIN + 40 * DAY, work=stages(10), samples=1000, missed="next window")
    gaps, expected = [365, 366, 365, 365, 365, 366, 365, 365], 0.0  # from 2027-02-03 on
    for number, gap in enumerate(gaps, 1):
        expected += gap / 4.0**number
    assert Window(one, drawn).late(np.array([0.0]))[0] == pytest.approx(expected, abs=0.01)  # 4^-9 x 366


def test_without_work_the_part_must_be_there_before_it_opens() -> None:
    one = window(outage_of(30, samples=1000))
    assert one.missed(np.array([30.0, 31.0])).tolist() == [0.0, 1.0]
    assert one.late(np.array([30.0, 33.0])).tolist() == [0.0, 3.0]


def test_ten_days_to_install_and_a_years_wait() -> None:
    """Ready for sure at 41, ten days of work, 2 a day: a day late costs 2, the wait for the next outage 730."""
    route = route_of({"a": task(41, 41, 41)})
    rate = route.lateness.model_copy(update={"once": None, "per_day": route.lateness.per_day})
    assert rate.per_day is not None and rate.per_day.amount == 20_000.0  # EUR a day, the demo's
    for missed, days in (("days", 1.0), ("next window", 365.0)):
        result = plan(route, opened((10,), missed=missed))
        assert result.window.late(result.outcome.ready)[0] == days
        assert result.needed_by == 40.0 and result.due.start.min() == -1.0  # one day too late to order


LATE = {
    "work": (
        ("high: 6 d}", "high: 6 d}\n  more: {title: m, low: 26 d, likely: 26 d, high: 26 d}"),
        "36 d of work",
    ),
    "closes": (("closes: 2026-12-06", "closes: 2026-11-01"), "closes before it opens"),
    "next_opens": (("next_opens: 2027-11-01", "next_opens: 2026-12-06"), "is not after this outage"),
    "next_closes": (("next_closes: 2027-12-05", "next_closes: 2027-11-09"), "is longer than the next outage"),
    "work.align": (("low: 1 d, likely: 2 d, high: 4 d", "low: 3 d, likely: 2 d, high: 4 d"), "out of order"),
}


@pytest.mark.parametrize("key", LATE)
def test_an_outage_that_cannot_be_is_one_line(key: str, tmp_path: Path, capsys) -> None:
    (old, new), words = LATE[key]
    text = DEMO.read_text()
    assert old in text
    path = tmp_path / "late-autumn.yaml"
    text = text.replace(old, new)
    if key == "work":  # the next outage, as long as this one, is then told too
        text = text[: text.index("next_opens")] + text[text.index("samples") :]
    path.write_text(text)
    assert check.main([str(path)]) == 1
    lines = [line for line in capsys.readouterr().err.splitlines() if line]
    assert len(lines) == 1 and words in lines[0] and f": {key}: " in lines[0]


def test_check_says_what_the_work_takes(tmp_path: Path) -> None:
    assert "  work in the outage 6 to 18 d, likely 10 d, in an outage of 35 d" in check.report(DEMO)
    path = tmp_path / "late-autumn.yaml"
    path.write_text(DEMO.read_text().replace("closes: 2026-12-06", "closes: 2026-11-12"))  # 11 days
    assert "in an outage of 11 d; at its longest it does not fit" in check.report(path)


def test_leap_day() -> None:
    one = outage_of(30).model_copy(
        update={"opens": datetime.date(2028, 2, 29), "closes": datetime.date(2028, 3, 4)}
    )
    assert next_window(one) == (datetime.date(2029, 2, 28), datetime.date(2029, 3, 4))


@pytest.fixture(scope="module")
def demo_tables(tmp_path_factory: pytest.TempPathFactory) -> dict[str, list[dict[str, str]]]:
    folder = tmp_path_factory.mktemp("window")
    routes = [PARAMS / "routes" / f"{name}.yaml" for name in ("cast", "deposited", "welded")]
    write_dates(routes, DEMO, folder)
    found = {}
    for name in ("dates", "ways", "failures", "work"):
        with (folder / f"{name}.csv").open(newline="") as file:
            found[name] = list(csv.DictReader(file))
    return found


# From a script that reads the YAML files by itself, draws 400,000 networks with scipy's beta and numpy's normals, and counts days
# on lists of working days; it imports nothing of this project. Ours are 20,000 draws: one standard error of a chance is 0.0035
# at most.
FAR = 4.5 * 0.0035
ALONE = {
    "cast": ("2026-12-05", "2027-01-05", 0.7258),
    "deposited": ("2026-10-12", "2026-10-23", 0.0),
    "welded": ("2026-11-06", "2026-11-23", 0.0702),
    "cast with a spare": ("2026-12-01", "2026-12-23", 0.6305),
    "welded with a spare": ("2026-11-04", "2026-11-20", 0.0478),
    "cast and welded": ("2026-11-06", "2026-11-21", 0.0512),
}


@pytest.mark.parametrize("name", ALONE)
def test_dates_and_chances_recomputed_outside(name: str, demo_tables) -> None:
    rows = {row["route"]: row for row in demo_tables["dates"]} | {
        row["way"]: row for row in demo_tables["ways"]
    }
    p50, p90, missed = ALONE[name]
    row, day = rows[name], datetime.date.fromisoformat
    assert float(row["chance_missed"]) == pytest.approx(missed, abs=FAR)
    assert abs((day(row["p50_ready"]) - day(p50)).days) <= 1
    assert abs((day(row["p90_ready"]) - day(p90)).days) <= 2  # the cast route's tail is long
    # 364 days from opening to opening; 150,000 EUR once and 20,000 a day
    cost = (150e3 + 20e3 * 364.0) * float(row["chance_missed"])
    assert float(row["expected_cost_of_lateness"]) == pytest.approx(cost, rel=1e-4)


@pytest.mark.parametrize(
    ("route", "remedy", "added", "failed", "passed"),
    [
        ("welded", "repair", 8.17, 0.1439, 0.0384),
        ("cast", "repair", 15.98, 0.8462, 0.4462),
        ("cast", "recast", 64.19, 1.0, 0.7085),
        ("deposited", "repair", 9.33, 0.0, 0.0),
    ],
)
def test_failed_examinations_recomputed_outside(route, remedy, added, failed, passed, demo_tables) -> None:
    (row,) = [one for one in demo_tables["failures"] if one["route"] == route and one["remedy"] == remedy]
    assert float(row["chance_missed_if_failed"]) == pytest.approx(failed, abs=FAR)
    assert float(row["chance_missed_if_passed"]) == pytest.approx(passed, abs=FAR)
    assert float(row["added_d"]) == pytest.approx(added, abs=0.15)


def test_welded_order_dates_recomputed_outside(demo_tables) -> None:
    """The script finds 8.7 % missed with an order a day later and 10.5 % two days later: 2026-06-23 is the last for 90 %, one day
    left. A week later: 17.2 %, and 758,975 EUR more (20,000 draws: 7.43 million EUR times the error of the difference)."""
    row = next(one for one in demo_tables["dates"] if one["route"] == "welded")
    assert (row[ORDER], row[f"float_p{SURE}_d"], row["past"]) == ("2026-06-23", "1", "no")
    assert float(row["chance_missed_week_later"]) == pytest.approx(0.1724, abs=FAR)
    assert float(row["cost_of_a_week"]) == pytest.approx(758_975.0, abs=7.43e6 * FAR / 2.0)
    cast = next(one for one in demo_tables["dates"] if one["route"] == "cast")
    assert cast["past"] == "yes" and float(cast[f"float_p{SURE}_d"]) < 0.0


def test_stages_follow_each_other(demo_tables) -> None:
    """PERT means of the demo: (2 + 4 x 3 + 6)/6, (2 + 12 + 5)/6, (1 + 8 + 4)/6, (1 + 8 + 3)/6 days from the opening on."""
    rows = [row for row in demo_tables["work"] if row["route"] == "deposited"]
    assert [float(row["planned_d"]) for row in rows] == pytest.approx([20 / 6, 19 / 6, 13 / 6, 2.0], rel=1e-5)
    assert rows[0]["start"] == "2026-11-02" and rows[-1]["finish"] == "2026-11-12"  # 10.67 days
    assert all(a["finish"] == b["start"] for a, b in pairwise(rows))


def test_part_that_no_day_of_the_order_brings_in_time(tmp_path: Path) -> None:
    """11 days for 6 to 18 days of work, 10.67 in the mean: it does not fit with more than 10 %, and no day of the order helps."""
    path = tmp_path / "late-autumn.yaml"
    path.write_text(DEMO.read_text().replace("closes: 2026-12-06", "closes: 2026-11-12"))
    assert main([str(PARAMS / "routes" / "welded.yaml"), "--outage", str(path), str(tmp_path)]) == 0
    with (tmp_path / "dates.csv").open(newline="") as file:
        row = next(csv.DictReader(file))
    assert (row[ORDER], row["past"]) == ("", "yes") and row["latest_order_p50"]
