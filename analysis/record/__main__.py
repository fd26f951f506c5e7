"""The bound record of one arm: `python -m analysis.record results/ARM record.pdf`."""

from pathlib import Path

from analysis.record.book import main
from params.steps.arguments import arguments
from params.steps.guard import one_line_errors

with one_line_errors():
    main(*arguments(__doc__, results=Path, target=Path))
