"""What a result was made from, as digests of the files that people wrote and of the program, and what of that has changed."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from pathlib import Path

from params.files.read import read_arm
from params.files.readroute import read_outage
from params.schema.arm import Arm
from params.steps.contract import Contract
from params.steps.library import OUTAGE, PROJECT, sha256
from params.steps.problems import ParameterError
from params.steps.program import digest

MARK = 12  # characters of a digest that are shown
# The steps that lead to a summary: results are of another program where one of these has changed.
TO_SUMMARY = (
    "analysis.hand",
    "geometry.solid",
    "analysis.proof",
    "analysis.proof.beside",
    "analysis.proof.summary",
)


class Origin(Contract):
    """SHA-256 of all that a result was made from."""

    arm: str
    inputs: dict[str, str]  # by their names relative to `params`
    program: str


def origin(arm: Arm, source: Path, modules: Iterable[str] = (), names: Iterable[str] | None = None) -> Origin:
    """Digests of the arm's file `source`, of the library files `names` (all of the run's copies without), and of the program.

    `modules` are the steps that count; without them the whole program does.
    """
    files = copies(arm.library) if names is None else {name: arm.library / name for name in names}
    inputs = {name: sha256(path) for name, path in sorted(files.items())}
    return Origin(arm=sha256(source), inputs=inputs, program=digest(*modules))


def copies(library: Path) -> dict[str, Path]:
    """A run's copies by the names of the files they were made from, relative to `params`; none where there is no run."""
    if library == PROJECT:
        return {}
    digests = {
        path.relative_to(library).as_posix(): path
        for kind in ("materials", "routes")
        for path in library.glob(f"{kind}/*.yaml")
    }
    if (library / OUTAGE).is_file():
        digests[f"outages/{read_outage(library / OUTAGE)[0].name}.yaml"] = library / OUTAGE
    return digests


def lines(recorded: Origin) -> Iterator[tuple[str, str]]:
    """Name and digest of all that a result was made from, for a table."""
    yield "parameter file", recorded.arm
    yield from recorded.inputs.items()
    yield "program", recorded.program


def changed(
    recorded: Origin, source: Path, modules: Iterable[str] = (), library: Path = PROJECT
) -> list[str]:
    """What a result was made from and now is another: the arm's file `source`, files of the library, the outage, the program."""
    changes = [] if source.is_file() and recorded.arm == sha256(source) else ["the parameter file"]
    for name, old in recorded.inputs.items():
        path = library / name
        if not path.is_file() or sha256(path) != old:
            changes.append(name)
    changes += other_outage(recorded, source)
    return changes + ([] if recorded.program == digest(*modules) else ["the program"])


def other_outage(recorded: Origin, source: Path) -> list[str]:
    """The outage that a result was made for, where the arm's file now names another."""
    try:
        named = read_arm(source).outage
    except (ParameterError, OSError):
        return []
    used = [Path(name).stem for name in recorded.inputs if name.startswith("outages/")]
    return [f"the outage ({name}, the file names {named})" for name in used if named and name != named]
