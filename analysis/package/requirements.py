"""The requirement sheet: `python -m analysis.package.requirements FACTS.json OUT.pdf`."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

from analysis.drawing.ink import font_file
from analysis.drawing.titleblock import part
from analysis.package.sheets import sections
from analysis.tables.files import read_json
from params.steps.arguments import arguments
from params.steps.guard import one_line_errors

TEMPLATE = Path(__file__).with_name("requirements.typ")


def sheet(facts: dict[str, Any]) -> dict[str, Any]:
    """What the template prints."""
    drawing = facts["drawing"]
    number = facts["number"]
    issued = f", issued {drawing['issued']}" if drawing["issued"] else ""
    return {
        "title": f"{facts['arm']}: requirement sheet",
        "number": f"{number}, revision {facts['revision']}",
        "heading": f"Requirement sheet, {facts['arm']}",
        "revision": f"{number}, revision {facts['revision']}{issued}",
        "purpose": f"{part(facts)} {what(facts)} {facts['owner_caution']} Owner: {drawing['owner']}.",
        "caution": facts["caution"],
        "paper": "a4" if facts["units"] == "si" else "us-letter",
        "sections": sections(facts),
    }


def what(facts: dict[str, Any]) -> str:
    """The owner's description, which is of the arm as written; of a design only what it replaces."""
    return f"It replaces {facts['arm']}." if facts["design"] else facts["description"]


def printed(facts: dict[str, Any]) -> bytes:
    """The sheet as PDF; the same facts give the same bytes."""
    import typst

    return typst.compile(
        TEMPLATE,
        font_paths=[font_file().parent],
        ignore_system_fonts=True,
        format="pdf",
        sys_inputs={"sheet": json.dumps(sheet(facts), sort_keys=True)},
    )


def main(facts: Path, target: Path) -> None:
    target.parent.mkdir(parents=True, exist_ok=True)
    target.write_bytes(printed(read_json(facts)))


if __name__ == "__main__":
    with one_line_errors():
        main(*arguments(__doc__, facts=Path, target=Path))
