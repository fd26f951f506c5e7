"""survey.yaml read and checked; every problem at once, with its line."""

from __future__ import annotations

import math
from pathlib import Path

from params.files.read import HERE, placed, read_arm, validated
from params.files.yamlfile import read_yaml
from params.schema.arm import Arm
from params.schema.survey import Survey
from params.steps.problems import Fault, ParameterError


def read_survey(path: Path) -> Survey:
    """Read and check a survey's file.

    Raises
    ------
    ParameterError
        with a line for every problem of the file.
    """
    file = read_yaml(path)
    survey = validated(Survey, file)
    faults = list(broken(survey, path))
    if survey.name != path.parent.name and path.parent.parent.name == "surveys":
        faults.append(
            Fault(
                ("name",),
                survey.name,
                f"differs from the folder's name {path.parent.name}",
                "the same name",
                "rename one",
            )
        )
    if faults:
        raise ParameterError([placed(fault, file) for fault in faults])
    return survey


def broken(survey: Survey, path: Path):
    """Rules that the schema cannot say."""
    for number, one in enumerate(survey.tape):
        key = ("tape", number, "spread")
        if one.spread <= 0.0:
            yield Fault(key, "0", "is nothing", "above 0", "say how far the reading may be off")
        if one.size == "included_angle" and one.value > math.pi:
            yield Fault(
                ("tape", number, "value"),
                f"{one.value:g}",
                "is not an angle",
                "0 to 180 deg",
                "write it with deg",
            )
    for key in ("rest_from", "drawing_of"):
        name = getattr(survey, key)
        if name and not (HERE / "arms" / f"{name}.yaml").is_file():
            yield Fault((key,), name, "is no file in params/arms", "", "check the name")
    for number, one in enumerate(survey.files):
        if not (path.parent / one.file).is_file():
            yield Fault(("files", number, "file"), one.file, "is not there", "", "check the name")


def nominal_of(survey: Survey) -> Arm | None:
    """The arm that the part was made to, where one is named."""
    return read_arm(HERE / "arms" / f"{survey.drawing_of}.yaml") if survey.drawing_of else None
