"""`python -m params.check FILE...` prints `ok` with the derived sizes, or every problem and exits with 1."""

from __future__ import annotations

import argparse
import sys
from pathlib import Path

from params.files.read import read_arm, read_material
from params.files.readroute import read_outage, read_route
from params.rules.derived import derived
from params.steps.caution import CAUTION
from params.steps.guard import plainly
from params.steps.problems import ParameterError


def report(path: Path) -> str:
    """`ok` and the derived sizes of one file.

    Raises
    ------
    ParameterError
        with every problem of the file.
    """
    if path.parent.name == "materials":
        read_material(path.stem)
        return f"{path}: ok"
    if path.parent.name in ("routes", "outages"):
        (read_route if path.parent.name == "routes" else read_outage)(path)
        return f"{path}: ok"
    arm = read_arm(path)
    rows = [f"  {name:<38}{text}" for name, text in derived(arm)]
    return "\n".join([f"{path}: ok", *rows, f"  {arm.caution}"])


def main(arguments: list[str] | None = None) -> int:
    parser = argparse.ArgumentParser(description="Check parameter files.")
    parser.add_argument("files", type=Path, nargs="+")
    parser.add_argument("--file-as", type=Path, help="write the checked file here too")
    options = parser.parse_args(arguments)
    bad = 0
    for path in options.files:
        try:
            print(report(path))
        except ParameterError as error:
            print(error, file=sys.stderr)
            bad += 1
            continue
        if options.file_as:
            options.file_as.parent.mkdir(parents=True, exist_ok=True)
            options.file_as.write_bytes(path.read_bytes())
    print(CAUTION)
    return 1 if bad else 0


if __name__ == "__main__":
    with plainly():
        sys.exit(main())
