"""Mesh, solve, refine until the bores' peaks have settled: `python -m analysis.proof DIR [--sweep]`."""

from __future__ import annotations

import sys
from pathlib import Path

from analysis.proof.refine import Unproved, run
from params.steps.arguments import Parser
from params.steps.exit_codes import REFUSED
from params.steps.guard import one_line_errors


def main() -> int:
    parser = Parser(description="Mesh, solve, refine until the bores' peaks have settled.")
    parser.add_argument("folder", type=Path)
    parser.add_argument("--sweep", action="store_true", help="one level, as for a design of the sweep")
    options = parser.parse_args()
    try:
        run(options.folder, options.sweep)
    except Unproved as reason:
        print(reason, file=sys.stderr)
        return REFUSED
    return 0


if __name__ == "__main__":
    with one_line_errors():
        sys.exit(main())
