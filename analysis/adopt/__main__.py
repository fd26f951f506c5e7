"""`python -m analysis.adopt ARM DESIGN --reason "..."` makes a swept design or a route's best the arm's next revision.

DESIGN is a design of the sweep, such as d000012, or a route, whose best design it is. Sizes, material, route and what the route
brings are written into params/arms/ARM.yaml; the former file is kept as params/arms/issued/ARM-REVISION.yaml.
"""

from __future__ import annotations

import argparse
import datetime
import os
import sys
from pathlib import Path
from typing import Any

from pydantic import TypeAdapter, ValidationError

from analysis.adopt import choice
from analysis.adopt.choice import Refused, command
from analysis.adopt.revised import Asked, adopt, next_revision
from params.files.issued import issued_otherwise
from params.files.read import HERE, read_arm
from params.schema.day import Day
from params.schema.fields import Revision
from params.schema.revised import Line
from params.steps.arguments import Parser
from params.steps.caution import CAUTION
from params.steps.guard import one_line_errors
from params.steps.problems import ParameterError, one_line


def given(text: str | None, kind: Any, option: str, limit: str) -> Any:
    """The value of an option after its kind in the schema; None where it was not given.

    Raises
    ------
    Refused
        where it has another form.
    """
    if text is None:
        return None
    try:
        return TypeAdapter(kind).validate_python(text)
    except ValidationError:
        raise Refused(f"{option} {one_line(text)[:80]!r}: is not {limit}") from None


def asked_for(options: argparse.Namespace, source: Path) -> Asked:
    """What is said of the revision, every option looked at."""
    arm = read_arm(source)
    date = given(options.date, Day, "--date", "a day such as 2027-05-03")
    for name in ("reason", "by"):
        text = getattr(options, name)
        if text is not None and text != one_line(text):
            raise Refused(
                f"--{name} {one_line(text)[:80]!r}: has more than one line or control characters; write one line of text"
            )
        given(text, Line, f"--{name}", "a line of 1 to 200 characters")
    revision = given(
        options.revision, Revision, "--revision", "capital letters, digits, . and -, at most 8 characters"
    )
    return Asked(
        next_revision(arm, source, revision), date or datetime.date.today(), options.reason, options.by
    )


def carried_out(options: argparse.Namespace, arms: Path, results: Path) -> list[str]:
    """The lines of what was done."""
    known = sorted(path.stem for path in arms.glob("*.yaml"))
    if options.arm not in known:
        raise Refused(f"{one_line(options.arm)}: is no arm; known are {', '.join(known)}")
    source, folder = arms / f"{options.arm}.yaml", results / options.arm
    arm = read_arm(source)
    if problems := list(issued_otherwise(arm, source)):
        raise ParameterError(problems)
    choice.adopted(folder, source, arm, options.design)
    written = choice.standing(folder, source)
    chosen = choice.found(folder, options.design, arm, options.not_confirmed)
    return adopt(source, folder, chosen, written, asked_for(options, source))


def main(
    arguments: list[str] | None = None, arms: Path | None = None, results: Path = Path("results")
) -> int:
    parser = Parser(description="Make a swept design or a route's best the arm's next revision.")
    parser.add_argument("arm", help="name of an arm in params/arms")
    parser.add_argument(
        "design", help="a design of the sweep, such as d000012, or a route, whose best design is taken"
    )
    parser.add_argument("--reason", required=True, help="why, for the revision table")
    parser.add_argument("--by", help="who decided it")
    parser.add_argument("--date", help="date of issue, such as 2027-05-03; left out: today")
    parser.add_argument("--revision", help="the new revision; left out: the next letter or number")
    parser.add_argument(
        "--not-confirmed",
        action="store_true",
        help="also a design that no mesh has judged; the next run does",
    )
    options = parser.parse_args(arguments)
    try:
        lines = carried_out(options, arms or Path(os.path.relpath(HERE / "arms")), results)
    except Refused as refusal:
        print(" ".join(str(refusal).split()), file=sys.stderr)
        return 1
    print(*lines, f"next: {command(options.arm)}", CAUTION, sep="\n")
    return 0


if __name__ == "__main__":
    with one_line_errors():
        sys.exit(main())
