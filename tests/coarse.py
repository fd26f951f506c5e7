"""`everything` for an arm at a coarse mesh, in a copy of the project: `python -m tests.coarse ARM...`.

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

TOP = Path(__file__).resolve().parent.parent
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


def run(arm: str) -> int:
    with tempfile.TemporaryDirectory() as name:
        top = Path(name)
        for part in CODE:
            source = TOP / part
            copy = shutil.copytree if source.is_dir() else shutil.copy2
            copy(source, top / part)
        file = top / "params" / "arms" / f"{arm}.yaml"
        file.write_text(coarse(file.read_text()))
        command = [
            sys.executable,
            "-m",
            "snakemake",
            "--cores",
            "2",
            "--config",
            f"arm={arm}",
            "--",
            "everything",
        ]
        return subprocess.run(
            command, cwd=top, env=os.environ | {"PYTHONPATH": str(top)}, check=False
        ).returncode


def main(arms: list[str]) -> int:
    failed = []
    for arm in arms:
        began = time.monotonic()
        if run(arm):
            failed.append(arm)
        print(
            f"{arm}: {'stopped' if arm in failed else 'came to its end'} after {time.monotonic() - began:.0f} s",
            flush=True,
        )
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
