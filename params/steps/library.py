"""The files that a result rests on beside the arm's own: materials, routes and the outage.

A run files a copy of each in `results/ARM/inputs/`, and every step of that run reads the copies; a step by hand, away from such a
folder, reads `params/`. Content decides what is up to date, so each file is known by its SHA-256.
"""

from __future__ import annotations

import hashlib
from pathlib import Path

PROJECT = Path(__file__).resolve().parents[1]  # what people write
INPUTS = "inputs"  # beside an arm's results: copies of what they rest on
ISSUED = "issued"  # beside the arms' files: revisions as they left the house, never changed again
ARM_FILE, OUTAGE = "arm.yaml", "outage.yaml"  # copies that do not bear the name of what they describe


def library_of(path: Path) -> Path:
    """The folder whose `materials` and `routes` count for the file or folder `path`."""
    place = path.resolve()
    folders = (folder for parent in (place, *place.parents) for folder in (parent, parent / INPUTS))
    return next((folder for folder in folders if (folder / "materials").is_dir()), PROJECT)


def is_copy(path: Path) -> bool:
    """Whether a file is a run's copy, whose names were checked when it was made."""
    return path.name in (ARM_FILE, OUTAGE) or path.parent.parent.name == INPUTS


def sha256(path: Path) -> str:
    """SHA-256 of a file's content."""
    return hashlib.sha256(path.read_bytes()).hexdigest()
