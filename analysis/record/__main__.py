"""The bound record of one arm: `python -m analysis.record results/ARM record.pdf`."""

from pathlib import Path

from analysis.record.book import main
from params.arguments import arguments
from params.plainly import plainly

with plainly():
    main(*arguments(__doc__, results=Path, target=Path))
