"""The part that is chosen: a design of the sweep, or a route's best; refused where its results do not stand."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from analysis.contracts.summary import NotBuilt, Summary, read_answer, read_summary
from analysis.making.routes.candidate import text_of_candidate
from analysis.sweep.design_file import text_of_design
from analysis.tables.files import read_csv, read_row
from analysis.tables.number import percent
from params.files.origin import TO_SUMMARY, changed, copies
from params.files.read import read_arm
from params.files.readroute import read_route
from params.schema.arm import Arm
from params.steps.library import ARM_FILE, INPUTS, PROJECT, library_of, sha256
from params.steps.problems import Unfit, one_line

WRITTEN = "as-written"
Row = dict[str, str]


class Refused(Exception):  # noqa: N818 - an answer, not a fault of the program
    """Nothing is adopted; the text says why, in one line."""


@dataclass(frozen=True)
class Choice:
    """A part that could be adopted."""

    name: str  # as it was asked for
    design: str
    of: str  # the sweep, or the route whose best it is
    text: str  # its parameter file, as the arm's file and its route now give it
    mass: float  # kg, as the table of its designs has it
    hand_margin: float
    governing: str
    summary: Summary | None  # None: never meshed

    @property
    def mark(self) -> str:
        """What the revision table calls it; designs of different routes have the same numbers."""
        return self.design if self.name == self.design else f"{self.name}-{self.design}"

    @property
    def called(self) -> str:
        return f"design {self.design} of {self.of}"


def found(folder: Path, name: str, arm: Arm, unmeshed: bool) -> Choice:
    """The part of this name in results/ARM; `unmeshed`: also one that no mesh has judged.

    Raises
    ------
    Refused
        where there is none, or it fails.
    """
    wanted = arm.criteria.least_margin
    if name in (best := bests(folder)):
        return held(of_route(folder, name, best[name]), folder, wanted)
    if name in (meshed := by_id(folder / "sweep" / "chosen.csv")):
        return held(of_sweep(folder, meshed[name]), folder, wanted)
    if row := by_id(folder / "sweep" / "designs.csv").get(name):
        return of_hand(folder, row, unmeshed)
    names = ", ".join([*meshed, *best])
    run = f"run `{command(folder.name)}` first"
    raise Refused(
        f"{one_line(name)}: is no design of the sweep and no route; known are {names}"
        if names
        else f"{folder}: {run}"
    )


def command(arm: str) -> str:
    return f"snakemake --cores all --config arm={arm} -- everything"


def bests(folder: Path) -> dict[str, Row]:
    """Row of best.csv of every route that was worked out."""
    return {path.parent.name: read_row(path) for path in sorted(folder.glob("making/*/best.csv"))}


def by_id(table: Path) -> dict[str, Row]:
    """Rows of a table of designs; none where it is not there."""
    return {row["id"]: row for row in read_csv(table)} if table.is_file() else {}


def of_route(folder: Path, route: str, best: Row) -> Choice:
    if not best["id"]:
        raise Refused(f"{route}: has no design to adopt, {best['reason']}; choose another")
    place = folder / "making" / route
    text = text_of_candidate(folder, read_route(folder / INPUTS / "routes" / f"{route}.yaml"), best["id"])
    row = by_id(place / "front.csv")[best["id"]]
    return built(route, place / "best", f"the route {route}", row, text, "hand_margin", "hand_governing")


def of_sweep(folder: Path, row: Row) -> Choice:
    text = text_of_design(folder, row["id"])
    return built(row["id"], folder / "designs" / row["id"], "the sweep", row, text, "min_margin", "governing")


def built(name: str, place: Path, of: str, row: Row, text: str, margin: str, governing: str) -> Choice:
    """A meshed design from its folder and its row of a table."""
    judged_file = place / ARM_FILE
    if not judged_file.is_file() or judged_file.read_text(encoding="utf-8") != text:
        raise Refused(f"{judged_file}: is not what the arm's file gives now; {again(place)}")
    answer = read_answer(place / "summary.json")
    if isinstance(answer, NotBuilt):
        raise Refused(f"{name}: cannot be built, {answer.reason}; choose another")
    if since := changed(answer.origin, judged_file, TO_SUMMARY):
        raise Refused(f"{place}: {', '.join(since)} changed since its results were made; {again(place)}")
    return Choice(
        name, row["id"], of, text, float(row["mass_kg"]), float(row[margin]), row[governing], answer
    )


def again(place: Path) -> str:
    """What to do where results are old."""
    results = library_of(place).parent if library_of(place) != PROJECT else place
    return f"run `{command(results.name)}` again"


def of_hand(folder: Path, row: Row, unmeshed: bool) -> Choice:
    """A design that only the hand calculation has judged."""
    if row["feasible"] != "yes":
        raise Refused(f"{row['id']}: fails by hand, {row['reason']}; choose another")
    if not unmeshed:
        known = ", ".join(by_id(folder / "sweep" / "chosen.csv"))
        mend = "--not-confirmed takes it by hand alone, and the next run meshes it"
        raise Refused(f"{row['id']}: was never meshed, meshed are {known or 'none'}; {mend}")
    text = text_of_design(folder, row["id"], "designs.csv")
    mass, margin = float(row["mass_kg"]), float(row["min_margin"])
    return Choice(row["id"], row["id"], "the sweep", text, mass, margin, row["governing"], None)


def held(choice: Choice, folder: Path, wanted: float) -> Choice:
    """The choice, where its margins are at least those wanted."""
    summary = choice.summary
    if summary is None or summary.least_margin >= wanted:
        return choice
    least = f"{percent(summary.least_margin, 1, minus='-')}, {summary.least_governing}"
    names = ", ".join(holding(folder, wanted)) or "none"
    raise Refused(
        f"{choice.name}: fails, its least margin is {least}; {percent(wanted)} is wanted; holding are {names}"
    )


def holding(folder: Path, wanted: float) -> Iterator[str]:
    """Names of the designs and routes that hold."""
    places = {name: folder / "designs" / name for name in by_id(folder / "sweep" / "chosen.csv")}
    places |= {name: folder / "making" / name / "best" for name, row in bests(folder).items() if row["id"]}
    for name, place in places.items():
        answer = read_answer(place / "summary.json")
        if isinstance(answer, Summary) and answer.least_margin >= wanted:
            yield name


def standing(folder: Path, source: Path) -> Summary:
    """The answer of the arm as written, where it was made from the arm's file `source` and the library as they are now.

    Raises
    ------
    Refused
        where there is none, or something has changed since.
    """
    place = folder / WRITTEN / "summary.json"
    if not place.is_file():
        raise Refused(f"{place}: is not there; run `{command(folder.name)}` first")
    try:
        summary = read_summary(place)
    except Unfit as error:
        raise Refused(f"{error}; run `{command(folder.name)}` again") from None
    since = changed(summary.origin, source, TO_SUMMARY)
    kept = copies(folder / INPUTS) if (folder / INPUTS).is_dir() else {}
    since += [
        name
        for name, path in kept.items()
        if not name.startswith("outages/")
        and not ((PROJECT / name).is_file() and sha256(PROJECT / name) == sha256(path))
    ]
    if since:
        changes = ", ".join(dict.fromkeys(since))
        raise Refused(f"{folder}: {changes} changed since these results; run `{command(folder.name)}` again")
    return summary


def adopted(folder: Path, source: Path, arm: Arm, name: str) -> None:
    """Nothing, unless this very choice was the last that was adopted, from these results.

    Raises
    ------
    Refused
        where it was.
    """
    if not arm.revisions or not (written := folder / WRITTEN / ARM_FILE).is_file():
        return
    last, former = arm.revisions[-1], sha256(written)
    issued = any(sha256(path) == former for path in source.parent.glob(f"issued/{source.stem}-*.yaml"))
    best = bests(folder)
    mark = f"{name}-{best[name]['id']}" if name in best else name
    if issued and last.design == mark:
        raise Refused(f"{name}: was adopted already, as revision {last.revision}; nothing was changed")


def parsed_arm(choice: Choice, folder: Path) -> tuple[Path, Arm]:
    """The choice's parameter file in a place of its own in `folder`, and the arm that it says."""
    path = folder / ARM_FILE
    path.write_text(choice.text, encoding="utf-8")
    return path, read_arm(path)
