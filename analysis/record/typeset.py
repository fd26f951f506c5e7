"""Text and tables for the typesetter. Every word that is not ours passes `text`, as a string that cannot be markup."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable, Sequence
from typing import Any

WORD = 24  # letters after which a word may break
WIDTHS = {"w": "1fr", "n": "10mm"}
BREAK = "\u200b"  # zero-width space: a place to break, nothing to see


def text(value: Any, word: int = WORD) -> str:
    """A value as a string for the typesetter, shown as it is: no markup, no control characters, long words breakable.

    >>> text('#eval("1") <b>')
    '#"#eval(\\\\"1\\\\") <b>"'
    """
    return f"#{quoted(value, word)}"


def quoted(value: Any, word: int = WORD) -> str:
    """The same as an argument of a function."""
    plain = "".join(" " if char in "\n\r\t" else char for char in str(value) if not is_control(char))
    broken = re.sub(rf"(\S{{{word}}})(?=\S)", rf"\1{BREAK}", plain)
    escaped = broken.replace("\\", "\\\\").replace('"', '\\"')
    return f'"{escaped}"'


def is_control(char: str) -> bool:
    """Control and bidirectional override characters, surrogates and code points without a meaning."""
    return (
        unicodedata.category(char) in ("Cc", "Cs", "Cn") and char not in "\n\r\t"
    ) or char in "\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069"


def sentence(value: str) -> str:
    """With a capital letter in front."""
    return value[:1].upper() + value[1:]


def heading(title: str, level: int = 1) -> str:
    return f"#heading(level: {level}, {quoted(title)})"


def paragraph(value: Any) -> str:
    return f"{text(value)}\n"


def note(value: Any) -> str:
    """Smaller text under a table or picture."""
    return f"#note({quoted(value)})"


def items(values: Iterable[Any]) -> str:
    """A list of points."""
    return "\n".join(f"- {text(value)}" for value in values) + "\n"


def table(
    head: Sequence[str], rows: Iterable[Sequence[Any]], columns: str = "", word: int = WORD, size: float = 8.0
) -> str:
    """A table whose head repeats on every page; `columns` has one letter each: l, r, n narrow, or w, which takes what is left."""
    columns = columns or "l" * len(head)
    widths = ", ".join(WIDTHS.get(letter, "auto") for letter in columns)
    sides = ", ".join("right" if letter in "rn" else "left" for letter in columns)
    cells = ",\n  ".join(
        ", ".join(
            quoted(cell, 40 if letter == "w" else word) for cell, letter in zip(row, columns, strict=True)
        )
        for row in rows
    )
    top = ", ".join(quoted(name, word) for name in head)
    return (
        f"#rows(({widths},), ({sides},), ({top},), (\n  {cells},\n), size: {size}pt)"
        if cells
        else note("None.")
    )


def pairs(rows: Iterable[tuple[str, Any]]) -> str:
    """Names and values without a head."""
    cells = ", ".join(f"({quoted(name)}, {quoted(value)})" for name, value in rows)
    return f"#pairs(({cells},))"


def picture(name: str, caption: str, width: str = "100%") -> str:
    return f"#picture({quoted(name, 999)}, {quoted(caption)}, {width})"
