"""Parameter and material files read, checked and turned into frozen models; every problem at once, one line each."""

from __future__ import annotations

import difflib
from pathlib import Path
from typing import Any, TypeVar

from pydantic import BaseModel, ValidationError

from params.arm import Arm
from params.material import Material
from params.problems import ParameterError, Problem
from params.rules import broken_rules
from params.problems import Key
from params.yamlfile import YamlFile, read_yaml

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
        Problem(str(file.path), file.line(fault.key), ".".join(map(str, fault.key)), fault.value, fault.wrong, fault.limit, fault.mend)
        for fault in broken_rules(arm, material_names())
    ]
    stem = file.path.stem
    if file.path.name != FILED and stem != arm.name:
        mend = f"name the file {arm.name}.yaml or write name: {stem}"
        problems.append(Problem(str(file.path), file.line(("name",)), "name", arm.name, f"differs from the file's name {stem}", "", mend))
    if problems:
        raise ParameterError(problems)
    return arm


def read_material(name: str) -> Material:
    """Read `params/materials/NAME.yaml`."""
    return validated(Material, read_yaml(HERE / "materials" / f"{name}.yaml"))


def material_names() -> list[str]:
    return sorted(path.stem for path in (HERE / "materials").glob("*.yaml"))


def validated(model: type[Model], file: YamlFile) -> Model:
    """The file's data as a model, or a ParameterError with every fault of the schema."""
    try:
        return model.model_validate(file.data)
    except ValidationError as error:
        raise ParameterError([problem(detail, file, model) for detail in error.errors()]) from None


def problem(detail: Any, file: YamlFile, model: type[BaseModel]) -> Problem:
    """One pydantic error as a line for people."""
    key: Key = tuple(part for part in detail["loc"] if part != "[key]")
    wrong, limit, mend = told(detail, key, model)
    value = "" if isinstance(detail["input"], dict | list) else str(detail["input"])[:80]
    if detail["type"] == "missing":
        value = ""
    return Problem(str(file.path), file.line(key), ".".join(map(str, key)) or "file", value, wrong, limit, mend)


def told(detail: Any, key: Key, model: type[BaseModel]) -> tuple[str, str, str]:
    """What is wrong, the limit and the mend."""
    kind, context = detail["type"], detail.get("ctx", {})
    if kind == "extra_forbidden":
        near = difflib.get_close_matches(str(key[-1]), fields_at(model, key[:-1]), n=1, cutoff=0.5)
        return "is no key of this file", "", f"did you mean {near[0]}?" if near else f"keys here: {', '.join(fields_at(model, key[:-1]))}"
    if kind == "missing":
        return "is missing", "", "add this key"
    if kind == "quantity":
        return context["wrong"], context["limit"], context["mend"]
    message = detail["msg"].replace("Input should be", "should be").replace("String should", "text should")
    return message[0].lower() + message[1:], "", "see the comment above this key in params/arms/bench-lever.yaml"


def fields_at(model: type[BaseModel], key: Key) -> list[str]:
    """Names of the keys that the schema knows at this path."""
    kinds: Any = model
    for part in key:
        kinds = inner(kinds, part)
        if kinds is None:
            return []
    return list(kinds.model_fields)


def inner(model: type[BaseModel], part: str | int) -> type[BaseModel] | None:
    """The model behind one key of a path; a list's or mapping's items stand for themselves."""
    if isinstance(part, int) or part not in model.model_fields:
        return model
    return model_in(model.model_fields[part].annotation)


def model_in(annotation: Any) -> type[BaseModel] | None:
    """The first model class inside an annotation such as `Model | None`, `tuple[Model, ...]` or `dict[str, Model]`."""
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        return annotation
    return next((found for part in getattr(annotation, "__args__", ()) if (found := model_in(part))), None)
