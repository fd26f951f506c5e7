"""Compiled kernels kept from an earlier run are thrown away where any source of a kernel has changed since.

Numba sees a change of the file of a kernel, not of a file that the kernel calls into (its manual, "Caching limitations"): without
this a changed formula would go on giving the figures of the old one.
"""

from __future__ import annotations

import hashlib
from pathlib import Path

TOP = Path(__file__).resolve().parents[2]
STAMP = Path("__pycache__") / "kernels.sha256"
KEPT = ("*.nbi", "*.nbc")  # numba's index and code, beside each source


def refresh(top: Path = TOP) -> bool:
    """Whether kept kernels under `top`/analysis were of other sources than those there now; they are gone then."""
    room = top / "analysis"
    stamp, now = room / STAMP, digest(room)
    if stamp.is_file() and stamp.read_text() == now:
        return False
    kept = [path for pattern in KEPT for path in room.rglob(pattern)]
    for path in kept:
        path.unlink(missing_ok=True)
    stamp.parent.mkdir(exist_ok=True)
    stamp.write_text(now)
    return bool(kept)


def digest(room: Path) -> str:
    """Digest of every source that has a kernel."""
    total = hashlib.sha256()
    for path in sorted(room.rglob("*.py")):
        text = path.read_bytes()
        if b"njit" in text:
            total.update(path.relative_to(room).as_posix().encode() + b"\0" + text)
    return total.hexdigest()
