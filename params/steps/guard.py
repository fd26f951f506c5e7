"""A step that meets missing, cut-off or stale files says so in one line and exits with 1, without a traceback.

What no message of ours foresaw may be a fault of this project: its trace goes to a file that the line names.
"""

from __future__ import annotations

import errno
import os
import sys
import traceback
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from params.steps.problems import OutOfRange, ParameterError, Unfit, one_line
from params.steps.results import READ

ROOT = Path(__file__).resolve().parents[2]
TRACES = ROOT / "results" / "log"
MEND = "delete the results that it reads and run snakemake again"
LATE = 4  # tables that a message names: those read last, one of which may hold what was met
CHANGE = "change that value in the arm's file, or remove the section that asks for it"
RIGHTS = "check the place, its rights and its room"


@contextmanager
def one_line_errors() -> Iterator[None]:
    """Run a step under this; whatever it raises becomes lines on stderr."""
    try:
        yield
    except ParameterError as error:
        print(error, file=sys.stderr)
    except Unfit as error:
        print(f"{one_line(str(error))}; {MEND}", file=sys.stderr)
    except OutOfRange as error:
        given = one_line(" ".join(sys.argv[1:2]))
        print(f"{given}: {one_line(str(error))}; nothing is extrapolated; {CHANGE}", file=sys.stderr)
    except BrokenPipeError:  # whoever read along has gone; nothing more is said to no one
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
    except OSError as error:
        named = one_line(str(error.filename or "file"))
        mend = MEND if error.errno in (errno.ENOENT, errno.ENOTDIR, None) else RIGHTS
        print(f"{named}: {error.strerror or one_line(str(error))}; {mend}", file=sys.stderr)
    except Exception as error:  # libraries raise what they like; nothing of it is hidden, the trace is kept
        print(message(error), file=sys.stderr)
    else:
        return
    sys.exit(1)


def message(error: Exception) -> str:
    """What is wrong, where in this project it was met, the mend, and the file with the trace."""
    ours = [frame for frame in traceback.extract_tb(error.__traceback__) if is_ours(frame.filename)]
    given = one_line(" ".join(sys.argv[1:2])) or "arguments"
    at = f"{Path(ours[-1].filename).name}:{ours[-1].lineno}" if ours else "step"
    wrong = f"has no {error}" if isinstance(error, KeyError) else str(error) or type(error).__name__
    again = f"if it happens again, it is a fault of this project, with the trace in {trace_file(error)}"
    last = ", ".join(dict.fromkeys(path.name for path in READ[-LATE:]))
    after = f" after reading {last}" if last else ""
    return f"{given}: {one_line(wrong)} (seen at {at}{after}); {MEND}; {again}"


def is_ours(file: str) -> bool:
    return file.startswith(str(ROOT)) and ".venv" not in file and file != __file__


def trace_file(error: Exception) -> str:
    """Write the trace beside the results' other logs, under the step's name; the file's path."""
    main = getattr(sys.modules["__main__"], "__spec__", None)  # of `python -m analysis.hand`
    step = main.name.removesuffix(".__main__") if main else Path(sys.argv[0]).stem or "step"
    path = TRACES / f"trace-{one_line(step).replace('/', '-')}.txt"
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text("".join(traceback.format_exception(error)), encoding="utf-8", errors="replace")
    except OSError as refusal:
        return f"no file, {path} cannot be written ({refusal.strerror})"
    return str(path)
