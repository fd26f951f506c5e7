"""`python -m tests.random_arms N SEED [--mesh COUNT] [--from INDEX]`: arms checked, worked by hand, built, meshed; a table.

Without `--mesh` no mesh is made; COUNT is the number of elements to a quarter of each bore.
"""

from __future__ import annotations

import argparse
import tempfile
from collections import Counter
from pathlib import Path

from tests.random_arms.tried import Outcome, tried


def main() -> None:
    parser = argparse.ArgumentParser(
        description="Random arms through check, hand calculation, solid and mesh."
    )
    parser.add_argument("count", type=int)
    parser.add_argument("seed", type=int)
    parser.add_argument("--mesh", type=int, default=0, help="elements per quarter bore; 0: no mesh")
    parser.add_argument("--from", type=int, default=0, dest="first", help="number of the first arm")
    parser.add_argument("--no-hand", action="store_true", help="leave the hand calculation out")
    told = parser.parse_args()
    found: list[Outcome] = []
    with tempfile.TemporaryDirectory() as folder:
        for index in range(told.first, told.first + told.count):
            found.append(tried(told.seed, index, Path(folder), told.mesh, not told.no_hand))
            print(found[-1], flush=True)
    print(summary(found))


def summary(found: list[Outcome]) -> str:
    """How many arms ended at each step, and the figures of those that came through."""
    ends = Counter(one.ended for one in found)
    accepted = len(found) - ends["refused"]
    lines = [f"{len(found)} arms, {accepted} accepted by the check"]
    lines += [f"  {count:4d} {name}" for name, count in sorted(ends.items())]
    steps = Counter(one.steps for one in found if one.steps)
    lines += [f"  {count:4d} meshed at step {step} of the ladder" for step, count in sorted(steps.items())]
    if quality := sorted(one.quality for one in found if one.quality):
        lines.append(f"worst quality: least {quality[0]:.3f}, median {quality[len(quality) // 2]:.3f}")
    if seconds := sorted(one.seconds for one in found):
        lines.append(f"seconds per arm: median {seconds[len(seconds) // 2]:.1f}, most {seconds[-1]:.1f}")
    return "\n".join(lines)


if __name__ == "__main__":
    main()
