"""A run in the terminal: one line a step (how far, which, seconds), what failed and why, and the answer at the end.

Everything else that the workflow says goes to its own log file, what a step prints to the log of its rule.
"""

from __future__ import annotations

import logging
import sys
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

SHOWN = 12  # lines of the log of a step that failed
# Rules whose output, or else log, is the answer of a run.
ANSWERS = ("overview", "decision_table", "package")
TERMINAL = "DefaultStreamHandler"  # the workflow's handler that writes to the terminal
STOPPING = "Terminating processes on user request"  # what the workflow says after Ctrl-C
# What it says before the first step that a reader need not know, by its beginning.
USUAL = (
    "Assuming",
    "Building DAG",
    "Using shell",
    "Provided cores",
    "Rules claiming",
    "Select jobs",
    "Execute ",
)
COMMAND_FAILED = "CalledProcessError"  # in what it says of a step just before the line that we write
# Faults of the whole run that are told in our words, by the name of the workflow's exception.
FAULTS = {
    "LockException": "another run in this folder makes the same files; start again when it has ended",
}


class Brief(logging.Filter):
    """Lets warnings and faults of the workflow pass, and writes a line for each step in place of the rest.

    A dry run is left as it is but for the lines at its beginning.
    """

    def __init__(self, dry: bool = False, write: Callable[[str], None] | None = None) -> None:
        super().__init__()
        self.dry = dry
        self.write = write or to_terminal
        self.began: dict[int, tuple[float, Any]] = {}
        self.ended: list[int] = []
        self.answers: dict[str, Path] = {}
        self.started = self.failed = self.stopped = False
        self.done = "no step"

    def filter(self, record: logging.LogRecord) -> bool:
        event = getattr(getattr(record, "event", None), "name", "").lower()
        if event in ("workflow_started", "resources_info") or str(record.msg).startswith(USUAL):
            return False
        if event == "error" and (fault := FAULTS.get(getattr(record, "exception", ""))):
            self.write(fault)
            return False
        if event == "error" and COMMAND_FAILED in str(record.msg):
            return False
        if self.dry:
            return True
        if handle := getattr(self, f"on_{event}", None):
            handle(record)
            return False
        if str(record.msg).startswith(STOPPING) and not self.stopped:
            self.stopped = True
            self.write("stopping: the steps that run are ended")
        if self.failed or self.stopped:  # the workflow repeats at length what a line has said
            return False
        return record.levelno >= logging.WARNING or not self.started

    def on_run_info(self, record: Any) -> None:
        """The table of rules that are to run: in the workflow's log."""

    def on_job_info(self, record: Any) -> None:
        self.started = True
        self.began[record.jobid] = (time.monotonic(), record)

    def on_job_finished(self, record: Any) -> None:
        self.ended.append(record.job_id)

    def on_progress(self, record: Any) -> None:
        """Lines of the steps that have ended since the last of these."""
        width = len(str(record.total))
        self.done = f"{record.done} of {record.total} steps"
        while self.ended:
            began, job = self.began.pop(self.ended.pop(0), (time.monotonic(), None))
            if job is not None:
                took = time.monotonic() - began
                self.write(f"{record.done:>{width}} of {record.total}  {label(job):<44} {took:6.1f} s")
                if job.rule_name in ANSWERS:
                    self.answers[job.rule_name] = answer(job)

    def on_job_error(self, record: Any) -> None:
        """What a step said before it failed; the workflow says it twice."""
        if self.stopped or record.jobid not in self.began:
            return
        self.failed = True
        _, job = self.began.pop(record.jobid)
        logs = [Path(name) for name in record.log or [] if Path(name).is_file()]
        lines = [
            line for path in logs for line in path.read_text(errors="replace").splitlines() if line.strip()
        ]
        shown = lines[-SHOWN:] or ["it left no reason in its log"]
        self.write(f"failed: {label(job)}" + "".join(f"\n  {line}" for line in shown))

    def answer(self) -> None:
        """At the end: the answers of the steps that ran, in the order of their rules."""
        for name in ANSWERS:
            if name in self.answers:
                self.write("\n" + self.answers[name].read_text(errors="replace").rstrip())

    def unfinished(self) -> None:
        """At the end of a run that did not come to its end."""
        why = "stopped" if self.stopped else "not finished"
        self.write(f"{why}: {self.done} done; the same command goes on from there")


def to_terminal(line: str) -> None:
    """Where the workflow's own lines go."""
    print(line, file=sys.stderr, flush=True)


def label(job: Any) -> str:
    """Rule and what it is for, without the arm."""
    about = [str(value) for name, value in (job.wildcards or {}).items() if name != "arm"]
    return " ".join([job.rule_name.replace("_", " "), *about])


def answer(job: Any) -> Path:
    """The text of a step that answers: its output, or its log where that is no text."""
    texts = [Path(name) for name in [*job.output, *job.log] if str(name).endswith(".txt")]
    return texts[0]


def brief(logger: logging.Logger, dry: bool) -> Brief:
    """Make the terminal's part of a run brief; the filter comes back, for what is said at the end."""
    reporter = Brief(dry)
    for handler in logger.handlers:
        if handler.name == TERMINAL:
            handler.addFilter(reporter)
    return reporter
