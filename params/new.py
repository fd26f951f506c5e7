"""`python -m params.new NAME` writes a commented starter file; the comments come from the schema, so they cannot drift."""

from __future__ import annotations

import argparse
import re
import sys
import textwrap
from pathlib import Path
from typing import Any

from pydantic import BaseModel
from pydantic.fields import FieldInfo

from params.arm import Arm
from params.problems import ParameterError
from params.read import HERE, model_in, read_arm
from params.units import KINDS, Within
from params.yamlfile import read_yaml

STARTER = HERE / "arms" / "bench-lever.yaml"
HEAD = "Starter: every number below is invented. Replace each by a measured one, then run `python -m params.check` on it."


def commented(data: dict[str, Any], model: type[BaseModel], head: str) -> str:
    """YAML of `data` with each key's meaning, unit and range above it the first time that the key's model occurs."""
    lines = [f"# {line}" for line in textwrap.wrap(head, 116)]
    return "\n".join([*lines, *_mapping(data, model, 0, set())]) + "\n"


def _mapping(data: dict[str, Any], model: type[BaseModel], depth: int, told: set[str]) -> list[str]:
    lines: list[str] = []
    indent = "  " * depth
    for key, value in data.items():
        field = model.model_fields[key]
        if depth == 0:
            lines.append("")
        lines += [f"{indent}# {line}" for line in textwrap.wrap(meaning(field), 114 - len(indent))]
        lines += [f"{indent}{line}" for line in _entry(key, value, field, depth, told)]
    return lines


def _entry(key: str, value: Any, field: FieldInfo, depth: int, told: set[str]) -> list[str]:
    inner = model_in(field.annotation)
    if inner is None or not isinstance(value, dict | list):
        return [f"{key}: {_scalar(value)}"]
    if isinstance(value, list):
        return [f"{key}:", *(f"  - {_flow(item)}" for item in value)]
    if not set(value) <= set(inner.model_fields):  # a mapping of records by name, such as the load cases
        rows = [f"#   {name}: {field.description}" for name, field in inner.model_fields.items() if field.description]
        return [*_wrapped(rows), f"{key}:", *(f"  {name}: {_flow(item)}" for name, item in value.items())]
    body = _mapping(value, inner, 0 if depth < 0 else depth + 1, told)
    return [f"{key}:", *(line[2 * depth :] for line in body)]


def _wrapped(rows: list[str]) -> list[str]:
    return [line for row in rows for line in textwrap.wrap(row, 112, subsequent_indent="#     ")]


def _flow(item: dict[str, Any]) -> str:
    def inside(value: Any) -> str:
        return _flow(value) if isinstance(value, dict) else _scalar(value)

    return "{" + ", ".join(f"{key}: {inside(value)}" for key, value in item.items()) + "}"


def _scalar(value: Any) -> str:
    if isinstance(value, str) and (re.search(r"[:#\"'{}\[\],\n]", value) or not value):
        return '"' + value.replace("\\", "\\\\").replace('"', '\\"').replace("\n", "\\n") + '"'
    return f"{value}"


def meaning(field: FieldInfo) -> str:
    """The description of a field with its units and bounds."""
    text = field.description or ""
    bounds = next((getattr(part, "func", None) for part in quantity_parts(field) if isinstance(getattr(part, "func", None), Within)), None)
    if bounds is None:
        return text
    return f"{text} ({bounds.kind} in {', '.join(KINDS[bounds.kind][1])}; {bounds.least} to {bounds.most})"


def quantity_parts(field: FieldInfo) -> list[Any]:
    """Validators on the field, also where it is optional."""
    options = getattr(field.annotation, "__args__", ())
    return [*field.metadata, *(part for option in options for part in getattr(option, "__metadata__", ()))]


def starter(name: str) -> str:
    """A complete file for an arm of this name."""
    return commented(read_yaml(STARTER).data | {"name": name}, Arm, HEAD)


def main() -> int:
    parser = argparse.ArgumentParser(description="Write a commented starter file into params/arms.")
    parser.add_argument("name")
    name = parser.parse_args().name
    path = HERE / "arms" / f"{name}.yaml"
    if not re.fullmatch(r"[a-z][a-z0-9_-]{0,39}", name):
        print(f"{name}: is no name for an arm, lower-case letters, digits, - and _, at most 40; choose another", file=sys.stderr)
        return 1
    if path.exists():
        print(f"{path}: is there already, nothing was written; choose another name", file=sys.stderr)
        return 1
    path.write_text(starter(name))
    try:
        read_arm(path)
    except ParameterError as error:
        print(error, file=sys.stderr)
        return 1
    print(f"{path}: written; next: python -m params.check {path}")
    return 0


if __name__ == "__main__":
    sys.exit(main())
