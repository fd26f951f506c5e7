"""Issued revisions of an arm's file: `params/arms/issued/NAME-REVISION.yaml`, byte for byte as they left the house.

Two different parts never share a number and a revision: a file that bears both of an issued one, with other bytes, is refused.
"""

from __future__ import annotations

import os
from collections.abc import Iterator
from pathlib import Path

from params.files.read import placed
from params.files.yamlfile import read_yaml
from params.schema.arm import Arm
from params.steps.library import ISSUED
from params.steps.problems import Fault, ParameterError, Problem

MEND = "raise the revision, with a row in revisions that says why"


def place(path: Path, revision: str) -> Path:
    """Where a revision of the arm's file `path` is kept once it is issued."""
    return path.parent / ISSUED / f"{path.stem}-{revision}.yaml"


def issue(path: Path, revision: str) -> Path:
    """Keep the arm's file as issued; nothing where it is kept already.

    Raises
    ------
    ParameterError
        where another file was issued as this revision.
    """
    target, content = place(path, revision), path.read_bytes()
    if target.exists():
        if target.read_bytes() != content:
            raise ParameterError([placed(other(revision, target), read_yaml(path))])
        return target
    target.parent.mkdir(exist_ok=True)
    new = target.with_name(f".{os.getpid()}-{target.name}")
    try:
        new.write_bytes(content)
        os.link(new, target)  # never over a file that another has put there meanwhile
    finally:
        new.unlink(missing_ok=True)
    return target


def other(revision: str, target: Path) -> Fault:
    """The fault of a file that is not what was issued under its revision."""
    return Fault(("revision",), revision, f"was issued as another part, {target}", "", MEND)


def issued_as(number: str, revision: str, arms: Path) -> list[Path]:
    """Files issued under this number and revision, kept beside the arms' files in `arms`."""
    files = sorted((arms / ISSUED).glob(f"*-{revision}.yaml"))
    return [path for path in files if number_of(path) == number]


def issued_otherwise(arm: Arm, path: Path) -> Iterator[Problem]:
    """A problem for each issued file with this arm's number and revision that has other bytes."""
    for target in issued_as(arm.drawing.number or arm.name, arm.revision, path.parent):
        if target.read_bytes() != path.read_bytes():
            yield placed(other(arm.revision, target), read_yaml(path))


def number_of(path: Path) -> str:
    """Identification number that an issued file bears, whatever else the schema of today says of it."""
    try:
        data = read_yaml(path).data
    except ParameterError:
        return path.stem.rpartition("-")[0]
    drawing = data.get("drawing") if isinstance(data, dict) else None
    number = drawing.get("number") if isinstance(drawing, dict) else None
    return str(number or data.get("name")) if isinstance(data, dict) else path.stem.rpartition("-")[0]
