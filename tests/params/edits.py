"""A valid parameter file with one thing changed, and what the reader says of it."""

from __future__ import annotations

from pathlib import Path

from params.files.read import read_arm
from params.steps.problems import ParameterError
from tests.arms import ARMS

NAME = "bench-lever"
VALID = (ARMS / f"{NAME}.yaml").read_text()


def edited(*changes: tuple[str, str], below: str = "") -> tuple[str, int]:
    """The valid text with each old replaced by new at its first place below the line `below`; line of the first change.

    Raises
    ------
    AssertionError
        where an old text is not there: the test would change nothing.
    """
    text, line = VALID, 0
    for old, new in changes:
        start = text.index(f"\n{below}") if below else 0
        assert old in text[start:], f"{old!r} is not below {below!r}"
        place = text.index(old, start)
        line = line or text.count("\n", 0, place) + 1
        text = text[:place] + new + text[place + len(old) :]
    return text, line


def problem_lines(folder: Path, text: str | bytes, name: str = NAME) -> list[str]:
    """One line for every problem of this text, without the folder's name; none where it reads well."""
    path = folder / f"{name}.yaml"
    path.write_bytes(text if isinstance(text, bytes) else text.encode())
    try:
        read_arm(path)
    except ParameterError as error:
        if len(lines := str(error).split("\n")) != len(error.problems):
            raise ValueError("a problem takes more than one line") from error
        return [line.replace(f"{folder}/", "") for line in lines]
    return []
