"""Each material file with each choice that the arm's file offers: every check is a row, with numbers or with why it has none."""

import math
from pathlib import Path

import pytest

from analysis.hand.evaluate import evaluate
from params.files.read import read_material
from params.steps.out_of_range import STATUS
from tests.arms import changed, demo

MATERIALS = sorted(path.stem for path in (Path(__file__).parents[2] / "params" / "materials").glob("*.yaml"))
TOUGHNESS = "cracks__toughness__"
OPTIONS = [
    *(
        {"criteria__pin_code": code, "criteria__limit_state_factor": 1.35}
        for code in ("bth1", "en1993", "aisc360")
    ),
    *(
        {"bores__mean_stress__rule": rule}
        for rule in ("goodman", "gerber", "morrow", "walker", "swt", "soderberg", "none")
    ),
    *({f"{TOUGHNESS}method": method} for method in ("lower bound", "transition", "upper shelf")),
    {f"{TOUGHNESS}reference_temperature": -40.0},
    *(
        {"cracks__growth": law}
        for law in (
            "simplified",
            "two-stage mean",
            "two-stage upper",
            "ferrite-pearlite",
            "martensitic",
            "austenitic",
        )
    ),
    {"cracks__yield_plateau": True},
    {"cracks__residual_stress": None},
    *({"cracks__coldest": celsius} for celsius in (-60.0, 100.0)),
]


@pytest.mark.parametrize(
    "option", OPTIONS, ids=lambda one: ", ".join(f"{key.split('__')[-1]} {one[key]}" for key in one)
)
@pytest.mark.parametrize("name", MATERIALS)
def test_every_check_is_a_row(name, option):
    rows = evaluate(
        changed(demo("bench-lever"), **option), read_material(name), fraction=[0.0, 0.5, 1.0]
    ).rows()
    assert len({row.check.clause.check for row in rows}) > 10
    for row in rows:
        said = row.status == STATUS and row.note
        assert said or (math.isfinite(row.demand) and (row.demand == 0.0 or math.isfinite(row.margin))), row
