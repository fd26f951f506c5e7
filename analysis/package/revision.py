"""What changed since the revision issued last: parameter files of two packages, value beside value."""

from __future__ import annotations

import tempfile
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from analysis.package import archive
from params.files.read import read_arm
from params.files.yamlfile import read_yaml
from params.schema.arm import Arm
from params.steps.library import ARM_FILE
from params.steps.problems import ParameterError

PARAMETERS = f"parameters/{ARM_FILE}"  # its place in a package
UNSEEN = (
    "sweep",
    "mesh",
    "found_cracks",
    "revisions",
    "outage",
    "routes",
)  # what changes no part; the last two are the owner's plans
WRITTEN = "as written"


@dataclass(frozen=True)
class Issued:
    """One package in the folder of issued ones."""

    path: Path
    arm: Arm
    texts: dict[str, str]

    @property
    def order(self) -> tuple[str, int, str]:
        """By date of issue, then A to Z, AA and on."""
        return str(self.arm.drawing.issued or ""), len(self.arm.revision), self.arm.revision

    def names(self, chosen: str) -> bool:
        """Whether it is the package of this design or route."""
        return self.path.stem == f"{self.arm.name}-{self.arm.revision}{chosen}"


def compared_with(source: Path, now: Arm, folder: Path) -> tuple[str, Issued] | None:
    """What the parameter file in `source` is compared with and its name: the package issued last, else, for a design, the arm as
    written."""
    if issued := last_issued(folder, now, chosen(source)):
        return issued.arm.revision, issued
    parameter_file = written(source)
    return (
        (WRITTEN, Issued(parameter_file, read_arm(parameter_file), texts(parameter_file)))
        if parameter_file
        else None
    )


def written(source: Path) -> Path | None:
    """The file of the arm as written beside a swept design or a route's best; None for itself and where it is not there."""
    above = source.parent if source.parent.name == "designs" else source.parent.parent
    parameter_file = above.parent / "as-written" / ARM_FILE
    return parameter_file if chosen(source) and parameter_file.is_file() else None


def chosen(source: Path) -> str:
    """The design or route at the end of a package's name; none for the arm as written.

    >>> chosen(Path("r/arm/designs/d1")), chosen(Path("r/arm/making/cast/best")), chosen(Path("r/arm/as-written"))
    ('-d1', '-cast', '')
    """
    if source.parent.name == "designs":
        return f"-{source.name}"
    return f"-{source.parent.name}" if source.name == "best" else ""


def called(since: str) -> str:
    """What was before, in words."""
    return since if since == WRITTEN else f"revision {since}"


def last_issued(folder: Path, now: Arm, chosen: str = "") -> Issued | None:
    """The latest package of the arm in the folder that bears another revision than this one.

    Among those of one revision: that of the same design or route, then that of the arm as written.
    """
    packages = [package for path in sorted(folder.glob("*.zip")) if (package := opened(path))]
    others = [one for one in packages if one.arm.name == now.name and one.arm.revision != now.revision]
    return max(others, key=lambda one: (*one.order, one.names(chosen), one.names("")), default=None)


def opened(path: Path) -> Issued | None:
    """A package's parameter file; None where the file is no package or its parameters can no longer be read."""
    try:
        entries, _ = archive.read(path)
    except archive.BadArchive:
        return None
    with tempfile.TemporaryDirectory() as folder:
        parameter_file = Path(folder) / ARM_FILE
        parameter_file.write_bytes(entries.get(PARAMETERS, b""))
        try:
            return Issued(path, read_arm(parameter_file), texts(parameter_file))
        except ParameterError:
            return None


def texts(parameter_file: Path) -> dict[str, str]:
    """Every value of a parameter file as it is written there, by its path of keys."""
    return {key: str(value) for key, value in flat(read_yaml(parameter_file).data)}


def changes(before: Issued, now: Arm, written: dict[str, str]) -> list[dict[str, str]]:
    """Fields whose value differs, as both files write them."""
    old, new = dict(flat(before.arm.model_dump())), dict(flat(now.model_dump()))
    keys = [*new, *(key for key in old if key not in new)]
    return [
        {
            "field": key,
            "before": shown(key, old, before.texts),
            "now": shown(key, new, written),
        }
        for key in keys
        if old.get(key) != new.get(key) and key.split(".")[0] not in UNSEEN and key != "revision"
    ]


def shown(key: str, values: dict[str, Any], written: dict[str, str]) -> str:
    if key in written:
        return written[key]
    return "not given" if values.get(key) is None else f"{values[key]} (default)"


def flat(value: Any, path: str = "") -> Iterator[tuple[str, Any]]:
    """Leaves of nested mappings and lists with their path of keys."""
    if isinstance(value, dict):
        for key, inner in value.items():
            yield from flat(inner, f"{path}.{key}" if path else str(key))
    elif isinstance(value, list | tuple):
        for index, inner in enumerate(value):
            yield from flat(inner, f"{path}.{index}")
    else:
        yield path, value
