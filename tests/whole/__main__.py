"""Every demo arm to its end, coarsely meshed, and what the workflow promises of inputs: `python -m tests.whole [ARM...]`.

For the first arm each step is traced, what it read is compared with what its rule declares, a change of each kind of input is
tried, and the workflow's own report is made. Exit code 1 where a run stops or a comparison differs.
"""

from __future__ import annotations

import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

from tests.proof import outside, outside_bores
from tests.whole import coarse, declared, reruns

ARMS = ("bench-lever", "linkspan-rocker", "sluice-crank")
REPORT = 1_000_000  # bytes: one with its pictures is larger


def everything(top: Path, arm: str, traces: Path) -> list[str]:
    """A line for each fault of a traced run of all targets."""
    targets = ["everything", "survey"]
    if not declared.can_trace():
        print("steps cannot be traced here: what they read is NOT compared with what their rules declare")
        ended = coarse.workflow(top, arm, *targets).returncode == 0
        return [] if ended else [f"{arm}: stopped"]
    if declared.traced(top, arm, targets, traces):
        return [f"{arm}: stopped"]
    return declared.compared(top, traces)


def report(top: Path, arm: str) -> list[str]:
    """A line where the workflow's own report is not made or holds no pictures."""
    file = top / "report.html"
    made = coarse.workflow(top, arm, "--report", str(file)).returncode == 0
    return [] if made and file.stat().st_size > REPORT else ["the report has no pictures or is not made"]


def first(arm: str) -> list[str]:
    """Faults of the arm that is looked into."""
    with tempfile.TemporaryDirectory() as name, tempfile.TemporaryDirectory() as traces:
        top = Path(name)
        coarse.copied(top, arm)
        faults = timed(f"{arm}, traced", lambda: everything(top, arm, Path(traces)))
        if any("stopped" in line for line in faults):
            return faults
        written = top / "results" / arm / "as-written"
        faults += timed("tables again from the fields alone", lambda: outside.faults(written))
        faults += timed("figures of the bores from files alone", lambda: outside_bores.faults(written))
        faults += timed("what a change makes again", lambda: reruns.problems(top, arm))
        return faults + timed("report", lambda: report(top, arm))


def timed(what: str, check: Callable[[], list[str]]) -> list[str]:
    """The faults that a check finds, told at once after a line that says how many and how long it took."""
    began, faults = time.monotonic(), check()
    print(
        f"{what}: {len(faults) or 'no'} faults after {time.monotonic() - began:.0f} s",
        *faults,
        sep="\n",
        flush=True,
    )
    return faults


def main(arms: list[str]) -> int:
    faults = first(arms[0])
    for arm in arms[1:]:
        faults += timed(arm, lambda arm=arm: [] if coarse.run(arm) else [f"{arm}: stopped"])
    print(*faults, sep="\n")
    return 1 if faults else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:] or list(ARMS)))
