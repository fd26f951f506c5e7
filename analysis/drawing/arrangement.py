"""The general-arrangement drawing: `python -m analysis.drawing.arrangement FACTS.json VIEWS.json OUT_DIR` writes DXF and PDF."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import Any

from analysis.drawing import revisions, sections, titleblock, views
from analysis.drawing.arrange import Box, Places, TooLarge, arranged, scale_text
from analysis.drawing.border import blank, space
from analysis.drawing.dxf import write_dxf
from analysis.drawing.pdf import write_pdf
from analysis.drawing.sheet import Sheet
from analysis.drawing.words import Words, words
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
    facts, places = with_room(facts, seen, say, space(sheet))
    frames = places.frames
    titleblock.column(sheet, facts, say, frames["front"].scale)
    views.front(sheet, edges["front"], frames["front"], facts, say)
    views.plan(sheet, edges["plan"], frames["plan"], say)
    views.end(sheet, edges[places.end], frames["end"], facts, say)
    sections.aligned(sheet, cuts["A"], frames["A"], facts, say)
    sections.square(sheet, cuts["B"], frames["B"], facts, say, scale_text(frames["B"].scale))
    return sheet


def with_room(
    facts: dict[str, Any], seen: dict[str, Any], say: Words, room: Box
) -> tuple[dict[str, Any], Places]:
    """The places of the views, and the facts with as many of the last revisions as leave the views their scale."""

    def placed(rows: list[dict[str, Any]]) -> tuple[dict[str, Any], Places]:
        some = facts | {"revisions": rows}
        column = (titleblock.WIDE + 4.0, titleblock.height(some, say))
        boxes, projection = views.front_room(seen["views"]["front"], facts), facts["drawing"]["projection"]
        return some, arranged(seen["views"], seen["sections"], boxes, projection, room, column)

    without = placed([])
    for count in range(min(len(facts["revisions"]), revisions.SHOWN), 0, -1):
        try:
            found = placed(facts["revisions"][-count:])
        except TooLarge:
            continue
        if found[1].frames["front"].scale == without[1].frames["front"].scale or count == 1:
            return found
    return without


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
