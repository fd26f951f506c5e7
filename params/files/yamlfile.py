"""YAML read safely: at most 1 MB of UTF-8, plain scalars, lists and mappings, with the line of every key.

Plain words mean what they look like: `no`, `on`, `12:30` and `2024-05-01` stay text, `010` is ten.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import yaml

from params.steps.problems import Key, ParameterError, Problem, dotted

LARGEST = 1_000_000  # bytes
DEEPEST = 12  # levels of nesting
MOST = 200  # problems told of one file
LOADER = getattr(
    yaml, "CSafeLoader", yaml.SafeLoader
)  # the same events, some ten times faster where it is built
WORDS: dict[str, Any] = {"true": True, "false": False, "null": None, "~": None, "": None}
WHOLE = re.compile(r"[-+]?[0-9]{1,18}")
NUMBER = re.compile(r"[-+]?(?:\.[0-9]+|[0-9]+\.?[0-9]*)(?:[eE][-+]?[0-9]+)?")
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
    except yaml.YAMLError as error:
        mark = getattr(error, "problem_mark", None)
        told = str(getattr(error, "problem", None) or error).splitlines()[0]
        reader.fault(
            mark.line + 1 if mark else 1, (), f"is no YAML: {told}", mend="mend this line or the one above"
        )
    if reader.problems:
        raise ParameterError(reader.problems)
    return reader.file


def _text(path: Path) -> str:
    try:
        raw = _raw(path)
    except (OSError, ValueError) as error:
        told = getattr(error, "strerror", None) or str(error)
        raise ParameterError(
            [_problem(path, 1, (), f"cannot be read: {told}", mend="check the path")]
        ) from None
    if len(raw) > LARGEST:
        mend = "keep measured data in a table beside it"
        raise ParameterError([_problem(path, 1, (), "is too large", "at most 1 MB", mend)])
    try:
        text = raw.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = raw[: error.start].count(b"\n") + 1
        raise ParameterError(
            [_problem(path, line, (), "is no UTF-8 text", mend="save the file as UTF-8")]
        ) from None
    if found := FORBIDDEN.search(text):
        line, wrong = (
            text.count("\n", 0, found.start()) + 1,
            f"has the control character U+{ord(found[0]):04X}",
        )
        raise ParameterError([_problem(path, line, (), wrong, mend="take it out")])
    return text


def _raw(path: Path) -> bytes:
    if not path.is_file():
        raise ValueError("no such file" if not path.exists() else "no ordinary file")
    with path.open("rb") as stream:
        return stream.read(LARGEST + 1)


def _problem(path: Path, line: int, key: Key, wrong: str, limit: str = "", mend: str = "") -> Problem:
    return Problem(str(path), line, dotted(key), "", wrong, limit, mend)


class _Reader:
    """Builds plain data from the parser's events, so that nothing is expanded before it was looked at."""

    def __init__(self, path: Path) -> None:
        self.file = YamlFile(path)
        self.problems: list[Problem] = []
        self.events: Iterator[Any] = iter(())

    def fault(self, line: int, key: Key, wrong: str, limit: str = "", mend: str = "") -> None:
        self.problems.append(_problem(self.file.path, line, key, wrong, limit, mend))
        if len(self.problems) >= MOST:
            raise ParameterError(self.problems)

    def read(self, text: str) -> None:
        self.events = yaml.parse(text, Loader=LOADER)
        next(self.events)  # start of the stream
        if isinstance(next(self.events), yaml.StreamEndEvent):
            return self.fault(1, (), "is empty", mend="start from `python -m params.new NAME`")
        self.file.data = self.value(next(self.events), ())
        next(self.events)  # end of the document
        after = next(self.events)
        if not isinstance(after, yaml.StreamEndEvent):
            self.fault(after.start_mark.line + 1, (), "holds a second document", mend="one arm a file")

    def value(self, event: Any, key: Key) -> Any:
        line = event.start_mark.line + 1
        self.file.lines.setdefault(key, line)
        if event.anchor:  # an anchor, or the alias of one
            self.fault(line, key, "uses an anchor or alias", mend="write the value out")
        if isinstance(event, yaml.AliasEvent):
            return None
        if event.tag:
            self.fault(line, key, f"has the tag {event.tag}", mend="write plain text or a number")
        if isinstance(event, yaml.ScalarEvent):
            return self.scalar(event, key)
        if len(key) >= DEEPEST:
            self.fault(line, key[:4], "nests too deep", f"at most {DEEPEST} levels", "write it flatter")
            raise ParameterError(self.problems)
        return self.mapping(key) if isinstance(event, yaml.MappingStartEvent) else self.sequence(key)

    def scalar(self, event: Any, key: Key) -> Any:
        if FORBIDDEN.search(event.value):  # by an escape in a quoted text
            self.fault(event.start_mark.line + 1, key, "has control characters", mend="write plain text")
        return event.value if event.style else plain(event.value)

    def sequence(self, key: Key) -> list[Any]:
        made: list[Any] = []
        while not isinstance(event := next(self.events), yaml.SequenceEndEvent):
            made.append(self.value(event, (*key, len(made))))
        return made

    def mapping(self, key: Key) -> dict[str, Any]:
        made: dict[str, Any] = {}
        while not isinstance(event := next(self.events), yaml.MappingEndEvent):
            line = event.start_mark.line + 1
            name = event.value if isinstance(event, yaml.ScalarEvent) else ""
            inner = (*key, name)
            if not name or event.anchor or event.tag:
                self.fault(line, key, "has a key that is no plain text", mend="use plain words as keys")
                if not isinstance(event, yaml.ScalarEvent):
                    self.value(event, inner)
            elif name in made:
                self.fault(
                    line,
                    inner,
                    "stands twice",
                    f"first on line {self.file.lines[inner]}",
                    "keep one of the two",
                )
            else:
                self.file.lines[inner] = line
            made[name] = self.value(next(self.events), inner)
        return made


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
