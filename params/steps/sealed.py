"""Results written whole: under a temporary name, sealed, then renamed; a reader that finds another content than was sealed says so.

The seal of a file stands in `.seals` beside it: SHA-256, bytes and lines. It tells damage and a later hand apart from what a step
made; it is no protection against intent. A file without a seal (made by hand, or for a test) is read as it is.
"""

from __future__ import annotations

import hashlib
import os
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from params.steps.problems import Unfit

SEALS = ".seals"
CHUNK = 1 << 20  # bytes


@contextmanager
def whole(path: Path) -> Iterator[Path]:
    """A name beside `path` to write to; what was written there is sealed and takes the name of `path`, or is removed.

    The temporary name keeps the suffix, by which writers choose their format.
    """
    path.parent.mkdir(parents=True, exist_ok=True)
    new = path.with_name(f".{os.getpid()}-{path.name}")
    try:
        yield new
        seal(path).parent.mkdir(exist_ok=True)
        seal(path).write_text(summed(new))
        os.replace(new, path)
    finally:
        new.unlink(missing_ok=True)


def write_text(path: Path, text: str) -> None:
    """Write UTF-8 text whole, line ends as they stand in it."""
    with whole(path) as new:
        new.write_text(text, encoding="utf-8", newline="")


def check(path: Path) -> None:
    """Nothing where the file is as it was sealed, or was never sealed.

    Raises
    ------
    Unfit
        where it has other bytes; says how many lines are there and should be.
    """
    try:
        sealed = seal(path).read_text()
    except FileNotFoundError:
        return
    if (now := summed(path)) == sealed:
        return
    try:
        (_, held, lines), (_, holds, there) = sealed.split(), now.split()
    except ValueError:
        raise Unfit(f"{seal(path)}: is not the seal of a file") from None
    if held == holds:
        raise Unfit(f"{path}: is not as its step wrote it, {held} bytes of other content")
    raise Unfit(f"{path}: is not as its step wrote it, {there} lines in place of {lines}")


def seal(path: Path) -> Path:
    """Where the seal of a file stands."""
    return path.parent / SEALS / path.name


def summed(path: Path) -> str:
    """SHA-256, bytes and ends of lines of a file."""
    digest, size, lines = hashlib.sha256(), 0, 0
    with path.open("rb") as file:
        while chunk := file.read(CHUNK):
            digest.update(chunk)
            size, lines = size + len(chunk), lines + chunk.count(b"\n")
    return f"{digest.hexdigest()} {size} {lines}\n"
