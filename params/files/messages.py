"""Faults that the schema finds, in people's words: what is wrong, the limit, the mend."""

from __future__ import annotations

import difflib
from typing import Any

from pydantic import BaseModel

from params.files.yamlfile import YamlFile
from params.steps.problems import Key, Problem, dotted

# What a text that breaks its pattern should have been.
PATTERNS = {
    r"^[a-z][a-z0-9_-]{0,39}$": "lower-case letters, digits, - and _, a letter first, at most 40",
    r"^[A-Z0-9][A-Z0-9.-]{0,7}$": "capital letters, digits, . and -, at most 8 signs",
}
# What is wrong and how to mend it, by kind of pydantic error; the limit follows from the error's context.
TOLD = {
    "bool_type": ("is neither true nor false", "write true or false"),
    "dict_type": ("holds no keys", "write its entries below it, one a line, indented"),
    "finite_number": ("is not a finite number", "check the number"),
    "float_type": ("is no number", "write a plain number, without unit or quotes"),
    "greater_than": ("is too small", "check the number"),
    "greater_than_equal": ("is too small", "check the number"),
    "int_from_float": ("is no whole number", "write a whole number"),
    "int_type": ("is no whole number", "write a whole number"),
    "less_than": ("is too large", "check the number"),
    "less_than_equal": ("is too large", "check the number"),
    "literal_error": ("is not known here", "write one of them"),
    "model_type": ("holds no keys", "write its keys below it, one a line, indented"),
    "string_pattern_mismatch": ("has signs that do not go here", "change it"),
    "string_too_long": ("is too long", "shorten it"),
    "string_too_short": ("is too short", "write what the comment above it asks for"),
    "string_type": ("is no text", "put it in quotes"),
    "too_long": ("has too many entries", "take some out"),
    "too_short": ("has too few entries", "add some"),
    "tuple_type": ("is no list", "write its entries below it, each behind a dash"),
}
LIMITS = {
    "ge": "at least {}",
    "gt": "more than {}",
    "le": "at most {}",
    "lt": "less than {}",
    "expected": "one of {}",
    "max_length": "at most {}",
    "min_length": "at least {}",
}


def problem(detail: Any, file: YamlFile, model: type[BaseModel]) -> Problem:
    """One pydantic error as a line for people."""
    key: Key = tuple(part for part in detail["loc"] if part != "[key]")
    wrong, limit, mend = told(detail, key, model)
    value = "empty" if detail["input"] is None else detail["input"]
    shown = (
        ""
        if detail["type"] in ("missing", "extra_forbidden") or isinstance(value, dict | list)
        else str(value)[:80]
    )
    return Problem(str(file.path), file.line(key), dotted(key), shown, wrong, limit, mend)


def told(detail: Any, key: Key, model: type[BaseModel]) -> tuple[str, str, str]:
    """What is wrong, the limit and the mend."""
    kind, context = detail["type"], detail.get("ctx", {})
    if kind == "extra_forbidden":
        known = fields_at(model, key[:-1])
        near = difflib.get_close_matches(str(key[-1]), known, n=1, cutoff=0.5)
        return (
            "is no key here",
            f"known: {', '.join(known)}",
            f"did you mean {near[0]}?" if near else "take it out",
        )
    if kind == "missing":
        return "is missing", "", f"add {key[-1]} below {dotted(key[:-1])}" if key[:-1] else f"add {key[-1]}"
    if kind == "quantity":
        return context["wrong"], context["limit"], context["mend"]
    if kind == "string_pattern_mismatch" and any(sign in str(detail["input"]) for sign in "/\\"):
        return "has a path separator", PATTERNS[context["pattern"]], "write a plain name"
    wrong, mend = TOLD.get(kind, (detail["msg"], "see the comment above this key in params/arms"))
    return wrong, limit_of(context), mend


def limit_of(context: dict[str, Any]) -> str:
    """The bound that was broken."""
    if "pattern" in context:
        return PATTERNS[context["pattern"]]
    limits = (told.format(context[name]) for name, told in LIMITS.items() if name in context)
    return next(limits, "").replace("'", "")


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
    """The first model class inside an annotation (`Model | None`, `dict[str, Model]`)."""
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        return annotation
    return next((found for part in getattr(annotation, "__args__", ()) if (found := model_in(part))), None)
