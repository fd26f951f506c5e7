"""What is wrong with an input, in one line for people."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Literal

System = Literal["si", "us"]  # units of an arm's tables and messages
LONGEST = 300  # characters of one part of a message
MOST = 200  # problems listed of one file
Key = tuple[str | int, ...]  # path of keys in a file


@dataclass(frozen=True, order=True)
class Problem:
    """One fault of an input file: `file:line: field: value, what is wrong, limit, mend`."""

    file: str
    line: int
    field: str
    value: str
    wrong: str
    limit: str = ""
    mend: str = ""

    def __str__(self) -> str:
        parts = (one_line(part) for part in (self.value, self.wrong, self.limit, self.mend) if part)
        return f"{one_line(self.file)}:{self.line}: {one_line(self.field)}: {', '.join(parts)}"


@dataclass(frozen=True)
class Fault:
    """One broken rule at a path of keys; the reader adds file and line."""

    key: Key
    value: str
    wrong: str
    limit: str = ""
    mend: str = ""


class ParameterError(Exception):
    """All the problems of one input at once; its text is one line for each."""

    def __init__(self, problems: list[Problem]) -> None:
        self.problems = sorted(problems)
        super().__init__("\n".join(str(problem) for problem in self.problems))


class Unfit(ValueError):  # noqa: N818 - an answer about a file, not a fault of the program
    """A file of results that is cut off, empty or another's; the text begins with its path."""


class OutOfRange(ValueError):  # noqa: N818 - an answer about an input, not a fault of the program
    """A value outside of what its formula holds for; the text names value, range and source in mm, MPa, J.

    `message` is the same text in the units of an arm.
    """

    def __init__(self, text: str, in_units: Callable[[System], str] | None = None) -> None:
        super().__init__(text)
        self._in_units = in_units

    def message(self, units: System) -> str:
        return self._in_units(units) if self._in_units else str(self)


def dotted(key: Key) -> str:
    """Path of keys as people write it: geometry.pivot.bore."""
    return ".".join(map(str, key)) or "file"


def one_line(text: str) -> str:
    """Text fit for a terminal: no control characters, one line, not endless.

    >>> one_line("a\\nb\\x1b[2J")
    'a b [2J'
    """
    plain = " ".join("".join(sign if sign.isprintable() else " " for sign in text[: 4 * LONGEST]).split())
    return plain if len(plain) <= LONGEST else plain[:LONGEST] + " ..."
