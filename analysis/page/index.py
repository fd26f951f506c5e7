"""The library of arms: `python -m analysis.page.index params/arms results index.html`, a card for each parameter file."""

from __future__ import annotations

import json
import zipfile
from pathlib import Path
from typing import Any

from analysis.contracts.summary import Summary, read_summary
from analysis.page.embed import picture, policy, render
from analysis.page.tables import shown
from analysis.tables.number import percent
from params.files.origin import TO_SUMMARY, Origin, changed
from params.files.read import read_arm
from params.steps.arguments import arguments
from params.steps.caution import CAUTION
from params.steps.contract import read_model
from params.steps.guard import one_line_errors
from params.steps.library import sha256
from params.steps.problems import ParameterError, Unfit

STATUSES = {
    "fails": "A check fails, or the file cannot be read.",
    "current": "Every result linked here was made from the present input files by the present program.",
    "stale": "A result linked here was made from older input files or by another version of the program; run it again.",
    "never run": "No results yet.",
}
# Where a result says what it was made from, and the steps that count; no steps: the whole program.
ORIGINS: dict[str, tuple[str, ...]] = {"page/origin.json": (), "record.json": (), "making/origin.json": ()}
LINKS = {
    "page.html": "page",
    "record.pdf": "calculation record",
    "making/decision.csv": "decision",
    "as-written/checks.csv": "checks",
    "as-written/arm.step": "solid (STEP)",
    "overview.txt": "overview",
}
Card = dict[str, Any]


def card(source: Path, results: Path) -> Card:
    """One arm: what its file says, the results of its last run, and whether the two still belong together."""
    folder = results / source.stem
    summary, since = answered(source, folder)
    thumbnail = folder / "page" / "thumbnail.webp"
    fields: Card = {
        "name": source.stem,
        "lines": [],
        "problem": "",
        "status": status(summary, since),
        "since": since,
        "description": "",
        "links": links(folder, results),
        "still": picture(thumbnail) if thumbnail.exists() else "",
    }
    try:
        arm = read_arm(source)
    except ParameterError as error:
        return fields | {"status": "fails", "problem": str(error).splitlines()[0]}
    arms = (
        shown(length, "length", arm.units) for length in (arm.geometry.input_arm, arm.geometry.output_arm)
    )
    depth = shown(arm.geometry.section.depth_at_hub, "length", arm.units)
    size = f"arms {' and '.join(arms)}, {depth} deep at the hub"
    lines = [("revision", arm.revision), ("material", arm.material), ("size", size)]
    return fields | {"description": arm.description, "lines": lines + answer(summary, arm.units)}


def answered(source: Path, folder: Path) -> tuple[Summary | None, list[str]]:
    """The last answer, and what has changed since; none of it where it was written by a program whose files had another form."""
    path = folder / "as-written" / "summary.json"
    if not path.exists():
        return None, []
    try:
        summary = read_summary(path)
    except Unfit:
        return None, [f"the form of {path.name}"]
    return summary, outdated(source, folder, summary)


def status(summary: Summary | None, since: list[str]) -> str:
    """Current, stale, never run or fails; a stale failure is called stale."""
    if since:
        return "stale"
    if summary is None:
        return "never run"
    return "fails" if summary.verdict == "fails" else "current"


def outdated(source: Path, folder: Path, summary: Summary) -> list[str]:
    """What has changed since any result that the card links was made."""
    changes = changed(summary.origin, source, TO_SUMMARY)
    for name, steps in ORIGINS.items():
        if (folder / name).exists():
            changes += changed(read_model(folder / name, Origin), source, steps)
    for package in sorted((folder / "vendor").glob("*.zip")):
        if (packaged := origin_of(package)) and packaged.arm == sha256(
            source
        ):  # an earlier revision stays as issued
            changes += [f"{name} (since {package.name})" for name in changed(packaged, source)]
    return list(dict.fromkeys(changes))


def origin_of(package: Path) -> Origin | None:
    """What a package was made from; None where it does not say."""
    try:
        with zipfile.ZipFile(package) as entries:
            return Origin.model_validate(json.loads(entries.read("manifest.json"))["origin"])
    except (OSError, KeyError, ValueError, zipfile.BadZipFile):
        return None


def answer(summary: Summary | None, units: Any) -> list[tuple[str, str]]:
    """Mass and governing margin of the last run: the lesser of hand and mesh."""
    if summary is None:
        return []
    by_hand = summary.hand_margin <= summary.mesh_margin
    way, governing = ("hand", summary.governing) if by_hand else ("mesh", summary.mesh_governing)
    return [
        ("mass", shown(summary.mass_kg, "mass", units)),
        ("governing margin", f"{percent(summary.least_margin)} by {way}: {governing}"),
        ("verdict", summary.verdict),
    ]


def links(folder: Path, results: Path) -> list[tuple[str, str]]:
    """The results of this arm that exist, relative to the index."""
    packages = sorted((folder / "vendor").glob("*.zip")) if (folder / "vendor").is_dir() else []
    there = [(name, text) for name, text in LINKS.items() if (folder / name).exists()]
    there += [(f"vendor/{path.name}", "vendor package") for path in packages]
    return [(f"{folder.relative_to(results).as_posix()}/{name}", text) for name, text in there]


def main(arms: Path, results: Path, target: Path) -> None:
    cards = [card(source, results) for source in sorted(arms.glob("*.yaml"))]
    page = render("index.html", policy=policy(), cards=cards, caution=CAUTION, statuses=STATUSES)
    target.write_text(page, encoding="utf-8")


if __name__ == "__main__":
    with one_line_errors():
        main(*arguments(__doc__, arms=Path, results=Path, target=Path))
