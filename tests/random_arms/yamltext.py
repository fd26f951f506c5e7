"""Block YAML of an arm; records of plain values on one line."""

from __future__ import annotations

import json
import re

PLAIN = re.compile(r"[A-Za-z][A-Za-z0-9_ ./-]*|-?[0-9.]+ [A-Za-z][A-Za-z0-9*/^]*|[A-Z][a-z0-9 ,.;()'/-]*")


WORDS = {"true", "false", "null", "yes", "no", "on", "off"}


def yaml_text(value: object, indent: int = 0) -> list[str]:
    """Block YAML; records of plain values on one line."""
    pad, lines = "  " * indent, []
    for key, item in value.items():  # type: ignore[attr-defined]
        if isinstance(item, dict) and item and not flat(item):
            lines += [f"{pad}{key}:", *yaml_text(item, indent + 1)]
        elif isinstance(item, dict):
            if indent and flat(item) and key != "mean_stress" and len(item) <= 8 and not nested_names(item):
                lines.append(f"{pad}{key}: {flow(item)}")
            else:
                lines += [f"{pad}{key}:", *yaml_text(item, indent + 1)] if item else [f"{pad}{key}: {{}}"]
        elif isinstance(item, list) and item and isinstance(item[0], dict):
            lines += [f"{pad}{key}:", *(f"{pad}  - {flow(one)}" for one in item)]
        else:
            lines.append(f"{pad}{key}: {flow(item)}")
    return lines


def flat(item: dict) -> bool:
    return not any(
        isinstance(inner, dict) or (isinstance(inner, list) and inner and isinstance(inner[0], dict))
        for inner in item.values()
    )


def nested_names(item: dict) -> bool:
    return any(isinstance(inner, dict) for inner in item.values())


def flow(item: object) -> str:
    if isinstance(item, dict):
        return "{" + ", ".join(f"{key}: {flow(value)}" for key, value in item.items()) + "}"
    if isinstance(item, list):
        return "[" + ", ".join(flow(value) for value in item) + "]"
    if isinstance(item, bool):
        return "true" if item else "false"
    if isinstance(item, int | float):
        return repr(item)
    text = str(item)
    return (
        text
        if PLAIN.fullmatch(text) and text.lower() not in WORDS and not set(text) & set(",:[]{}#")
        else json.dumps(text)
    )
