"""Each material file with each choice that the arm's file offers: every check is a row, with numbers or with why it has none."""

import math
from pathlib import Path
from typing import get_args

import pytest

from analysis.hand.evaluate import evaluate
from params.files.read import read_material
from params.schema.arm import Criteria
from params.schema.bores import MeanStress
from params.schema.cracks import Cracks, Toughness
from params.steps.out_of_range import STATUS
from tests.arms import changed, demo

MATERIALS = sorted(path.stem for path in (Path(__file__).parents[2] / "params" / "materials").glob("*.yaml"))
TOUGHNESS = "cracks__toughness__"


def choices(model, field):
    """Every word that a field of the file may be."""
    return get_args(model.model_fields[field].annotation)


OPTIONS = [
    *(
        {"criteria__pin_code": code, "criteria__limit_state_factor": 1.35}
        for code in choices(Criteria, "pin_code")
    ),
    *({"bores__mean_stress__rule": rule} for rule in choices(MeanStress, "rule")),
    *({f"{TOUGHNESS}method": method} for method in choices(Toughness, "method")),
    {f"{TOUGHNESS}reference_temperature": -40.0},
    *({"cracks__growth": law} for law in choices(Cracks, "growth")),
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
