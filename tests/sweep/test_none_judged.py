"""A sweep of which no design can be judged: the front says so, and the picture is drawn."""

import json
import shutil

import pytest

from analysis.pictures.front import front
from analysis.sweep.front import judge, why_none
from analysis.tables.files import write_csv, write_json
from tests.summaries import a_summary

COLUMNS = ["id", "width_in", "mass_kg", "min_margin", "governing", "feasible", "reason"]
FIT = "pin plate tension: bore more than 1 mm larger than the pin (D5.2)"


def row(number, reason, margin=None, feasible=False):
    return {
        "id": f"d{number:06d}",
        "width_in": 14.0,
        "mass_kg": 2000.0 + number,
        "min_margin": margin,
        "governing": "",
        "feasible": feasible,
        "reason": reason,
    }


@pytest.fixture
def folder(tmp_path):
    (tmp_path / "as-written").mkdir()
    shutil.copy("params/arms/sluice-crank.yaml", tmp_path / "as-written" / "arm.yaml")
    written = a_summary(mass_kg=2100.0, mesh_margin=0.2, hand_margin=0.3)
    write_json(tmp_path / "as-written" / "summary.json", written)
    write_csv(tmp_path / "sweep" / "chosen.csv", COLUMNS, [])
    return tmp_path


def test_the_answer_names_what_most_designs_fail_by(folder):
    write_csv(folder / "sweep" / "designs.csv", COLUMNS, [row(0, FIT), row(1, FIT), row(2, "hub wall")])
    judge(folder)
    best = json.loads((folder / "sweep" / "recommended.json").read_text())
    assert best == {
        "id": None,
        "reason": f"none of 3 swept designs can be built and judged: {FIT} (2 of them)",
    }
    front(folder, folder / "sweep" / "front.png")
    assert (folder / "sweep" / "front.png").stat().st_size > 5000


def test_designs_that_all_fail_by_hand():
    table = [row(0, "hub wall", ""), row(1, "net section fails", "-0.5"), row(2, "net section fails", "-0.4")]
    table = [{**one, "feasible": "no"} for one in table]
    assert why_none(table) == "none of 2 swept designs holds by hand: net section fails (2 of them)"
