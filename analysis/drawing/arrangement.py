"""The general-arrangement drawing: `python -m analysis.drawing.arrangement FACTS.json VIEWS.json OUT_DIR` writes DXF and PDF."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import Any

from analysis.drawing import sections, titleblock, views
from analysis.drawing.arrange import TooLarge, arranged, scale_text
from analysis.drawing.border import blank, space
from analysis.drawing.dxf import write_dxf
from analysis.drawing.pdf import write_pdf
from analysis.drawing.sheet import Sheet
from analysis.drawing.words import words
from analysis.tables.files import read_json
from params.steps.arguments import arguments
from params.steps.guard import one_line_errors


def drawn(facts: dict[str, Any], seen: dict[str, Any]) -> Sheet:
    """The whole sheet.

    Raises
    ------
    TooLarge
        where the arm fits the sheet at no scale.
    """
    say = words(facts)
    sheet = blank(facts["drawing"]["sheet"], f"{facts['arm']} revision {facts['revision']}")
    edges, cuts = seen["views"], seen["sections"]
    room = (titleblock.WIDE + 4.0, titleblock.height(facts, say))
    boxes = views.front_room(edges["front"], facts)
    places = arranged(edges, cuts, boxes, facts["drawing"]["projection"], space(sheet), room)
    frames = places.frames
    titleblock.column(sheet, facts, say, frames["front"].scale)
    views.front(sheet, edges["front"], frames["front"], facts, say)
    views.plan(sheet, edges["plan"], frames["plan"], say)
    views.end(sheet, edges[places.end], frames["end"], facts, say)
    sections.aligned(sheet, cuts["A"], frames["A"], facts, say)
    sections.square(sheet, cuts["B"], frames["B"], facts, say, scale_text(frames["B"].scale))
    return sheet


def main(facts: Path, seen: Path, folder: Path) -> int:
    try:
        sheet = drawn(read_json(facts), read_json(seen))
    except TooLarge as refusal:
        print(f"drawing: {refusal}", file=sys.stderr)
        return 1
    folder.mkdir(parents=True, exist_ok=True)
    write_dxf(sheet, folder / "drawing.dxf")
    write_pdf(sheet, folder / "drawing.pdf")
    return 0


if __name__ == "__main__":
    with one_line_errors():
        sys.exit(main(*arguments(__doc__, facts=Path, views=Path, folder=Path)))
