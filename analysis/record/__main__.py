import sys
from pathlib import Path

from analysis.record.book import main
from params.steps.guard import plainly

with plainly():
    main(Path(sys.argv[1]), Path(sys.argv[2]))
