"""One design of the front, judged by mesh: `python -m analysis.sweep.confirm results/ARM/designs/ID`.

Runs the same steps as the arm as written, in one process except the CAD. A design whose solid or mesh cannot be made, or
whose solve fails, gets a summary with the reason, and the run goes on.
"""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

from analysis.contracts.summary import NotBuilt
from analysis.hand import __main__ as hand
from analysis.proof import beside, refine, summary
from analysis.tables.files import write_json
from params.steps.arguments import arguments
from params.steps.exit_codes import REFUSED
from params.steps.guard import one_line_errors


class Unbuilt(Exception):  # noqa: N818 - an answer, not a fault of the program
    """The solid cannot be made; the message says why."""


def solid(folder: Path) -> None:
    """The solid's step, in a process of its own: the analysis loads no CAD."""
    command = [sys.executable, "-m", "geometry.solid", str(folder / "arm.yaml"), str(folder)]
    done = subprocess.run(command, text=True, stderr=subprocess.PIPE, check=False)
    if done.returncode == REFUSED:
        raise Unbuilt(done.stderr.strip().splitlines()[-1])
    sys.stderr.write(done.stderr)
    done.check_returncode()


def confirm(folder: Path) -> None:
    """Solid, hand calculation, mesh and stresses of the arm in `folder`."""
    hand.main(folder / "arm.yaml", folder)
    solid(folder)
    refine.run(folder, sweep=True)
    beside.main(folder)
    summary.main(folder)


def main(folder: Path) -> int:
    try:
        confirm(folder)
    except (Unbuilt, refine.Unproved) as reason:
        write_json(folder / "summary.json", NotBuilt(reason=str(reason)))
        print(f"{folder.name}: not judged by mesh: {reason}")
    return 0


if __name__ == "__main__":
    with one_line_errors():
        sys.exit(main(*arguments(__doc__, folder=Path)))
