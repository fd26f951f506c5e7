"""`everything` for an arm at a coarse mesh, in a copy of the project: `python -m tests.whole.coarse ARM...`.

The arm's file as it is, but for the mesh and the number of meshed designs, so that every step of every demo arm runs to its end in
a few minutes. Exit code 1 where a run does not come to its end.
"""

from __future__ import annotations

import os
import re
import shutil
import subprocess
import sys
import tempfile
import time
from pathlib import Path

TOP = Path(__file__).resolve().parent.parent.parent
CODE = ("params", "geometry", "analysis", "profiles", "Snakefile", "requirements.lock", "pyproject.toml")
# Elements on a quarter bore, meshes, growth and designs: coarse, for a run whose figures nobody reads.
COARSE = {"per_quarter_bore": "3", "levels": "1", "growth": "2.0", "confirm": "1"}
LARGER = 2.0  # times the file's largest element
FEWEST = 3  # sizes in each range of the sweep: its ends and one between


def coarse(text: str) -> str:
    """The text of an arm's file with a coarse mesh and a small sweep."""
    for key, value in COARSE.items():  # numbers: cracks have a growth of their own, in words
        text, count = re.subn(rf"^(  {key}: )[\d.]+$", rf"\g<1>{value}", text, flags=re.MULTILINE)
        assert count == 1, key
    text, count = re.subn(r"^(    steps: )\d+$", rf"\g<1>{FEWEST}", text, flags=re.MULTILINE)
    assert count, "the arm sweeps nothing"
    return re.sub(
        r"^(  largest: )([\d.]+)",
        lambda found: f"{found[1]}{LARGER * float(found[2]):g}",
        text,
        flags=re.MULTILINE,
    )


def copied(top: Path, arm: str) -> None:
    """The project's code and files at `top`, the arm's file coarse; compiled kernels come along."""
    for part in CODE:
        source = TOP / part
        (shutil.copytree if source.is_dir() else shutil.copy2)(source, top / part)
    file = top / "params" / "arms" / f"{arm}.yaml"
    file.write_text(coarse(file.read_text()))


def workflow(top: Path, arm: str, *arguments: str, **surroundings: str) -> subprocess.CompletedProcess[bytes]:
    """The workflow at `top` for an arm; what it says goes to the terminal."""
    command = [sys.executable, "-m", "snakemake", "--cores", "2", *arguments, "--config", f"arm={arm}"]
    return subprocess.run(
        command, cwd=top, env=os.environ | {"PYTHONPATH": str(top)} | surroundings, check=False
    )


def run(arm: str) -> bool:
    """Whether `everything` comes to its end."""
    with tempfile.TemporaryDirectory() as name:
        copied(Path(name), arm)
        return workflow(Path(name), arm, "everything").returncode == 0


def main(arms: list[str]) -> int:
    failed = False
    for arm in arms:
        began, ended = time.monotonic(), run(arm)
        failed |= not ended
        state = "came to its end" if ended else "stopped"
        print(f"{arm}: {state} after {time.monotonic() - began:.0f} s", flush=True)
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
