"""One design of the front, confirmed by mesh: `python -m analysis.confirm results/ARM/designs/ID`.

Runs the same steps as the arm as written. A design whose solid or mesh cannot be made, or whose solve ends badly, gets a
summary with its reason, and the run goes on.
"""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

from analysis.tables import write_json

REFUSED = 3  # exit code of a step that says in its last line why this design cannot be built


def steps(folder: Path) -> list[list[str]]:
    """The commands of the story, as the Snakefile runs them for the arm as written."""
    arm, place = str(folder / "arm.yaml"), str(folder)
    return [
        ["analysis.hand", arm, place],
        ["geometry.solid", arm, place],
        ["analysis.prove", place, "--sweep"],
        ["analysis.verify", place],
        ["analysis.summary", place],
    ]


def main(folder: Path) -> int:
    for step in steps(folder):
        done = subprocess.run([sys.executable, "-m", *step], text=True, stderr=subprocess.PIPE, check=False)
        if done.returncode == REFUSED:
            reason = done.stderr.strip().splitlines()[-1]
            write_json(
                folder / "summary.json", {"state": "cannot be built", "reason": reason, "mesh_margin": None}
            )
            print(f"{folder.name}: {reason}")
            return 0
        if done.returncode:
            sys.stderr.write(done.stderr)
            return done.returncode
    return 0


if __name__ == "__main__":
    sys.exit(main(Path(sys.argv[1])))
