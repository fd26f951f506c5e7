"""A run that was killed leaves the workflow's lock behind: the next one removes it, where no other run is under way in this folder.

Every run holds a shared lock of the system on `.snakemake/running`, which ends with its process however that ends. Who gets it
alone is the only run.
"""

from __future__ import annotations

import os
import shutil
from contextlib import suppress
from pathlib import Path

HELD: list[int] = []  # open as long as this process lives


def enter(folder: Path) -> bool:
    """Mark a run in the workflow's folder; true where a lock that a dead run had left was removed."""
    with suppress(
        ImportError, OSError
    ):  # no such locks on this system or this disk: the workflow's own remains
        import fcntl  # not on every system

        folder.mkdir(exist_ok=True)
        HELD.append(os.open(folder / "running", os.O_RDWR | os.O_CREAT, 0o644))
        try:
            fcntl.flock(HELD[-1], fcntl.LOCK_EX | fcntl.LOCK_NB)
        except BlockingIOError:  # another run: its lock stays
            fcntl.flock(HELD[-1], fcntl.LOCK_SH)
            return False
        left = any((folder / "locks").glob("*"))
        shutil.rmtree(folder / "locks", ignore_errors=True)
        fcntl.flock(HELD[-1], fcntl.LOCK_SH)
        return left
    return False
