"""What a change of each kind of input makes again: used by `python -m tests.whole` after `everything`.

In a copy of the project and of the arm's results: one file is changed, a dry run lists the rules that would run, and those are
compared with the list written here by hand.
"""

from __future__ import annotations

import os
import re
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from pathlib import Path

ALL = "all"  # every rule that makes something of the arm
Change = Callable[[Path, str], None]


def replaced(name: str, old: str, new: str, past: bool = False) -> Change:
    """Text of a file replaced; `past` dates the file long before every result."""

    def change(top: Path, arm: str) -> None:
        path = top / name.format(arm=arm)
        text = path.read_text()
        assert old in text, f"{path}: has no {old!r}"
        path.write_text(text.replace(old, new))
        if past:
            os.utime(path, (1.0e9, 1.0e9))

    return change


def touched(top: Path, arm: str) -> None:
    """The same content with a new date, of every file that people write."""
    for path in (top / "params").rglob("*.yaml"):
        path.touch()


def unchanged(top: Path, arm: str) -> None:
    """No file: what the command line says is changed."""


@dataclass(frozen=True)
class Case:
    """What is changed, rules that must run, rules that must not."""

    change: Change
    must: set[str]
    must_not: set[str]
    config: tuple[str, ...] = ()  # given on the command line beside the arm
    before: Change | None = None  # of which results are taken to have been made


# The sweep and the table of materials take the route that makes a material, which only the files of routes and materials say: a
# change of any of these runs them again.
CASES: dict[str, Case] = {
    "the dates of all files": Case(touched, set(), {ALL}),
    "the arm": Case(
        replaced("params/arms/{arm}.yaml", "revision: ", "# a remark\nrevision: "),
        {
            "check",
            "hand",
            "solid",
            "prove",
            "sweep",
            "fit_route",
            "record_pdf",
            "page_file",
            "index",
            "package",
        },
        {"file_outage", "file_route"},
    ),
    "the arm's material": Case(
        replaced("params/materials/a572-50.yaml", "yield_strength: 345 MPa", "yield_strength: 340 MPa"),
        {
            "file_material",
            "hand",
            "prove",
            "summary",
            "sweep",
            "materials",
            "fit_route",
            "facts",
            "record_pdf",
            "page_file",
        },
        {"check", "solid", "views", "file_outage"},
    ),
    "the arm's material, in a file older than the results": Case(
        replaced(
            "params/materials/a572-50.yaml", "yield_strength: 345 MPa", "yield_strength: 340 MPa", past=True
        ),
        {"file_material", "hand", "prove", "summary", "sweep"},
        {"check", "solid", "views"},
    ),
    "a material that only the table of materials and routes name": Case(
        replaced("params/materials/er80s-d2.yaml", "elongation_percent: 17", "elongation_percent: 18"),
        {"file_material", "materials", "bores_pictures", "record_pdf", "page_file"},
        {"check", "hand", "prove", "life", "cracks"},
    ),
    "a route": Case(
        replaced("params/routes/cast.yaml", "machining: ", "# a remark\n  machining: "),
        {"file_route", "fit_route", "routes", "dates", "costs", "decision"},
        {"check", "hand", "prove", "cracks", "life"},
    ),
    "the outage": Case(
        replaced("params/outages/late-autumn.yaml", "opens: 2026-11-02", "opens: 2026-11-03"),
        {"file_outage", "cracks", "dates", "decision", "record_pdf", "page_file"},
        {"check", "hand", "prove", "sweep", "life", "routes", "pieces", "materials"},
    ),
    "the conversions of units": Case(
        replaced("params/schema/conversions.json", "{", "{ "),
        {"check", "hand", "solid", "prove", "sweep", "page_file"},
        set(),
    ),
    "the locked libraries": Case(
        replaced("requirements.lock", "\n", "\n# a remark\n"),
        {"check", "hand", "solid", "prove", "sweep", "page_file", "facts", "drawing"},
        set(),
    ),
    "the source of the hand calculation": Case(
        replaced("analysis/hand/__main__.py", '"""', '"""Changed. '),
        {"hand", "prove", "summary", "record_pdf", "page_file"},
        {"check", "solid", "sweep", "views"},
    ),
    "the style of the page": Case(
        replaced("analysis/page/parts/page.css", "\n", "\n/* a remark */\n"),
        {"page_file"},
        {"check", "hand", "solid", "prove", "summary", "sweep", "cracks"},
    ),
    "the old arm's material": Case(
        replaced("params/materials/a27-65-35.yaml", "yield_strength: ", "# a remark\nyield_strength: "),
        {"file_material", "life", "cracks", "materials", "record_pdf", "page_file"},
        {"check", "hand", "solid", "prove", "summary", "contact"},
        before=replaced(
            "params/arms/{arm}.yaml", "\ncracks:\n", "\ncracks:\n  old_arm: {material: a27-65-35}\n"
        ),
    ),
    "the routes that the arm's file names": Case(
        replaced("params/arms/{arm}.yaml", "routes: [cast, deposited, welded]", "routes: [cast, deposited]"),
        {"check", "routes", "pieces", "dates", "gantt", "costs", "decision", "record_pdf", "page_file"},
        {"file_material", "file_outage", "file_route"},
    ),
    "another outage on the command line": Case(
        unchanged,
        {"file_outage", "cracks", "dates", "decision", "record_pdf", "page_file"},
        {"check", "hand", "solid", "prove", "sweep", "life", "routes", "pieces", "materials"},
        config=("outage=early-summer",),
    ),
}


def copied(source: Path, top: Path) -> None:
    """The project and its results, dates as they are."""
    aside = shutil.ignore_patterns("__pycache__", "log", "locks", "incomplete")
    shutil.copytree(source, top, ignore=aside, dirs_exist_ok=True)


def snakemake(arm: str, top: Path, how: str, config: tuple[str, ...] = ()) -> str:
    """What the workflow says of `everything`, with `--dry-run` or `--touch`."""
    command = [sys.executable, "-m", "snakemake", how, "--cores", "2", "--config", f"arm={arm}", *config]
    surroundings = os.environ | {"PYTHONPATH": str(top)}
    said = subprocess.run(
        [*command, "--", "everything"], cwd=top, env=surroundings, capture_output=True, text=True, check=False
    )
    if said.returncode:
        raise RuntimeError(f"{how} fails: {said.stderr[-2000:]}")
    return said.stdout + said.stderr


def would_run(arm: str, top: Path, config: tuple[str, ...]) -> set[str]:
    """Rules that a dry run of `everything` lists."""
    said = snakemake(arm, top, "--dry-run", config)
    found = re.findall(r"^(?:rule|checkpoint|localrule|localcheckpoint) (\w+):$", said, re.MULTILINE)
    return set(found) - {"everything", "all"}


def tried(source: Path, arm: str, what: str) -> list[str]:
    """A line for each way in which one case's rules are not those of its list."""
    case = CASES[what]
    with tempfile.TemporaryDirectory() as name:
        top = Path(name)
        copied(source, top)
        if case.before:
            case.before(top, arm)
            snakemake(arm, top, "--touch")
        case.change(top, arm)
        runs = would_run(arm, top, case.config)
    forbidden = runs if case.must_not == {ALL} else runs & case.must_not
    missing = case.must - runs
    print(f"{what}: {len(runs)} rules run again", flush=True)
    return [f"{what}: does not run {', '.join(sorted(missing))}"] * bool(missing) + [
        f"{what}: runs {', '.join(sorted(forbidden))} in vain"
    ] * bool(forbidden)


def problems(source: Path, arm: str) -> list[str]:
    """Over all cases, from the results of `everything` at `source`; two cases at a time."""
    with ThreadPoolExecutor(2) as pool:
        return [line for lines in pool.map(lambda what: tried(source, arm, what), CASES) for line in lines]
