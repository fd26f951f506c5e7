"""The message of each fault that the schema shows: what is wrong, the limit, what to do."""

from __future__ import annotations

import difflib
from itertools import islice
from typing import Any

from pydantic import BaseModel

from params.files.yamlfile import YamlFile
from params.steps.problems import Key, Problem, dotted

# What a text that breaks its pattern should have been.
PATTERNS = {
    r"^[a-z][a-z0-9_-]{0,39}$": "lower-case letters, digits, - and _, a letter first, at most 40",
    r"^[A-Z0-9][A-Z0-9.-]{0,7}$": "capital letters, digits, . and -, at most 8 characters",
    r"^[a-z0-9][a-z0-9_-]{0,59}$": "lower-case letters, digits, - and _, at most 60 characters",
}
# What is wrong and how to mend it, by kind of pydantic error; the limit follows from the error's context.
ADVICE = {
    "bool_type": ("is neither true nor false", "write true or false"),
    "dict_type": ("is not a group of keys", "write its entries below it, one on each line, indented"),
    "finite_number": ("is not a finite number", "check the number"),
    "float_type": ("is not a number", "write a plain number, without unit or quotes"),
    "greater_than": ("is too small", "check the number"),
    "greater_than_equal": ("is too small", "check the number"),
    "int_from_float": ("is not a whole number", "write a whole number"),
    "int_type": ("is not a whole number", "write a whole number"),
    "less_than": ("is too large", "check the number"),
    "less_than_equal": ("is too large", "check the number"),
    "literal_error": ("is not one of the choices", "write one of them"),
    "model_type": ("is not a group of keys", "write its keys below it, one on each line, indented"),
    "string_pattern_mismatch": ("has characters that are not allowed", "change it"),
    "string_too_long": ("is too long", "shorten it"),
    "string_too_short": ("is too short", "write what the comment above it asks for"),
    "string_type": ("is not text", "write it in quotes"),
    "too_long": ("has too many entries", "remove some"),
    "too_short": ("has too few entries", "add some"),
    "tuple_type": ("is not a list", "write its entries below it, each after a dash"),
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
    wrong, limit, mend = message(detail, key, model)
    if detail["type"] == "quantity" and isinstance(file.data, dict) and file.data.get("units") == "us":
        mend = detail["ctx"]["mend_us"]
    value = "empty" if detail["input"] is None else detail["input"]
    shown = (
        ""
        if detail["type"] in ("missing", "extra_forbidden") or isinstance(value, dict | list)
        else str(value)[:80]
    )
    return Problem(str(file.path), file.line(key), dotted(key), shown, wrong, limit, mend)


def once(details: list[Any], model: type[BaseModel], most: int) -> list[Any]:
    """Pydantic errors without those of a key that is missing because it stands there misspelt; `most` unknown keys are compared."""
    unknown = (tuple(one["loc"]) for one in details if one["type"] == "extra_forbidden")
    meant = {(*key[:-1], nearest(key, model)) for key in islice(unknown, most)}
    return [one for one in details if one["type"] != "missing" or tuple(one["loc"]) not in meant]


def nearest(key: Key, model: type[BaseModel]) -> str:
    """The known key that an unknown one is most like; empty where none is like it."""
    near = difflib.get_close_matches(str(key[-1]), fields_at(model, key[:-1]), n=1, cutoff=0.5)
    return near[0] if near else ""


def message(detail: Any, key: Key, model: type[BaseModel]) -> tuple[str, str, str]:
    """What is wrong, the limit and the mend."""
    kind, context = detail["type"], detail.get("ctx", {})
    if kind == "extra_forbidden":
        known = fields_at(model, key[:-1])
        near = nearest(key, model)
        return (
            "is not a known key",
            f"known keys: {', '.join(known)}",
            f"did you mean {near}?" if near else "remove it",
        )
    if kind == "missing":
        return "is missing", "", f"add {key[-1]} below {dotted(key[:-1])}" if key[:-1] else f"add {key[-1]}"
    if kind == "quantity":
        return context["wrong"], context["limit"], context["mend"]
    if kind == "string_pattern_mismatch" and any(sign in str(detail["input"]) for sign in "/\\"):
        return "has a path separator", PATTERNS[context["pattern"]], "write a plain name"
    wrong, mend = ADVICE.get(kind, (detail["msg"], "see the comment above this key in params/arms"))
    return wrong, limit_of(context), mend


def limit_of(context: dict[str, Any]) -> str:
    """The bound that was broken."""
    if "pattern" in context:
        return PATTERNS[context["pattern"]]
    limits = (text.format(context[name]) for name, text in LIMITS.items() if name in context)
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
    inside = (model_in(part) for part in getattr(annotation, "__args__", ()))
    return next((model for model in inside if model is not None), None)
