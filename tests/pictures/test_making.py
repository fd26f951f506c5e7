"""Pictures of making are drawn at the size at which the record prints them: every word large enough, on the sheet, apart."""

import shutil
from itertools import combinations

import numpy as np
import pytest
from matplotlib.text import Text

from analysis.making.decision import decision
from analysis.pictures import decision as decision_picture
from analysis.pictures import gantt, view
from analysis.pictures import pieces as pieces_picture
from analysis.pictures.days import MOST, months
from analysis.pictures.sheet import LINE_LETTERS, PRINTED, WIDE
from analysis.tables.files import read_csv, write_csv
from tests.making.test_decision import tables
from tests.pictures.test_arm import hold, words

PAGE = 225.0 / 25.4  # inches: text of an A4 page of the record below its head, and a caption


@pytest.fixture(scope="module")
def folder(tmp_path_factory):
    """Tables of the three demo routes."""
    result = tables(tmp_path_factory.mktemp("making") / "arm")
    decision.main(result)
    return result


@pytest.fixture
def saved(monkeypatch):
    """Figures instead of files."""
    kept = []
    for module in (decision_picture, gantt, pieces_picture, view):
        monkeypatch.setattr(module, "save", lambda figure, _: kept.append(figure))
    return kept


def beyond(figure):
    """Words of ticks beyond the ends of their axis: matplotlib keeps them and does not draw them."""
    for axis in [axis for axes in figure.axes for axis in (axes.xaxis, axes.yaxis)]:
        low, high = sorted(axis.get_view_interval())
        for tick in axis.get_major_ticks():
            if not low - 1e-9 <= tick.get_loc() <= high + 1e-9:
                yield from (tick.label1, tick.label2)


def apart(figure):
    """No word over another, by a pixel of the sheet."""
    renderer, unseen = figure.canvas.get_renderer(), set(beyond(figure))
    boxes = [
        (one.get_text(), Text.get_window_extent(one, renderer)) for one in words(figure) if one not in unseen
    ]
    for (first, one), (second, other) in combinations(boxes, 2):
        both = min(one.x1, other.x1) - max(one.x0, other.x0), min(one.y1, other.y1) - max(one.y0, other.y0)
        assert min(both) <= 1.0, (first, second)


def fits(figure):
    assert figure.get_figwidth() == pytest.approx(WIDE)
    assert figure.get_figheight() <= PAGE + 1e-6
    hold(figure)
    apart(figure)


def drawn(folder, name, tasks, note=""):
    dates = next(row for row in read_csv(folder / "making" / "dates.csv") if row["route"] == name)
    ready = [row for row in read_csv(folder / "making" / "ready.csv") if row["route"] == name]
    gantt.gantt(tasks, ready, dates | {"note": note}, folder / "x.svg")


def tasks_of(folder, name):
    return [row for row in read_csv(folder / "making" / "tasks.csv") if row["route"] == name]


@pytest.mark.parametrize("name", ["cast", "deposited", "welded"])
def test_dates_of_a_route(folder, saved, name):
    drawn(folder, name, tasks_of(folder, name))
    fits(saved[0])


def test_long_names_many_tasks_and_a_note(folder, saved):
    """Fourteen tasks whose names take two lines each still fit a page, as do twenty-eight short ones."""
    long = {"title": "Pieces turned over, measured and examined by ultrasound", "chance": "0.5"}
    tasks = tasks_of(folder, "cast")
    assert len(tasks) == 14
    note = "the outage opens before the shortest path can be finished, by a hundred and thirty working days of the shop"
    drawn(folder, "cast", [row | long for row in tasks], note + "; " + note)
    fits(saved[0])
    message = " ".join(" ".join(one.get_text().split()) for one in words(saved[0]))
    assert message.count("Pieces turned over, measured and examined by ultrasound (50 % likely)") == 14
    assert note in message and len(note) > LINE_LETTERS  # it is not cut off
    drawn(folder, "cast", [row | {"title": "Welded"} for row in tasks * 2])
    fits(saved[1])


def test_routes_beside_each_other(folder, saved):
    decision_picture.draw(folder)
    fits(saved[0])


@pytest.mark.parametrize("count", [1, 3, 5])
def test_many_routes_and_ways_fit_a_page(folder, saved, tmp_path, count):
    """Five routes make ten pairs and five spares: as many as have room are drawn, the cheapest, and the caption counts the rest."""
    shutil.copytree(folder, tmp_path / "arm", ignore=shutil.ignore_patterns(".seals"))
    table = tmp_path / "arm" / "making" / "decision.csv"
    rows = read_csv(table)
    route = next(row for row in rows if row["kind"] == "route") | {"holds": "yes"}
    way = next(row for row in rows if row["kind"] == "two routes")
    letters = "abcde"[:count]
    made = [route | {"route": name, "order": str(at)} for at, name in enumerate(letters, 1)]
    named = [f"{one} and {other}" for one, other in combinations(letters, 2)]
    named += [f"{name} with a spare" for name in letters]
    ways = [way | {"route": name, "expected_total": str(cost)} for cost, name in enumerate(named, 1)]
    write_csv(table, list(rows[0]), [*made, *ways, *(row for row in rows if row["kind"] == "keep")])
    decision_picture.draw(tmp_path / "arm")
    fits(saved[0])
    text = " ".join(" ".join(one.get_text().split()) for one in words(saved[0]))
    drawn = [name for name in named if name in text]
    assert drawn == named[: len(drawn)]  # the cheapest
    left = len(named) - len(drawn)
    assert (f"{left} further way" in text) == (left > 0)


def test_joints_and_pieces(folder, saved, tmp_path):
    rows = [
        {
            "arm": arm,
            "s_mm": str(10.0 * k),
            "stress_used": str(1.2 - 0.1 * k),
            "life_used": str(0.1 * k),
            "allowed": "yes" if 3 < k < 8 else "no",
            "chosen": "yes" if k in (4, 6) else "no",
        }
        for arm in ("input", "output")
        for k in range(10)
    ]
    pieces_picture.joints(folder, "deposited", rows, tmp_path / "joints.png")
    fits(saved[0])
    names = [one.get_text() for one in saved[0].legends[0].get_texts()]
    assert sorted(names) == ["joint", "joint allowed", "life used", "strength used"]  # each once
    pieces_picture.none(
        "deposited", "cannot be split into pieces that fit the cell: 1 t, at most 0.5 t", tmp_path
    )
    fits(saved[1])


def test_words_of_marks_are_apart(saved, tmp_path):
    """Five places in a row close to each other, in the middle and at the right edge."""
    for places in ((700.0, 740.0, 780.0, 820.0, 860.0), (1200.0, 1300.0, 1400.0, 1500.0, 1590.0)):
        marks = [(x, 500.0, f"output-{k}: 416 kg,\n6.4 d on cell 2") for k, x in enumerate(places)]
        view.sheet(
            view.View(np.full((800, 1600, 3), 255, np.uint8), marks), tmp_path / "a.png", "Title", "Told"
        )
        fits(saved[-1])


@pytest.mark.parametrize("days", [40.0, 200.0, 400.0, 1000.0, 3000.0])
def test_months_have_room_and_every_picture_a_year(days, saved):
    figure = view.paper(2.0)
    axes = figure.add_axes(view.room(figure, 0.4, 0.36, 0.6))
    first = gantt.day("2026-06-20")
    axes.set(xlim=(first, first + days), ylim=(0.0, 1.0), yticks=[])
    with view.matplotlib.rc_context(PRINTED):
        months(axes, first, first + days)
        hold(figure)
    apart(figure)
    shown = [one.get_text() for one in axes.get_xticklabels() if one.get_text()]
    assert 1 <= len(shown) <= MOST + 1
    assert any("\n20" in text for text in shown)
