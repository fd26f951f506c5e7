"""Starter files: `python -m params.new NAME` writes params/arms/NAME.yaml, commented, from the smallest demo.

`python -m params.new --comments FILE...` writes the comments of files anew after the schema has changed.
"""

from __future__ import annotations

import re
import sys
from itertools import takewhile
from pathlib import Path

from params.files.commented import LEGEND, comment, commented
from params.files.read import HERE, read_arm
from params.files.yamlfile import read_yaml
from params.schema.arm import Arm, MeshSizes, Sweep
from params.steps.arguments import Parser
from params.steps.guard import one_line_errors
from params.steps.problems import ParameterError

STARTER = HERE / "arms" / "bench-lever.yaml"
HEAD = (
    "Starter: every number below is invented. Replace each by a measured one, top to bottom, then run"
    " `python -m params.check` on this file. Sections and keys behind a # may be left out; remove the # to use one."
)
# By the schema, whatever the smallest demo has.
USUAL = {"per_quarter_bore", "growth", "peak_change", "levels", "confirm"}
NAME = re.compile(r"[a-z][a-z0-9_-]{0,39}")


def starter(name: str) -> str:
    """The text of a complete file for an arm of this name; its mesh is the usual one, not the demo's coarse one."""
    data = read_yaml(STARTER).data
    for part, model in (("mesh", MeshSizes), ("sweep", Sweep)):
        usual = {key: field.default for key, field in model.model_fields.items() if not field.is_required()}
        data[part] |= {key: usual[key] for key in data[part] if key in USUAL}
    return commented(data | {"name": name}, Arm, HEAD, full=True)


def renewed(path: Path) -> str:
    """The text of an existing file under its own head, with the comments of today's schema."""
    read_arm(path)
    head = [
        line[1:].strip()
        for line in takewhile(lambda line: line.startswith("#"), path.read_text().splitlines())
    ]
    legend = len(comment(LEGEND))
    head = head[:-legend] if head[-legend:] == [line[1:].strip() for line in comment(LEGEND)] else head
    return commented(read_yaml(path).data, Arm, " ".join(head))


def write_new(name: str, folder: Path) -> Path:
    """Write the starter; it is never written over another file.

    Raises
    ------
    ValueError
        where the name is none for an arm.
    FileExistsError
        where a file of this name is there.
    """
    if not NAME.fullmatch(name):
        raise ValueError(
            f"{name!r} is not a name for an arm, lower-case letters, digits, - and _, at most 40, choose another"
        )
    path = folder / f"{name}.yaml"
    with path.open("x", encoding="utf-8", newline="\n") as stream:
        stream.write(starter(name))
    read_arm(path)
    return path


def main(arguments: list[str] | None = None, folder: Path = HERE / "arms") -> int:
    parser = Parser(description="Write a commented starter file into params/arms.")
    parser.add_argument("name", nargs="?", help="name of the new arm")
    parser.add_argument(
        "--comments", nargs="+", type=Path, default=[], help="files whose comments are written anew"
    )
    options = parser.parse_args(arguments)
    if (options.name is None) == (not options.comments):
        parser.error("give a name, or files behind --comments")
    try:
        for path in options.comments:
            path.write_text(renewed(path), encoding="utf-8", newline="\n")
            print(f"{path}: comments written anew")
        if options.name is not None:
            path = write_new(options.name, folder)
            print(f"{path}: written; next: ./with-env python -m params.check {path}")
    except FileExistsError as error:
        print(f"{error.filename}: exists already, nothing was written, choose another name", file=sys.stderr)
        return 1
    except (ParameterError, ValueError, OSError) as error:
        print(error, file=sys.stderr)
        return 1
    return 0


if __name__ == "__main__":
    with one_line_errors():
        sys.exit(main())
