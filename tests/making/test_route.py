"""Route and outage files: the demos, and every message for a file at fault."""

from __future__ import annotations

import datetime
import re
from pathlib import Path

import pytest

from analysis.making.dates.plan import plan
from params.files.read import read_material
from params.files.readroute import read_outage, read_route
from params.rules.route import reach
from params.schema.schedule import Calendar
from params.steps.problems import ParameterError
from tests.making.files import PARAMS, demo, demo_outage, route_of, task

FIGURE = re.compile(
    r"\d+(\.\d+)? (mm|m|m/min|kg|t|kg/h|d|deg|degC|h|EUR\S*)\b|: \d+(\.\d+)?\b|\d{4}-\d{2}-\d{2}"
)
SOURCES = re.compile(r"#.*(invented for the demo|no source|from memory|closed form|every day)")


@pytest.mark.parametrize("path", [*(PARAMS / "routes").glob("*.yaml")], ids=lambda path: path.stem)
def test_every_figure_has_its_source(path: Path) -> None:
    """On its line, or on the line of the key that opens its block (calendars)."""
    block = ""
    for line in path.read_text().splitlines():
        if re.match(r"[a-z_]+:", line):
            block = line
        body = line.split("#")[0]
        if FIGURE.search(body):
            assert SOURCES.search(line) or (block.startswith("calendars") and SOURCES.search(block)), line


def test_three_routes_and_their_materials() -> None:
    files = sorted((PARAMS / "routes").glob("*.yaml"))
    assert {path.stem for path in files} >= {"cast", "deposited", "welded"}
    for path in files:
        route = read_route(path)
        assert {read_material(material).form for material in route.materials} == {route.form}


def test_weeks_of_the_deposited_route() -> None:
    """Deposition about 4 weeks, built with joining, stress relief and radiography about 12, delivered about 16; common
    practice, no source. About: half a week, one week, one and a half."""
    route, outage = demo("deposited"), demo_outage()
    result = plan(route, outage)
    names = list(route.tasks)
    weeks = {name: float((result.risk.finish[number]).mean()) / 7.0 for number, name in enumerate(names)}
    deposit = names.index("deposit")
    assert (result.early.finish[deposit] - result.early.start[deposit]) / 7.0 == pytest.approx(4.0, abs=0.5)
    assert weeks["repair"] == pytest.approx(12.0, abs=1.0)
    assert weeks["ship"] == pytest.approx(16.0, abs=1.5)


def test_units_of_a_route() -> None:
    route = demo("deposited")
    assert (
        route.deposition is not None and route.deposition.torch is not None and route.limits.bead_width == 8.0
    )
    assert route.deposition.torch.feed == pytest.approx(8000.0)  # mm/min
    assert route.deposition.reach_radius == pytest.approx(1600.0)
    assert demo("welded").limits.largest_mass == pytest.approx(12_000.0)
    assert demo("cast").limits.draft == pytest.approx(0.0349066, abs=1e-7)  # 2 deg
    assert route.calendars["shop"].holidays[0] == (datetime.date(2026, 12, 24), datetime.date(2027, 1, 3))


def test_a_fourth_route_is_a_further_file(tmp_path: Path) -> None:
    path = tmp_path / "welded-at-hand.yaml"
    path.write_text(
        (PARAMS / "routes" / "welded.yaml").read_text().replace("name: welded", "name: welded-at-hand")
    )
    assert read_route(path).name == "welded-at-hand"


# What is changed in which demo, and what the message must say.
FAULTS = [
    (
        "welded",
        "after: [cut]",
        "after: [cutt]",
        "tasks.fit.after: cutt, is not a task of this file, one of agree",
    ),
    (
        "welded",
        "after: [cut]",
        "after: [ship]",
        "measure -> paint -> ship -> fit, these tasks wait for each other in a circle",
    ),
    (
        "welded",
        "after: [cut]",
        "after: [fit]",
        "tasks.fit.after: fit -> fit, these tasks wait for each other in a circle",
    ),
    (
        "welded",
        "calendar: mill",
        "calendar: mine",
        "tasks.plate.calendar: mine, is not a calendar of this file",
    ),
    ("welded", "causes: [welding]", "causes: [wellding]", "did you mean welding?"),
    (
        "welded",
        "low: 30 d",
        "low: 300 d",
        "tasks.plate: 300, 42, 70 d, low, likely and high are out of order",
    ),
    ("welded", "low: 30 d", "low: 30", "tasks.plate.low: 30, has no unit"),
    ("welded", "low: 30 d", "low: -1 d", "tasks.plate.low: -1 d, is negative"),
    ("welded", "chance: 0.3", "chance: 1.3", "tasks.repair.chance: 1.3, is too large, at most 1"),
    ("welded", "weight: 0.3", "weight: 0.8", "weights add up to more than 1"),
    (
        "welded",
        "fri, sat], holidays: [2026-12-24",
        "fri, fri], holidays: [2026-12-24",
        "calendars.mill.days: names a day twice",
    ),
    ("welded", "2027-05-06", "2027-02-30", "2027-02-30, is not a date of the calendar"),
    ("welded", "2027-05-06", "2027-05-06 to 2027-05-01", "ends before it begins"),
    ("welded", "2027-05-06", "2027-05-06 to 2037-05-01", "is too long, at most 400 days"),
    (
        "welded",
        "a709-hps-70w",
        "a148-80-50",
        "materials: a148-80-50, has the form cast, a material of the form plate",
    ),
    ("welded", "a709-hps-70w", "a709", "materials: a709, is not the name of a material file"),
    (
        "welded",
        "per_day: 20000 EUR/d",
        "per_day: 20000 USD/d",
        "are different currencies, one currency in a file",
    ),
    (
        "welded",
        "per_day: 20000 EUR/d",
        "per_day: 20000 EUR",
        "per_day: 20000 EUR, is an amount without a unit, a price per d",
    ),
    ("welded", "category: 100", "category: 101", "welds.0.category: 101, is not one of the choices"),
    (
        "welded",
        "sections: [i, box]",
        "sections: [i, tube]",
        "limits.sections.1: tube, is not one of the choices",
    ),
    ("welded", "joint: 1.0", "jiont: 1.0", "known keys: casting, across_build, joint, did you mean joint?"),
    ("welded", "name: welded", "name: welds", "differs from the file's name welded"),
    (
        "deposited",
        "rate: 4.05 kg/h",
        "rate: 6 kg/h",
        "differs from wire feed times yield share, within 10% of 4.05 kg/h",
    ),
    ("deposited", "form: deposited", "form: cast", "deposition: is only for the form deposited"),
    ("deposited", "  bead_width: 8 mm", "  # bead_width: 8 mm", "limits.bead_width: is missing"),
    (
        "cast",
        "high: 35 d, causes",
        "high: 35 d, work: deposition, causes",
        "tasks: a task has `work: deposition` and the",
    ),
    ("cast", "days: [mon, tue, wed, thu, fri]", "days: [mon, mon]", "names a day twice"),
    ("cast", "casting: 1.25", "casting: 0.8", "factors.casting: 0.8, is too small, at least 1"),
]


@pytest.mark.parametrize(
    ("name", "old", "new", "message"), FAULTS, ids=[message[:40] for *_, message in FAULTS]
)
def test_message(tmp_path: Path, name: str, old: str, new: str, message: str) -> None:
    text = (PARAMS / "routes" / f"{name}.yaml").read_text()
    assert old in text
    path = tmp_path / f"{name}.yaml"
    path.write_text(text.replace(old, new))
    with pytest.raises(ParameterError) as caught:
        read_route(path)
    lines = str(caught.value).splitlines()
    assert any(message in line for line in lines), lines
    for line in lines:
        assert re.match(rf"{re.escape(str(path))}:\d+: ", line)


def test_tasks_that_take_longer_than_there_are_dates() -> None:
    """500 tasks of 1000 Sundays each: 500 x 1000 x 7 / 365.25 = 9582 years; dates end in the year 9999."""
    sundays = Calendar(days=("sun",))
    one = task(1000, 1000, 1000)
    result = route_of({f"t{k}": one for k in range(500)}, sundays)
    (fault,) = reach(result)
    assert (fault.key, fault.value, fault.limit) == (("tasks",), "9582 years", "at most 500 years")
    assert list(reach(route_of({f"t{k}": one for k in range(20)}, sundays))) == []


def test_message_stands_at_the_line(tmp_path: Path) -> None:
    path = tmp_path / "welded.yaml"
    path.write_text((PARAMS / "routes" / "welded.yaml").read_text().replace("after: [cut]", "after: [cutt]"))
    number = next(n for n, line in enumerate(path.read_text().splitlines(), 1) if "after: [cutt]" in line)
    with pytest.raises(ParameterError, match=rf"welded.yaml:{number}: tasks.fit.after"):
        read_route(path)


@pytest.mark.parametrize(
    ("old", "new", "message"),
    [
        (
            "opens: 2027-06-07",
            "opens: 2027-01-11",
            "opens: 2027-01-11, opens before the part is ordered, after the order on 2027-01-11",
        ),
        (
            "closes: 2027-06-27",
            "closes: 2027-06-01",
            "closes: 2027-06-01, closes before it opens, on 2027-06-07 or later",
        ),
        ("opens: 2027-06-07", "opens: 7 June", "opens: 7 June, is not a date"),
        ("opens: 2027-06-07", "opens: 2327-06-07", "opens: 2327-06-07, is out of range"),
        ("samples: 20000", "samples: 20", "samples: 20, is too small, at least 1000"),
        (
            "distribution: pert",
            "exchange: {EUR: 0.9 EUR}",
            "exchange.EUR: 0.9 EUR, is a rate of a currency to itself",
        ),
        (
            "distribution: pert",
            "exchange: {USD: 0.9 EUR, XTS: 2 XXX}",
            "leads to another currency than the other rates, one currency for all rates",
        ),
        ("distribution: pert", "exchange: {USD: 0 EUR}", "exchange.USD: 0 EUR, is out of range, above 0"),
        ("distribution: pert", "distribution: normal", "distribution: normal, is not one of the choices"),
    ],
)
def test_impossible_outage(tmp_path: Path, old: str, new: str, message: str) -> None:
    path = tmp_path / "early-summer.yaml"
    path.write_text((PARAMS / "outages" / "early-summer.yaml").read_text().replace(old, new))
    with pytest.raises(ParameterError) as caught:
        read_outage(path)
    assert message in str(caught.value)
    assert str(caught.value).count("\n") == 0
