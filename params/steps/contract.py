"""What one step hands to the next as JSON: frozen models, written and read through one shape, a damaged file told in one line."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path
from typing import Any, TypeVar

from pydantic import BaseModel, ConfigDict, ValidationError

from params.steps import sealed
from params.steps.problems import Unfit, one_line
from params.steps.results import READ

Vector = tuple[float, float, float]
Plane = tuple[float, float]


class Contract(BaseModel):
    """Base of every such file and of its parts: no field more, none less, none changed after."""

    model_config = ConfigDict(frozen=True, extra="forbid")


class OfCases(Contract):
    """A file that says something of every load case."""

    cases: dict[str, Any]


M = TypeVar("M", bound=Contract)
C = TypeVar("C", bound=OfCases)


def read_model(path: Path, *models: type[M]) -> M:
    """The content of a JSON file as the first of these models that it fits.

    Raises
    ------
    Unfit
        where the file is not as it was written, cut off, has not a field that is wanted, or one that is not known or of another
        kind; names the first.
    """
    READ.append(path)
    sealed.check(path)
    text, faults = path.read_bytes(), []
    for model in models:
        try:
            return model.model_validate_json(text)
        except ValidationError as error:
            faults.append(error)
    raise Unfit(f"{path}: {wrong(min(faults, key=ValidationError.error_count))}")


def wrong(error: ValidationError) -> str:
    """The first fault in one line."""
    first, *others = error.errors(include_url=False)
    if first["type"] == "json_invalid":
        return f"is not a complete JSON file ({one_line(first['msg'].removeprefix('Invalid JSON: '))})"
    if not first["loc"]:
        return "is not a JSON object of this kind"
    field = one_line(".".join(str(part) for part in first["loc"]))
    more = f"; {len(others)} more such fields" if others else ""
    if first["type"] == "missing":
        return f"has no {field}{more}"
    if first["type"] == "extra_forbidden":
        return f"has {field}, which is not known here{more}"
    message = first["msg"][:1].lower() + first["msg"][1:]
    return f"{field} is {one_line(str(first['input']))}: {message}{more}"


def read_of_cases(path: Path, model: type[C], names: Iterable[str]) -> C:
    """The same of a file whose `cases` must be these load cases of the arm; Unfit where it is another arm's."""
    read, wanted = read_model(path, model), sorted(names)
    if (cases := sorted(read.cases)) != wanted:
        raise Unfit(f"{path}: has the load cases {', '.join(cases)}, the arm has {', '.join(wanted)}")
    return read
