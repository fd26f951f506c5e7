"""Parameter and material files read, checked and turned into frozen models; every problem at once."""

from __future__ import annotations

from pathlib import Path
from typing import Any, TypeVar

from pydantic import BaseModel, ValidationError

from params.files.messages import once, problem
from params.files.yamlfile import YamlFile, read_yaml
from params.rules.all import broken_rules
from params.schema.arm import Arm
from params.schema.material import Material
from params.steps.library import ISSUED, PROJECT, is_copy, library_of
from params.steps.problems import MOST, Fault, ParameterError, Problem, dotted

Model = TypeVar("Model", bound=BaseModel)
HERE = PROJECT


def read_arm(path: Path | str) -> Arm:
    """Read and check an arm's parameter file.

    Raises
    ------
    ParameterError
        with a line for every problem of the file.
    """
    file = read_yaml(Path(path))
    arm = validated(Arm, file)
    known = None if is_copy(file.path) else names_in(library_of(file.path))
    problems = [placed(fault, file) for fault in broken_rules(arm, known)]
    problems += misnamed(file, arm.name)
    if problems:
        raise ParameterError(problems)
    return arm.read_beside(library_of(file.path))


def read_material(name: str, library: Path = PROJECT) -> Material:
    """Read `materials/NAME.yaml` of a library: `arm.library`, or `params`.

    Raises
    ------
    ParameterError
        where there is no such file, or with a line for every problem of it.
    """
    return material_file(library / "materials" / f"{name}.yaml")


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


def names_in(library: Path) -> dict[str, list[str]]:
    """Names of the files of a library, by kind."""
    kinds = ("materials", "routes", "outages")
    return {kind: sorted(path.stem for path in (library / kind).glob("*.yaml")) for kind in kinds}


def material_names(library: Path = PROJECT) -> list[str]:
    """Names of the material files."""
    return names_in(library)["materials"]


def misnamed(file: YamlFile, name: str) -> list[Problem]:
    """A problem where the file's name and the name in it differ; a run's copy may bear a name of its own, an issued file bears
    its revision behind it."""
    stem = file.path.stem
    if is_copy(file.path) or stem == name:
        return []
    if file.path.parent.name == ISSUED and stem == f"{name}-{file.data.get('revision')}":
        return []
    mend = f"name the file {name}.yaml or write name: {stem}"
    wrong = f"differs from the file's name {stem}"
    return [Problem(str(file.path), file.line(("name",)), "name", name, wrong, "", mend)]


def validated(model: type[Model], file: YamlFile) -> Model:
    """The file's data as a model, or a ParameterError with every fault of the schema."""
    try:
        return model.model_validate(file.data)
    except ValidationError as error:
        details = [detail for detail in error.errors(include_url=False) if not follows(detail)]
        shown = once(details, model, MOST)[:MOST]
        raise ParameterError([problem(detail, file, model) for detail in shown]) from None


def follows(detail: Any) -> bool:
    """Whether a list is only too short because some of its entries are wrong, which has its own message."""
    least = detail.get("ctx", {}).get("min_length", 0)
    return (
        detail["type"] == "too_short" and isinstance(detail["input"], list) and len(detail["input"]) >= least
    )
