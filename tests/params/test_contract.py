"""Files that one step hands to the next: what is wrong with a damaged one stands in one line, with its path and the field."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from pydantic import ValidationError

from analysis.contracts.loads import LoadsFile
from analysis.contracts.summary import NotBuilt, read_answer
from analysis.tables.files import write_json
from params.steps.contract import read_model, read_of_cases
from params.steps.problems import Unfit

BORE = {"force": [1.0, 2.0, 3.0], "moment": [0.0, 0.0, 0.5]}
CASE = {
    "fraction": 0.5,
    "phi_rad": 0.1,
    "gravity": [0.0, -9.81, 0.0],
    "weight": [0.0, -10.0, 0.0],
    "bores": {"pivot_bore": BORE},
    "residual": 1e-16,
}
LOADS = {
    "units": "N",
    "position": "most",
    "least_position": "least",
    "caution": "care",
    "cg_mm": [1.0, 2.0, 0.0],
    "mass_kg": 4.0,
    "cases": {"raise": CASE},
    "least": {},
}


def written(path: Path, content: object) -> Path:
    path.write_text(json.dumps(content))
    return path


def test_what_is_written_is_read_again(tmp_path: Path) -> None:
    first = LoadsFile.model_validate(LOADS)
    write_json(tmp_path / "loads.json", first)
    assert json.loads((tmp_path / "loads.json").read_text()) == LOADS
    assert read_model(tmp_path / "loads.json", LoadsFile) == first


def test_nothing_is_changed_after(tmp_path: Path) -> None:
    read = read_model(written(tmp_path / "loads.json", LOADS), LoadsFile)
    with pytest.raises(ValidationError, match="frozen"):
        read.mass_kg = 5.0  # type: ignore[misc]


@pytest.mark.parametrize(
    ("change", "told"),
    [
        ({"mass_kg": "heavy"}, "mass_kg is heavy: input should be a valid number"),
        ({"mass_kg": None}, "mass_kg is None: input should be a valid number"),
        ({"cases": {"raise": {**CASE, "weight": [1.0]}}}, "cases.raise.weight.1"),
        ({"mass": 4.0}, "has mass, which is not known here"),
    ],
)
def test_a_wrong_field_is_named(tmp_path: Path, change: dict[str, object], told: str) -> None:
    path = written(tmp_path / "loads.json", LOADS | change)
    with pytest.raises(Unfit) as error:
        read_model(path, LoadsFile)
    assert str(error.value).startswith(f"{path}: ") and told in str(error.value)
    assert "\n" not in str(error.value)


def test_missing_fields_are_counted_and_the_first_is_named(tmp_path: Path) -> None:
    some = {key: value for key, value in LOADS.items() if key not in ("units", "cg_mm", "mass_kg")}
    path = written(tmp_path / "loads.json", some)
    with pytest.raises(Unfit, match=r"loads\.json: has no \w+; 2 more such fields$"):
        read_model(path, LoadsFile)


@pytest.mark.parametrize("text", ["", '{"a": 1', "[" * 100_000, "\xff\xfe", "[]", "null", "3"])
def test_what_is_no_such_object_is_named(tmp_path: Path, text: str) -> None:
    path = tmp_path / "loads.json"
    path.write_bytes(text.encode("latin-1"))
    with pytest.raises(Unfit, match=r"is not a (complete JSON file|JSON object of this kind)") as error:
        read_model(path, LoadsFile)
    assert str(error.value).startswith(f"{path}: ")


def test_another_arms_cases_are_named(tmp_path: Path) -> None:
    path = written(tmp_path / "loads.json", LOADS)
    with pytest.raises(Unfit, match="has the load cases raise, the arm has lower, raise"):
        read_of_cases(path, LoadsFile, ["raise", "lower"])


def test_a_design_that_cannot_be_built_says_why(tmp_path: Path) -> None:
    """The bytes that scripts outside read."""
    path = tmp_path / "summary.json"
    write_json(path, NotBuilt(reason="no solid"))
    assert (
        path.read_text()
        == '{\n "mesh_margin": null,\n "reason": "no solid",\n "state": "cannot be built"\n}\n'
    )
    assert read_answer(path) == NotBuilt(reason="no solid")
