"""One check of a package: whether it passed, and what was compared."""

from __future__ import annotations

from dataclasses import dataclass

SAME = (
    1e-6  # relative: the exchange format keeps some ten digits of coordinates, volumes follow to about 1e-9
)


@dataclass(frozen=True)
class Finding:
    good: bool
    text: str


def agreement(what: str, expected: float, read: float, unit: str) -> Finding:
    """A figure of the package beside the one that the files inside give."""
    good = abs(expected - read) <= SAME * max(abs(expected), 1.0)
    if good:
        return Finding(True, f"{what}: {read:.6g} {unit}".rstrip() + ", as the parameter file gives")
    return Finding(
        False,
        f"{what}: {read:.6g} {unit} in the STEP file, but {expected:.6g} {unit} from the parameter file",
    )
