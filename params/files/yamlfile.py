"""YAML read safely: at most 1 MB of UTF-8, plain values, lists and mappings, with the line of every key.

The library parses; the plain data are built from its events, since its own loaders follow aliases, read dates and are slow.
Words without quotes mean what they look like: `no`, `on`, `12:30` and `2024-05-01` stay text, `010` is ten.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any, NoReturn

from ruamel.yaml import YAML
from ruamel.yaml.error import YAMLError
from ruamel.yaml.events import (
    AliasEvent,
    MappingEndEvent,
    MappingStartEvent,
    ScalarEvent,
    SequenceEndEvent,
    StreamEndEvent,
)

from params.steps.problems import MOST, Key, ParameterError, Problem, dotted

LARGEST = 1_000_000  # bytes of a file
DEEPEST = 12  # levels of nesting
WIDEST = 1_000  # keys of one mapping, or records of a list; the largest schema has 21 keys, a route at most 500 tasks
FULLEST = 20_000  # keys of one file
LISTED = 100_000  # values of one list, those of a measured history
LONGEST = 10_000  # characters of one value
WORDS: dict[str, Any] = {"true": True, "false": False, "null": None, "~": None, "": None}
WHOLE = re.compile(r"[-+]?[0-9]{1,18}")
NUMBER = re.compile(r"[-+]?(?:\.[0-9]+|[0-9]+(?:\.[0-9]*)?)(?:[eE][-+]?[0-9]+)?")
# Control characters other than tab and line ends, line separators, and the signs that turn the reading direction.
FORBIDDEN = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f\u200e\u200f\u2028-\u202e\u2066-\u2069]")


@dataclass
class YamlFile:
    """Plain data and, for every path of keys, the line on which it stands."""

    path: Path
    data: Any = None
    lines: dict[Key, int] = field(default_factory=dict)

    def line(self, key: Key) -> int:
        """Line of the key, or of its nearest parent that is in the file."""
        while key and key not in self.lines:
            key = key[:-1]
        return self.lines.get(key, 1)


def read_yaml(path: Path) -> YamlFile:
    """Read one YAML document.

    Raises
    ------
    ParameterError
        where the file cannot be read, is too large, is no UTF-8, has control characters, is no YAML, or uses
        anchors, tags, duplicate keys, keys that are not text, a second document, or nests too deep.
    """
    reader = _Reader(path)
    try:
        reader.read(_text(path))
    except YAMLError as error:
        mark = getattr(error, "problem_mark", None)
        reason = str(getattr(error, "problem", None) or error).splitlines()[0]
        line, mend = mark.line + 1 if mark else 1, "correct this line or the one above"
        reader.fault(line, (), f"is not valid YAML: {reason}", mend=mend)
    if reader.problems:
        raise ParameterError(reader.problems)
    return reader.file


def _text(path: Path) -> str:
    try:
        raw = _raw(path)
    except (OSError, ValueError) as error:
        wrong = f"cannot be read: {getattr(error, 'strerror', None) or error}"
        raise ParameterError([_problem(path, 1, (), wrong, mend="check the path")]) from None
    if len(raw) > LARGEST:
        mend = "keep measured data in a table beside it"
        raise ParameterError([_problem(path, 1, (), "is too large", "at most 1 MB", mend)])
    try:
        text = raw.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = raw[: error.start].count(b"\n") + 1
        problem = _problem(path, line, (), "is not UTF-8 text", mend="save the file as UTF-8")
        raise ParameterError([problem]) from None
    if match := FORBIDDEN.search(text):
        line = text.count("\n", 0, match.start()) + 1
        wrong = f"has the control character U+{ord(match[0]):04X}"
        raise ParameterError([_problem(path, line, (), wrong, mend="delete it")])
    return text


def _raw(path: Path) -> bytes:
    if not path.is_file():
        raise ValueError("no such file" if not path.exists() else "it is not a file")
    with path.open("rb") as stream:
        return stream.read(LARGEST + 1)


def _problem(path: Path, line: int, key: Key, wrong: str, limit: str = "", mend: str = "") -> Problem:
    return Problem(str(path), line, dotted(key), "", wrong, limit, mend)


def parsed(text: str) -> Iterator[Any]:
    """The library's events, by its compiled parser where there is one."""
    return YAML(typ="safe").parse(text)


class _Reader:
    """Builds plain data from the parser's events; every value is looked at before it is taken."""

    def __init__(self, path: Path) -> None:
        self.file = YamlFile(path)
        self.problems: list[Problem] = []
        self.events: Iterator[Any] = iter(())
        self.keys = 0

    def fault(self, line: int, key: Key, wrong: str, limit: str = "", mend: str = "") -> None:
        self.problems.append(_problem(self.file.path, line, key, wrong, limit, mend))
        if len(self.problems) >= MOST:
            raise ParameterError(self.problems)

    def stop(self, line: int, key: Key, wrong: str, limit: str, mend: str) -> NoReturn:
        """A fault behind which nothing is read any more."""
        self.fault(line, key, wrong, limit, mend)
        raise ParameterError(self.problems)

    def read(self, text: str) -> None:
        self.events = parsed(text)
        next(self.events)  # start of the stream
        if isinstance(next(self.events), StreamEndEvent):
            return self.fault(1, (), "is empty", mend="start from `python -m params.new NAME`")
        self.file.data = self.value(next(self.events), ())
        next(self.events)  # end of the document
        after = next(self.events)
        if not isinstance(after, StreamEndEvent):
            line = after.start_mark.line + 1
            self.fault(line, (), "holds a second document", mend="write one document in a file, without ---")

    def value(self, event: Any, key: Key) -> Any:
        line = event.start_mark.line + 1
        self.file.lines.setdefault(key, line)
        if event.anchor:  # an anchor, or the alias of one
            self.fault(line, key, "uses an anchor or alias", mend="write the value itself")
        if isinstance(event, AliasEvent):
            return None
        if event.ctag:
            self.fault(line, key, f"has the tag {event.ctag}", mend="write plain text or a number")
        if isinstance(event, ScalarEvent):
            return self.scalar(event, key)
        if len(key) >= DEEPEST:
            self.stop(line, key[:4], "is nested too deep", f"at most {DEEPEST} levels", "use fewer levels")
        return self.mapping(key) if isinstance(event, MappingStartEvent) else self.sequence(key)

    def scalar(self, event: Any, key: Key) -> Any:
        line = event.start_mark.line + 1
        if len(event.value) > LONGEST:
            self.fault(line, key, "is too long", f"at most {LONGEST:,} characters", "shorten it")
            return None
        if not event.style:
            return plain(event.value)
        if FORBIDDEN.search(event.value):  # by an escape
            self.fault(line, key, "has control characters", mend="write plain text")
        return event.value

    def sequence(self, key: Key) -> list[Any]:
        values: list[Any] = []
        while not isinstance(event := next(self.events), SequenceEndEvent):
            if len(values) >= (LISTED if isinstance(event, ScalarEvent) else WIDEST):
                line, mend = event.start_mark.line + 1, "remove some"
                self.stop(
                    line,
                    key,
                    "has too many entries",
                    f"at most {LISTED:,} values or {WIDEST:,} records",
                    mend,
                )
            values.append(self.value(event, (*key, len(values))))
        return values

    def mapping(self, key: Key) -> dict[str, Any]:
        values: dict[str, Any] = {}
        while not isinstance(event := next(self.events), MappingEndEvent):
            line = event.start_mark.line + 1
            name = event.value if isinstance(event, ScalarEvent) else ""
            inner = (*key, name)
            if len(values) >= WIDEST:
                self.stop(line, key, "has too many keys", f"at most {WIDEST:,}", "keep those of the schema")
            self.keys += 1
            if self.keys > FULLEST:
                self.stop(line, (), "has too many keys", f"at most {FULLEST:,}", "keep those of the schema")
            if not name or len(name) > LONGEST or event.anchor or event.ctag:
                self.fault(line, key, "has a key that is not plain text", mend="use plain words as keys")
                if not isinstance(event, ScalarEvent):
                    self.value(event, inner)
            elif name in values:
                first = f"first on line {self.file.lines[inner]}"
                self.fault(line, inner, "is written twice", first, "keep one of the two")
            else:
                self.file.lines[inner] = line
            values[name] = self.value(next(self.events), inner)
        return values


def plain(text: str) -> Any:
    """A word without quotes: true, false, null, a number, or text.

    >>> [plain(text) for text in ("no", "12:30", "010", "1e3", "True", "1.5 m")]
    ['no', '12:30', 10, 1000.0, True, '1.5 m']
    """
    if text.lower() in WORDS:
        return WORDS[text.lower()]
    if WHOLE.fullmatch(text):
        return int(text)
    return float(text) if NUMBER.fullmatch(text) else text
