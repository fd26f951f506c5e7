"""A step that meets missing, cut-off or stale files says so in one line and exits with 1, without a traceback."""

from __future__ import annotations

import sys
import traceback
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from params.problems import ParameterError, one_line

MEND = "delete the results that it reads and run snakemake again"
UNFIT = (ValueError, LookupError, TypeError, AttributeError, ArithmeticError)


@contextmanager
def plainly() -> Iterator[None]:
    """Run a step under this; what it reads is told in a line on stderr where it does not serve.

    A line that came from no message of our own names the step's file and line, so that nothing is hidden.
    """
    try:
        yield
    except ParameterError as error:
        print(error, file=sys.stderr)
    except OSError as error:
        named = error.filename or "file"
        print(f"{one_line(str(named))}: {error.strerror or one_line(str(error))}; {MEND}", file=sys.stderr)
    except UNFIT as error:
        print(told(error), file=sys.stderr)
    else:
        return
    sys.exit(1)


def told(error: Exception) -> str:
    """What is wrong, where in this project it was met, and the mend."""
    root = str(Path(__file__).resolve().parent.parent)
    ours = [f for f in traceback.extract_tb(error.__traceback__) if f.filename.startswith(root)]
    ours = [f for f in ours if ".venv" not in f.filename and f.name != "plainly"]
    at = f"{Path(ours[-1].filename).name}:{ours[-1].lineno}" if ours else "step"
    wrong = f"has no {error}" if isinstance(error, KeyError) else str(error) or type(error).__name__
    if isinstance(error, IndexError):
        wrong = f"too few arguments or rows ({error})"
    return f"{one_line(' '.join(sys.argv[1:2])) or 'arguments'}: {one_line(wrong)} (met at {at}); {MEND}"
