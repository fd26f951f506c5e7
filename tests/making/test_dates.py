"""The command: tables that agree with each other, the same bytes twice, one line for what cannot be."""

from __future__ import annotations

import datetime
import time
from pathlib import Path
from xml.etree import ElementTree

import pytest

from analysis.making.dates.plan import plan
from analysis.making.dates.table import DATES, READY, TASKS, main
from analysis.pictures.gantt import draw_all
from analysis.tables.files import read_csv
from params.steps.caution import CAUTION
from tests.making.files import PARAMS, demo, demo_outage

OUTAGE = PARAMS / "outages" / "early-summer.yaml"
ROUTES = [str(PARAMS / "routes" / f"{name}.yaml") for name in ("cast", "deposited", "welded")]
QUICK = 5.0  # seconds for 20 000 networks, asked for; processor time, since machines have slow spells


@pytest.fixture(scope="module")
def result(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("making")
    assert main([*ROUTES, "--outage", str(OUTAGE), str(folder)]) == 0
    draw_all(folder)
    return folder


def test_columns_and_caution(result: Path) -> None:
    for name, columns in (("tasks", TASKS), ("ready", READY), ("dates", DATES)):
        rows = read_csv(result / f"{name}.csv")
        assert list(rows[0]) == columns
        assert {row["caution"] for row in rows} == {CAUTION}
        assert {row["route"] for row in rows} == {"cast", "deposited", "welded"}


def test_tables_agree(result: Path) -> None:
    """The chance by day, the dates by confidence and the chance of missing the opening tell the same."""
    ready = read_csv(result / "ready.csv")
    for row in read_csv(result / "dates.csv"):
        mine = {one["date"]: float(one["chance_ready"]) for one in ready if one["route"] == row["route"]}
        before = datetime.date.fromisoformat(row["outage_opens"]) - datetime.timedelta(1)
        last = max(day for day in mine if day <= str(before))
        assert mine[last] == pytest.approx(float(row["chance_ready"]), abs=1e-6)  # six digits in tables
        assert float(row["chance_ready"]) + float(row["chance_missed"]) == pytest.approx(1.0, abs=1e-5)
        assert list(mine.values()) == sorted(mine.values())
        assert list(mine.values())[-1] == 1.0
        for share in (50, 80, 90):
            assert mine[row[f"p{share}_ready"]] >= share / 100.0
            assert (
                mine.get(
                    str(datetime.date.fromisoformat(row[f"p{share}_ready"]) - datetime.timedelta(1)), 0.0
                )
                < share / 100.0
            )
        assert row["shortest_ready"] <= row["planned_ready"] <= row["p90_ready"]
        assert row["latest_order_p90"] <= row["latest_order_p80"] <= row["latest_order_p50"]


def test_cost_of_lateness(result: Path) -> None:
    """Mean days late are the sum over days from the opening on of the chance not to be ready when they begin; the demo
    asks 150000 EUR once and 20000 EUR a day."""
    ready = read_csv(result / "ready.csv")
    for row in read_csv(result / "dates.csv"):
        mine = {one["date"]: float(one["chance_ready"]) for one in ready if one["route"] == row["route"]}
        day, late = datetime.date.fromisoformat(row["outage_opens"]), 0.0
        while (before := str(day - datetime.timedelta(1))) < max(mine):
            late += 1.0 - mine.get(before, 0.0)
            day += datetime.timedelta(1)
        assert float(row["mean_late_d"]) == pytest.approx(
            late, abs=1e-3
        )  # six digits in tables, some hundred days
        wanted = 150_000.0 * float(row["chance_missed"]) + 20_000.0 * late
        assert float(row["expected_cost_of_lateness"]) == pytest.approx(wanted, abs=30.0)
        assert row["currency"] == "EUR"


def test_planned_dates_follow_each_other(result: Path) -> None:
    rows = read_csv(result / "tasks.csv")
    for row in rows:
        for before in (
            one for one in rows if one["route"] == row["route"] and one["task"] in row["after"].split()
        ):
            if row["early_start"] and before["early_finish"]:
                assert before["early_finish"] <= row["early_start"]  # on one day where a mean ends within it
                assert before["late_finish"] <= row["late_start"]
        if row["early_start"]:
            assert row["early_finish"] <= row["late_finish"]
            if float(row["total_float_d"]) in (0.0, 1.0) or float(row["total_float_d"]) > 1.0:
                assert (row["early_finish"] == row["late_finish"]) == (float(row["total_float_d"]) == 0.0)
    last = {row["route"]: row["early_finish"] for row in rows}
    assert last == {row["route"]: row["planned_ready"] for row in read_csv(result / "dates.csv")}


def test_same_bytes_twice(result: Path, tmp_path: Path) -> None:
    assert main([*ROUTES, "--outage", str(OUTAGE), str(tmp_path)]) == 0
    draw_all(tmp_path)
    names = sorted(path.name for path in result.iterdir() if path.is_file())
    assert names == [
        "dates.csv",
        "failures.csv",
        "gantt-cast.svg",
        "gantt-deposited.svg",
        "gantt-welded.svg",
        "ready.csv",
        "tasks.csv",
        "ways.csv",
        "work.csv",
    ]
    for name in names:
        assert (tmp_path / name).read_bytes() == (result / name).read_bytes(), name


def test_picture_shows_outage_tasks_and_caution(result: Path) -> None:
    text = (result / "gantt-welded.svg").read_text()
    drawn = [one.text or "" for one in ElementTree.fromstring(text).iter("{http://www.w3.org/2000/svg}text")]
    assert CAUTION in " ".join(drawn)  # on two lines
    planned = next(r["planned_ready"] for r in read_csv(result / "dates.csv") if r["route"] == "welded")
    for words in (
        "outage",
        "Tested plate rolled and delivered",
        "Repair of welds (30\u00a0% likely)",
        f"planned ready {planned}",
    ):
        assert words in text
    assert "<dc:date>" not in text


@pytest.mark.parametrize("name", ["cast", "deposited", "welded"])
def test_quick_enough(name: str) -> None:
    route, outage = demo(name), demo_outage()
    assert outage.samples >= 20_000
    began = time.process_time()
    plan(route, outage)
    assert time.process_time() - began < QUICK


def test_outage_that_no_route_can_meet(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """One line with file and line; the row is written all the same."""
    path = tmp_path / "early-summer.yaml"
    path.write_text(OUTAGE.read_text().replace("opens: 2027-06-07", "opens: 2027-02-01"))
    assert main([ROUTES[1], "--outage", str(path), str(tmp_path)]) == 0
    lines = capsys.readouterr().err.splitlines()
    assert len(lines) == 1
    assert lines[0].startswith(
        f"{path}:5: opens: 2027-02-01, deposited: even if every task takes its shortest time"
    )
    row = read_csv(tmp_path / "dates.csv")[0]
    assert float(row["chance_ready"]) == 0.0
    assert row["note"].endswith(row["shortest_ready"])


def test_file_at_fault(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "welded.yaml"
    path.write_text(Path(ROUTES[2]).read_text().replace("after: [cut]", "after: [ship]"))
    assert main([str(path), "--outage", str(OUTAGE), str(tmp_path)]) == 1
    lines = capsys.readouterr().err.splitlines()
    assert len(lines) == 1 and "wait for each other" in lines[0]
    assert not (tmp_path / "dates.csv").exists()


def test_pieces(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Lighter pieces are ready sooner, in deposited routes only; one that is too heavy is told."""
    outage, pieces = tmp_path / "early-summer.yaml", tmp_path / "pieces.csv"
    outage.write_text(OUTAGE.read_text().replace("samples: 20000", "samples: 1000"))
    pieces.write_text("piece,deposit_mass_kg\nhub,800\narm,700\n")
    assert main([*ROUTES, "--outage", str(outage), "--pieces", str(pieces), str(tmp_path)]) == 0
    light = {row["route"]: row["planned_ready"] for row in read_csv(tmp_path / "dates.csv")}
    assert main([*ROUTES, "--outage", str(outage), str(tmp_path)]) == 0
    usual = {row["route"]: row["planned_ready"] for row in read_csv(tmp_path / "dates.csv")}
    assert light["deposited"] < usual["deposited"]
    assert (light["cast"], light["welded"]) == (usual["cast"], usual["welded"])
    pieces.write_text("piece,deposit_mass_kg\nhub,2800\n")
    assert main([*ROUTES, "--outage", str(outage), "--pieces", str(pieces), str(tmp_path)]) == 1
    assert "limits.largest_mass: piece 1: 2,800 kg, is too heavy, at most 2,500 kg" in capsys.readouterr().err
