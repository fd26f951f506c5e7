import sys
from pathlib import Path

from analysis.record.book import main

main(Path(sys.argv[1]), Path(sys.argv[2]))
