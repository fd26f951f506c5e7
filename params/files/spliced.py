"""A parameter file with single values changed in its text: all else stays as it is, sign for sign, comments with it.

Each function takes a text that `params.files.yamlfile` has read and found safe, and gives the new one.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from typing import Any

from ruamel.yaml.events import MappingEndEvent, MappingStartEvent, ScalarEvent, SequenceEndEvent

from params.files.edited import flow
from params.files.yamlfile import parsed
from params.steps.problems import Key


@dataclass
class Span:
    """Where a value stands: its key's first sign (of an item: its own), its first sign, and the one behind its last."""

    key: int
    start: int
    end: int
    inner: list[Key] = field(default_factory=list)  # keys of what it holds, in their order
    braces: bool = False  # whether it is a group in braces or brackets


def spans(text: str) -> dict[Key, Span]:
    """Every value by its path of keys; the whole document under the empty path."""
    events = parsed(text)
    _, _ = next(events), next(events)  # start of stream and document
    found: dict[Key, Span] = {}
    _read(next(events), (), 0, events, text, found)
    return found


def _read(event: Any, key: Key, at: int, events: Iterator[Any], text: str, found: dict[Key, Span]) -> None:
    start, end = event.start_mark.index, event.end_mark.index
    found[key] = span = Span(at, start, end)
    if isinstance(event, ScalarEvent):
        span.end = start + len(text[start:end].rstrip())
        return
    span.braces = text[start : start + 1] in ("{", "[")
    named, last = isinstance(event, MappingStartEvent), event
    while not isinstance(last := next(events), MappingEndEvent | SequenceEndEvent):
        at = last.start_mark.index
        inner: Key = (*key, last.value if named else len(span.inner))
        span.inner.append(inner)
        _read(next(events) if named else last, inner, at, events, text, found)
    span.end = last.end_mark.index if span.braces else max(found[one].end for one in span.inner)


def with_value(text: str, key: Key, value: Any, order: Sequence[str] = ()) -> str:
    """The text with a value at a path of keys; a key that is not there goes behind the last of `order` before it.

    A group that is written on several lines has to be changed key by key.
    """
    found = spans(text)
    if key not in found:
        return _added(text, key, value, order, found)
    span, above = found[key], found[key[:-1]]
    gap = " " if span.start == span.end else ""  # behind a key without a value
    return text[: span.start] + gap + written(value, above.braces) + text[span.end :]


def written(value: Any, braces: bool) -> str:
    """A value on one line, in quotes where its place needs them."""
    return flow([value])[1:-1] if braces else flow(value)


def _added(text: str, key: Key, value: Any, order: Sequence[str], found: dict[Key, Span]) -> str:
    above = found[key[:-1]]
    if above.braces:
        line = f"{key[-1]}: {written(value, True)}"
        if not above.inner:
            return text[: above.start + 1] + line + text[above.start + 1 :]
        at = found[_neighbour(above, key, order)].end
        return f"{text[:at]}, {line}{text[at:]}"
    margin = _column(text, above.start)
    line = f"{margin}{key[-1]}: {written(value, False)}"
    if place := _left_open(text, key, margin, found):
        return text[: place[0]] + line + text[place[1] :]
    return _below(text, found[_neighbour(above, key, order)].end, line)


def _neighbour(above: Span, key: Key, order: Sequence[str]) -> Key:
    """The last key of the group that comes before this one, else its last one."""
    before = set(order[: order.index(str(key[-1]))] if key[-1] in order else order)
    return next((one for one in reversed(above.inner) if one[-1] in before), above.inner[-1])


def _left_open(text: str, key: Key, margin: str, found: dict[Key, Span]) -> tuple[int, int] | None:
    """The comment `# key:` which stands in the group in place of a key that was left out."""
    above = found[key[:-1]]
    later = [one.key for one in found.values() if one.key > above.end]
    start, end = above.start - len(margin), min(later, default=len(text))
    match = re.compile(rf"^{margin}# {re.escape(str(key[-1]))}:[ ]*(?=\r?$)", re.MULTILINE).search(
        text, start, end
    )
    return match.span() if match else None


def _column(text: str, at: int) -> str:
    """The blanks in front of a key that begins its line."""
    return " " * (at - (text.rfind("\n", 0, at) + 1))


def _below(text: str, at: int, line: str) -> str:
    """A line below the one on which `at` stands."""
    ends = "\r\n" if "\r\n" in text else "\n"
    place = text.find("\n", at) + 1
    return f"{text[:place]}{line}{ends}{text[place:]}" if place else f"{text}{ends}{line}{ends}"


def with_item(text: str, key: Key, value: Any, order: Sequence[str] = (), lines: bool = False) -> str:
    """The text with one more item at the end of a list, which begins with it where it is new; `lines`: one for each of its keys."""
    found = spans(text)
    if key not in found:  # an empty list, which gives way to the item
        return with_item(with_value(text, key, [], order), key, value, lines=lines)
    span = found[key]
    if not span.inner:
        margin = _column(text, span.key) + "  "
        below = "".join(f"\n{line}" for line in _item(value, margin, lines))
        return text[: span.start].rstrip(" ") + _ended(below, text) + text[span.end :]
    last = found[span.inner[-1]]
    if span.braces:
        return f"{text[: last.end]}, {written(value, True)}{text[last.end :]}"
    start = text.rfind("\n", 0, last.start) + 1
    margin = text[start : last.start].partition("-")[0]
    return _below(text, last.end, _ended("\n".join(_item(value, margin, lines)), text))


def _item(value: Any, margin: str, lines: bool) -> list[str]:
    if not lines:
        return [f"{margin}- {flow(value)}"]
    first, *rest = (f"{key}: {flow(one)}" for key, one in value.items())
    return [f"{margin}- {first}", *(f"{margin}  {line}" for line in rest)]


def _ended(lines: str, text: str) -> str:
    """Lines with the ends that the text has."""
    return lines.replace("\n", "\r\n") if "\r\n" in text else lines


def without(text: str, key: Key) -> str:
    """The text without a value and its key; lines that are only a comment stay, and `# key:` says what was there."""
    found = spans(text)
    span, above = found[key], found[key[:-1]]
    if above.braces:
        place = above.inner.index(key)
        if place:
            return text[: found[above.inner[place - 1]].end] + text[span.end :]
        until = found[above.inner[1]].key if len(above.inner) > 1 else span.end
        return text[: span.key] + text[until:]
    start, end = text.rfind("\n", 0, span.key) + 1, text.find("\n", span.end) + 1 or len(text)
    lines = text[start:end].splitlines(keepends=True)
    kept = [line for line in lines if line.lstrip().startswith("#")]
    ends = "\r\n" if "\r\n" in text else "\n"
    named = [] if isinstance(key[-1], int) else [f"{_column(text, span.key)}# {key[-1]}:{ends}"]
    return text[:start] + "".join([*named, *kept]) + text[end:]


def with_remark(text: str, key: Key, lines: Sequence[str]) -> str:
    """The text with lines of comment above a key that begins its line; above its group where it does not."""
    found = spans(text)
    while text[: found[key].key].rpartition("\n")[2].strip():
        key = key[:-1]
    at = found[key].key
    start, ends = text.rfind("\n", 0, at) + 1, "\r\n" if "\r\n" in text else "\n"
    remark = "".join(f"{text[start:at]}# {line}{ends}" for line in lines)
    return text[:start] + remark + text[start:]
