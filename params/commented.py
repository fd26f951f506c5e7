"""A parameter file as text, above each key its meaning and bounds from the schema so that they cannot drift."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator
from typing import Any

from pydantic import BaseModel
from pydantic.fields import FieldInfo
from ruamel.yaml.comments import CommentedMap, CommentedSeq
from ruamel.yaml.scalarstring import DoubleQuotedScalarString

from params.edited import text_of
from params.told import model_in
from params.units import KINDS, Within
from params.yamlfile import plain

WIDTH = 108
UNITS = [f"{kind} {' '.join(KINDS[kind][1])}" for kind in ("length", "angle", "force", "moment", "stress")]
LEGEND = f"Every quantity is text with its unit: {'; '.join(UNITS)}."


def commented(data: dict[str, Any], model: type[BaseModel], head: str) -> str:
    """YAML of `data`, which fits `model`, below the comment `head`."""
    return "\n".join([*comment(head), *comment(LEGEND), *mapping(data, model, top=True)]) + "\n"


def comment(text: str, hang: str = "") -> list[str]:
    """Comment lines no wider than the page."""
    return textwrap.wrap(text, WIDTH, initial_indent="# ", subsequent_indent=f"# {hang}")


def mapping(data: dict[str, Any], model: type[BaseModel], top: bool = False) -> list[str]:
    """One entry for each field of the model, in its order; optional ones that are not there as a comment."""
    lines: list[str] = []
    for key, field in model.model_fields.items():
        lines += ["", *comment(meaning(field))] if top else comment(meaning(field))
        lines += entry(key, data[key], field) if key in data else [f"# {key}:"]
    return lines


def entry(key: str, value: Any, field: FieldInfo) -> list[str]:
    """`key: value`, or the key with what stands below it."""
    inner = model_in(field.annotation)
    if inner is None or not isinstance(value, dict | list):
        return folded(key, value)
    if isinstance(value, list):
        return [*legend(inner), f"{key}:", *(f"  - {flow(item)}" for item in value)]
    if not set(value) <= set(inner.model_fields):  # records by name, such as the load cases
        return [*named(key, value, inner)]
    return [f"{key}:", *(f"  {line}" for line in mapping(value, inner))]


def named(key: str, records: dict[str, Any], model: type[BaseModel]) -> Iterator[str]:
    """Records by name: a line each, or where they hold records themselves a block each."""
    if not any(model_in(field.annotation) for field in model.model_fields.values()):
        yield from [*legend(model), f"{key}:", *(f"  {name}: {flow(item)}" for name, item in records.items())]
        return
    yield f"{key}:"
    for name, item in records.items():
        yield from (f"  # Entry {name}.", f"  {name}:", *(f"    {line}" for line in mapping(item, model)))


def legend(model: type[BaseModel]) -> list[str]:
    """The keys of records that stand on one line each."""
    rows = (
        (name, field, "" if field.is_required() else "optional; ")
        for name, field in model.model_fields.items()
    )
    return [line for name, field, may in rows for line in comment(f"  {name}: {may}{meaning(field)}", "    ")]


def flow(item: Any) -> str:
    """A record, a list or a value on one line, in quotes where it would be read as something else.

    >>> flow({"fit": {"fit": "H7/s6"}, "service": ["20 degC", "-5 degC"]})
    '{fit: {fit: H7/s6}, service: [20 degC, -5 degC]}'
    >>> [flow(value) for value in ("1.5 m", "a: b", "12", "2027-01-31", True, 100.0, 0.02)]
    ['1.5 m', '"a: b"', '"12"', '"2027-01-31"', 'true', '100', '0.02']
    """
    return text_of({"": on_one_line(item)}).partition(": ")[2].rstrip("\n")


def on_one_line(item: Any) -> Any:
    """The item as the library's values, written on one line."""
    values: Any
    if isinstance(item, dict):
        values = CommentedMap((key, on_one_line(value)) for key, value in item.items())
    elif isinstance(item, list):
        values = CommentedSeq(map(on_one_line, item))
    elif isinstance(item, str) and plain(item) != item:
        return DoubleQuotedScalarString(item)
    else:
        return int(item) if isinstance(item, float) and item.is_integer() else item
    values.fa.set_flow_style()
    return values


def folded(key: str, value: Any) -> list[str]:
    """`key: value`; a long text over several lines."""
    if isinstance(value, str) and len(value) > 80 and " ".join(value.split()) == value:
        lines = textwrap.wrap(value, WIDTH - 2, break_long_words=False, break_on_hyphens=False)
        return [f"{key}: >-", *(f"  {line}" for line in lines)]
    return [f"{key}: {flow(value)}"]


def meaning(field: FieldInfo) -> str:
    """The description of a field with its kind and bounds."""
    parts = [
        *field.metadata,
        *(part for option in options(field) for part in getattr(option, "__metadata__", ())),
    ]
    within = next((part.func for part in parts if isinstance(getattr(part, "func", None), Within)), None)
    if within is not None:
        return f"{field.description} ({within.kind}, {within.least} to {within.most})"
    bounds = {
        name: getattr(part, name) for part in parts for name in ("ge", "gt", "le") if hasattr(part, name)
    }
    if "le" not in bounds:
        return field.description or ""
    least = f"{bounds['ge']:.10g}" if "ge" in bounds else f"above {bounds['gt']:.10g}"
    return f"{field.description} (number, {least} to {bounds['le']:.10g})"


def options(field: FieldInfo) -> tuple[Any, ...]:
    """The alternatives of an optional field."""
    return getattr(field.annotation, "__args__", ())
