"""A design factor of one load case counts in that case alone: in the checks, in the sweep and in the worked lines."""

from __future__ import annotations

import csv
from pathlib import Path

import numpy as np
import pytest

from analysis.hand import __main__ as hand
from analysis.hand.evaluate import evaluate
from params.files.read import read_arm, read_material
from tests.arms import ARMS

CASE = "jam-extend"


def arm_file(folder: Path, factor: str) -> Path:
    """The bench lever, whose criteria have N_d 2, with a factor of its own for the jam."""
    text = (ARMS / "bench-lever.yaml").read_text()
    old = f"{CASE}: {{kind: blocked,"
    assert old in text
    path = folder / "arm.yaml"
    path.write_text(text.replace(old, f"{old}{factor}"))
    return path


def test_twice_the_factor_uses_twice_as_much_in_that_case_alone(tmp_path: Path) -> None:
    """Checks in proportion to N_d double; those against the peak factor, the deflection and fatigue know no N_d."""
    arms = []
    for factor in ("", " design_factor: 4,"):
        folder = tmp_path / (factor.strip() or "plain")[:5]
        folder.mkdir()
        arms.append(read_arm(arm_file(folder, factor)))
    material = read_material("a572-50")
    before, after = (evaluate(arm, material) for arm in arms)
    case, doubled = list(arms[0].load_cases).index(CASE), 0
    for one, other in zip(before.checked, after.checked, strict=True):
        others = np.delete(np.arange(len(arms[0].load_cases)), case)
        if one.used.shape[1] == 1:
            continue
        assert other.used[:, others] == pytest.approx(one.used[:, others], rel=1e-12), one.clause.check
        if not np.nanmax(one.used[0, case]) > 0.0:  # the jam does not load it
            continue
        ratio = np.nanmax(other.used[0, case]) / np.nanmax(one.used[0, case])
        assert ratio == pytest.approx(1.0) or ratio > 1.2
        doubled += ratio == pytest.approx(2.0, rel=1e-9)
    assert doubled >= 5
    assert after.margin[0] == pytest.approx((1.0 + before.margin[0]) / 2.0 - 1.0, abs=0.02)  # the jam governs


def test_checks_of_the_file_name_the_factor_of_their_case(tmp_path: Path) -> None:
    """N_d 2 everywhere but in the jam: yield over N_d, 345/2 = 172.5 MPa and 345/4 = 86.25 MPa, in the table of checks."""
    hand.main(arm_file(tmp_path, " design_factor: 4,"), tmp_path)
    with (tmp_path / "checks.csv").open(newline="") as table:
        capacity = {
            row["load_case"]: float(row["capacity"])
            for row in csv.DictReader(table)
            if row["check"] == "combined stress"
        }
    assert capacity[CASE] == pytest.approx(86.25) and capacity["raise"] == pytest.approx(172.5)
