"""Parameter and material files read, checked and turned into frozen models; every problem at once."""

from __future__ import annotations

from itertools import islice
from pathlib import Path
from typing import Any, TypeVar

from pydantic import BaseModel, ValidationError

from params.arm import Arm
from params.material import Material
from params.problems import Fault, ParameterError, Problem, dotted
from params.rules import broken_rules
from params.told import problem
from params.yamlfile import MOST, YamlFile, read_yaml

Model = TypeVar("Model", bound=BaseModel)
HERE = Path(__file__).parent
FILED = "arm.yaml"  # name of the copy that stands with the results


def read_arm(path: Path | str) -> Arm:
    """Read and check an arm's parameter file.

    Raises
    ------
    ParameterError
        with a line for every problem of the file.
    """
    file = read_yaml(Path(path))
    arm = validated(Arm, file)
    problems = [
        placed(fault, file)
        for fault in broken_rules(arm, material_names(), names_in("routes"), names_in("outages"))
    ]
    problems += misnamed(file, arm.name)
    if problems:
        raise ParameterError(problems)
    return arm


def read_material(name: str) -> Material:
    """Read `params/materials/NAME.yaml`.

    Raises
    ------
    ParameterError
        where there is no such file, or with a line for every problem of it.
    """
    return material_file(HERE / "materials" / f"{name}.yaml")


def material_file(path: Path) -> Material:
    """The same of a file anywhere."""
    file = read_yaml(path)
    material = validated(Material, file)
    problems = misnamed(file, material.name)
    if material.tensile_strength < material.yield_strength:
        limit = f"at least {file.data['yield_strength']}"
        fault = Fault(
            ("tensile_strength",),
            str(file.data["tensile_strength"]),
            "is below the yield strength",
            limit,
            "check both",
        )
        problems.append(placed(fault, file))
    if problems:
        raise ParameterError(problems)
    return material


def placed(fault: Fault, file: YamlFile) -> Problem:
    """A broken rule with its file and line."""
    line, field = file.line(fault.key), dotted(fault.key)
    return Problem(str(file.path), line, field, fault.value, fault.wrong, fault.limit, fault.mend)


def material_names() -> list[str]:
    """Names of the material files."""
    return names_in("materials")


def names_in(folder: str) -> list[str]:
    """Names of the files in params/materials, params/routes or params/outages."""
    return sorted(path.stem for path in (HERE / folder).glob("*.yaml"))


def misnamed(file: YamlFile, name: str) -> list[Problem]:
    """A problem where the file's name and the name in it differ; the results' copy is called arm.yaml."""
    stem = file.path.stem
    if file.path.name == FILED or stem == name:
        return []
    mend = f"name the file {name}.yaml or write name: {stem}"
    wrong = f"differs from the file's name {stem}"
    return [Problem(str(file.path), file.line(("name",)), "name", name, wrong, "", mend)]


def validated(model: type[Model], file: YamlFile) -> Model:
    """The file's data as a model, or a ParameterError with every fault of the schema."""
    try:
        return model.model_validate(file.data)
    except ValidationError as error:
        details = (detail for detail in error.errors(include_url=False) if not follows(detail))
        raise ParameterError([problem(detail, file, model) for detail in islice(details, MOST)]) from None


def follows(detail: Any) -> bool:
    """Whether a list is only too short because some of its entries are wrong, which has its own message."""
    least = detail.get("ctx", {}).get("min_length", 0)
    return (
        detail["type"] == "too_short" and isinstance(detail["input"], list) and len(detail["input"]) >= least
    )
