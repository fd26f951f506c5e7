"""Arguments of every command of the project: `--help` says what they are, a wrong one is refused in one line."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any, NoReturn

from params.steps.problems import one_line

# What an argument of this name is, in the words of `--help`.
MEANINGS = {
    "arm": "an arm's parameter file",
    "folder": "folder that is read and written",
    "arms": "folder of the arms' parameter files",
    "command": "what to do",
    "design": "number of a design in chosen.csv or front.csv, such as d000001",
    "facts": "facts.json of the part, as analysis.package.facts writes it",
    "issued": "folder of the packages issued so far",
    "outage": "outage file in params/outages",
    "pictures": "names of pictures; none: all",
    "plan": "plan.json, as analysis.making.pieces.cutting writes it",
    "source": "folder of a survey, such as params/surveys/quay-rocker; or the word adopt",
    "step": "STEP file to compare",
    "step_and_tables": "for next: the number of the step; then the tables of the steps before",
    "views": "views.json, as geometry.views writes it",
    "results": "folder of an arm's results, such as results/bench-lever",
    "route": "route file in params/routes, or its name",
    "routes": "route files in params/routes, or their names",
    "target": "file that is written",
}
Kind = Callable[[str], Any] | list[Any] | tuple[str, ...]


class Parser(argparse.ArgumentParser):
    """The standard library's, whose messages here take one line."""

    def __init__(self, **settings: Any) -> None:
        super().__init__(**({"prog": command(), "allow_abbrev": False} | settings))

    def error(self, message: str) -> NoReturn:
        print(f"{self.prog}: {one_line(message)}; --help shows what it takes", file=sys.stderr)
        sys.exit(2)


def command() -> str:
    """How the module that runs is called: `python -m analysis.bores.table`."""
    main = getattr(sys.modules.get("__main__"), "__spec__", None)
    return f"python -m {main.name.removesuffix('.__main__')}" if main else Path(sys.argv[0]).name


def arguments(about: str | None, **kinds: Kind) -> list[Any]:
    """The arguments that a step was called with, in the order of the names.

    Each is given by its type (`Path`), by a list of one type where any number may follow (`[Path]`), or by its choices
    (`("choose", "judge")`). `about` is the module's docstring, whose first paragraph `--help` shows.
    """
    parser = Parser(
        description=(about or "").partition("\n\n")[0], formatter_class=argparse.RawDescriptionHelpFormatter
    )
    for name, kind in kinds.items():
        meaning = MEANINGS.get(name, name.replace("_", " "))
        if isinstance(kind, list):
            parser.add_argument(name, type=kind[0], nargs="*", help=meaning)
        elif isinstance(kind, tuple):
            parser.add_argument(name, choices=kind, help=meaning)
        else:
            parser.add_argument(name, type=kind, help=meaning)
    values = vars(parser.parse_args())
    return [values[name] for name in kinds]
