"""`python -m params.issue NAME` keeps params/arms/NAME.yaml as it leaves the house: params/arms/issued/NAME-REVISION.yaml.

From then on `params.check` refuses any other file of this number and revision.
"""

from __future__ import annotations

import sys
from pathlib import Path

from params.check import report
from params.files.issued import issue
from params.files.read import HERE, read_arm
from params.steps.arguments import Parser
from params.steps.guard import one_line_errors
from params.steps.problems import one_line


def main(arguments: list[str] | None = None, arms: Path = HERE / "arms") -> int:
    parser = Parser(
        description="Keep an arm's file as issued; no other file may bear its number and revision then."
    )
    parser.add_argument("name", help="name of an arm in params/arms")
    name = parser.parse_args(arguments).name
    known = sorted(path.stem for path in arms.glob("*.yaml"))
    if name not in known:
        print(f"{one_line(name)}: is no arm; known are {', '.join(known)}", file=sys.stderr)
        return 1
    path = arms / f"{name}.yaml"
    report(path)
    print(f"revision {(revision := read_arm(path).revision)} is kept as {issue(path, revision)}")
    return 0


if __name__ == "__main__":
    with one_line_errors():
        sys.exit(main())
