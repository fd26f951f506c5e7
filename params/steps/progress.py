"""A run in the terminal: one line a step (how far, which, seconds), what failed and why, and the answer at the end.

Everything else that the workflow says goes to its own log file, what a step prints to the log of its rule.
"""

from __future__ import annotations

import logging
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

SHOWN = 12  # lines of the log of a step that failed
# Rules whose output, or else log, is the answer of a run.
ANSWERS = ("overview", "decision_table", "package")
TERMINAL = "DefaultStreamHandler"  # the workflow's handler that writes to the terminal


class Brief(logging.Filter):
    """Lets warnings and faults of the workflow pass, and writes a line for each step in place of the rest."""

    def __init__(self, write: Callable[[str], None] = print) -> None:
        super().__init__()
        self.write = write
        self.began: dict[int, tuple[float, Any]] = {}
        self.ended: list[int] = []
        self.answers: dict[str, Path] = {}
        self.failed = False

    def filter(self, record: logging.LogRecord) -> bool:
        event = getattr(getattr(record, "event", None), "name", "")
        handle = getattr(self, f"on_{event.lower()}", None)
        if handle:
            handle(record)
            return False
        return record.levelno >= logging.WARNING and not self.failed

    def on_job_info(self, record: Any) -> None:
        self.began[record.jobid] = (time.monotonic(), record)

    def on_job_finished(self, record: Any) -> None:
        self.ended.append(record.job_id)

    def on_progress(self, record: Any) -> None:
        """Lines of the steps that have ended since the last of these."""
        width = len(str(record.total))
        while self.ended:
            began, job = self.began.pop(self.ended.pop(0), (time.monotonic(), None))
            if job is not None:
                took = time.monotonic() - began
                self.write(f"{record.done:>{width}} of {record.total}  {label(job):<44} {took:6.1f} s")
                if job.rule_name in ANSWERS:
                    self.answers[job.rule_name] = answer(job)

    def on_job_error(self, record: Any) -> None:
        """What a step said before it failed."""
        self.failed = True
        logs = [Path(name) for name in record.log or [] if Path(name).is_file()]
        lines = [
            line for path in logs for line in path.read_text(errors="replace").splitlines() if line.strip()
        ]
        shown = lines[-SHOWN:] or ["it left no reason in its log"]
        self.write(f"failed: {record.rule_name}" + "".join(f"\n  {line}" for line in shown))

    def on_run_info(self, record: Any) -> None:
        """The table of rules that are to run: in the workflow's log."""


def label(job: Any) -> str:
    """Rule and what it is for, without the arm."""
    about = [str(value) for name, value in (job.wildcards or {}).items() if name != "arm"]
    return " ".join([job.rule_name.replace("_", " "), *about])


def answer(job: Any) -> Path:
    """The text of a step that answers: its output, or its log where that is no text."""
    texts = [Path(name) for name in [*job.output, *job.log] if str(name).endswith(".txt")]
    return texts[0]


def brief(logger: logging.Logger) -> Brief:
    """Make the terminal's part of a run brief; the filter comes back, for the answers at the end."""
    terminal = Brief()
    for handler in logger.handlers:
        if handler.name == TERMINAL:
            handler.addFilter(terminal)
    return terminal


def finish(terminal: Brief) -> None:
    """The answers of the steps that ran, in the order of their rules."""
    for name in ANSWERS:
        if name in terminal.answers:
            terminal.write("\n" + terminal.answers[name].read_text(errors="replace").rstrip())
