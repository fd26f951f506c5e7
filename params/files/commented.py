"""A parameter file as text, above each key its meaning and bounds from the schema so that they cannot drift."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator
from typing import Any

from pydantic import BaseModel
from pydantic.fields import FieldInfo

from params.files.edited import flow
from params.files.messages import model_in
from params.schema.units import KINDS, Within

WIDTH = 108
UNITS = [f"{kind} {' '.join(KINDS[kind][1])}" for kind in ("length", "angle", "force", "moment", "stress")]
LEGEND = f"Every quantity is text with its unit: {'; '.join(UNITS)}."


def commented(data: dict[str, Any], model: type[BaseModel], head: str, full: bool = False) -> str:
    """YAML of `data`, which fits `model`, below the comment `head`; full: with every key of what is left out."""
    return "\n".join([*comment(head), *comment(LEGEND), *mapping(data, model, True, full)]) + "\n"


def comment(text: str, hang: str = "") -> list[str]:
    """Comment lines no wider than the page."""
    return textwrap.wrap(text, WIDTH, initial_indent="# ", subsequent_indent=f"# {hang}")


def mapping(data: dict[str, Any], model: type[BaseModel], top: bool = False, full: bool = False) -> list[str]:
    """One entry for each field of the model, in its order; optional ones that are not there as a comment."""
    lines: list[str] = []
    for key, field in model.model_fields.items():
        lines += ["", *comment(meaning(field))] if top else comment(meaning(field))
        lines += entry(key, data[key], field, full) if key in data else left_out(key, field, full)
    return lines


def entry(key: str, value: Any, field: FieldInfo, full: bool) -> list[str]:
    """`key: value`, or the key with what stands below it."""
    inner = model_in(field.annotation)
    if inner is None or not isinstance(value, dict | list):
        return folded(key, value)
    if isinstance(value, list):
        return [*legend(inner, full), f"{key}:", *(f"  - {flow(item)}" for item in value)]
    if not set(value) <= set(inner.model_fields):  # records by name, such as the load cases
        return [*named(key, value, inner, full)]
    return [f"{key}:", *indented(mapping(value, inner, full=full))]


def left_out(key: str, field: FieldInfo, full: bool) -> list[str]:
    """An optional key that is not there, as a comment; full: with the keys that stand below it."""
    inner, kinds = model_in(field.annotation), str(field.annotation)
    if not full or inner is None:
        return [f"# {key}:"]
    if "tuple[" in kinds:
        return [*legend(inner, full), f"# {key}:", f"  # - {skeleton(inner)}"]
    if "dict[" not in kinds:
        return [f"# {key}:", *indented(mapping({}, inner, full=True))]
    if has_records(inner):
        return [f"# {key}:", "  # NAME:", *indented(indented(mapping({}, inner, full=True)))]
    return [*legend(inner, full), f"# {key}:", f"  # NAME: {skeleton(inner)}"]


def named(key: str, records: dict[str, Any], model: type[BaseModel], full: bool) -> Iterator[str]:
    """Records by name: a line each, or where they hold records themselves a block each."""
    if not has_records(model):
        yield from [
            *legend(model, full),
            f"{key}:",
            *(f"  {name}: {flow(item)}" for name, item in records.items()),
        ]
        return
    yield f"{key}:"
    for name, item in records.items():
        yield from (f"  # Entry {name}.", f"  {name}:", *indented(indented(mapping(item, model, full=full))))


def has_records(model: type[BaseModel]) -> bool:
    return any(model_in(field.annotation) for field in model.model_fields.values())


def indented(lines: list[str]) -> list[str]:
    return [f"  {line}" for line in lines]


def skeleton(model: type[BaseModel]) -> str:
    """A record on one line, its values to be filled in."""
    return "{" + ", ".join(f"{name}: ..." for name in model.model_fields) + "}"


def legend(model: type[BaseModel], full: bool = False, margin: str = "  ") -> list[str]:
    """The keys of records that stand on one line each; full: with those of the records in them."""
    lines = []
    for name, field in model.model_fields.items():
        may = "" if field.is_required() else "optional; "
        lines += comment(f"{margin}{name}: {may}{meaning(field)}", f"{margin}  ")
        if full and (inner := model_in(field.annotation)):
            lines += legend(inner, full, f"{margin}  ")
    return lines


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
