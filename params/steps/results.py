"""JSON files under results/ read back: a file that is cut off, or has not the key that is wanted, is named."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any, NoReturn

from params.steps import sealed
from params.steps.problems import Unfit, one_line

READ: list[Path] = []  # files of results read so far, for a message on what came of them


class ResultFile(dict[str, Any]):
    """What one file said; a missing key is reported with the file's name."""

    def __init__(self, items: Any, path: Path) -> None:
        super().__init__(items)
        self.path = path

    def __missing__(self, key: str) -> NoReturn:
        raise Unfit(f"{self.path}: has no {one_line(str(key))}")

    def __reduce__(self) -> Any:  # for copies and for other processes
        return ResultFile, (dict(self), self.path)


def read_json(path: Path) -> Any:
    """The content of a JSON file: an object, as all of ours.

    Raises
    ------
    Unfit
        where it is not as it was written, cut off or no JSON object, and later where a key that is wanted is not there.
    """
    try:
        READ.append(path)
        sealed.check(path)
        read = json.loads(path.read_text(encoding="utf-8"), object_hook=lambda items: ResultFile(items, path))
    except (ValueError, RecursionError) as error:
        raise Unfit(f"{path}: is not a complete JSON file ({error})") from None
    if not isinstance(read, ResultFile):
        raise Unfit(f"{path}: is not a JSON object")
    return read
