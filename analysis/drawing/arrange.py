"""Scale and places of the views on a sheet: front with end view and section B beside it, plan and section A in line with it.

First-angle: the plan stands below the front, the view from the left on its right. Third-angle: the plan stands above, the
view from the right on its right (ISO 5456-2). The scale is the largest of ISO 5455 at which all of it fits.
"""

from __future__ import annotations

from dataclasses import dataclass

from analysis.drawing.frame import Edges, Frame, extent

SCALES = (10.0, 5.0, 2.0, 1.0, 0.5, 0.2, 0.1, 0.05, 0.02, 0.01)  # ISO 5455
TALLEST = 125.0  # mm on paper of section B
SIDE = {"first": "left", "third": "right"}  # the end view is seen from there
Box = tuple[float, float, float, float]
# Room about each view for what stands beside it, mm on paper: left, below, right, above.
ROOM: dict[str, Box] = {
    "front": (16.0, 24.0, 30.0, 30.0),
    "end": (10.0, 20.0, 8.0, 12.0),
    "B": (16.0, 8.0, 26.0, 24.0),
    "plan": (8.0, 14.0, 8.0, 4.0),
    "A": (24.0, 38.0, 18.0, 46.0),
}


@dataclass(frozen=True)
class Places:
    frames: dict[str, Frame]  # front, plan, end, A, B
    end: str  # which of the views the end view is


class TooLarge(Exception):  # noqa: N818 - an answer, not a fault of the program
    """No scale fits the sheet."""


def arranged(
    views: dict[str, Edges],
    sections: dict[str, Edges],
    front: Box,
    projection: str,
    space: Box,
    column: tuple[float, float],
) -> Places:
    """Places of all views in the space (left, bottom, width, height).

    `front` is the extent of the front view with its dimension lines, `column` the room of title block and tables.

    Raises
    ------
    TooLarge
        where not even the smallest scale fits.
    """
    end = SIDE[projection]
    boxes = {"front": front, "plan": extent(views["plan"]), "end": extent(views[end])}
    boxes |= {name: extent(sections[name]) for name in ("A", "B")}
    tall = boxes["B"][3] - boxes["B"][1]
    for scale in SCALES:
        for detail in [
            other for other in SCALES if scale <= other <= 5.0 * scale and other * tall <= TALLEST
        ]:
            frames = _frames(boxes, scale, detail, projection, space, column)
            if frames:
                return Places(frames, end)
    raise TooLarge("the arm does not fit the sheet at any standard scale; choose a larger sheet")


def _frames(
    boxes: dict[str, Box],
    scale: float,
    detail: float,
    projection: str,
    space: Box,
    column: tuple[float, float],
) -> dict[str, Frame] | None:
    left, bottom, wide, high = space
    scales = dict.fromkeys(boxes, scale) | {"B": detail}
    size = {name: _size(boxes[name], scales[name], ROOM[name]) for name in boxes}
    main = max(size[name][1] for name in ("front", "end", "B"))
    rows = {"main": main, "plan": size["plan"][1], "A": size["A"][1]}
    order = ("main", "plan", "A") if projection == "first" else ("plan", "main", "A")
    spare = high - sum(rows.values())
    lower = high - sum(
        rows[name] for name in order[: order.index("main") + 1]
    )  # height left below the main row
    start = max(ROOM[name][0] - scale * boxes[name][0] for name in ("front", "plan", "A"))
    reach = {name: start + scale * boxes[name][2] + ROOM[name][2] for name in ("front", "plan", "A")}
    across = reach["front"] + size["end"][0] + size["B"][0]
    if spare < 0.0 or lower < column[1] or across > wide:
        return None
    if max(reach["A"], reach["plan"] if projection == "first" else 0.0) > wide - column[0]:
        return None
    gap = min(spare, max(lower - column[1], 0.0) + (0.0 if projection == "first" else spare)) / 4.0
    heads, top = {}, bottom + high
    for name in order:
        top -= gap if name != order[0] or projection == "third" else 0.5 * gap
        heads[name] = top
        top -= rows[name]
    slack = (wide - across) / 3.0
    x = left + start
    front_y = heads["main"] - ROOM["front"][3] - scale * boxes["front"][3]
    end_x = left + reach["front"] + slack + ROOM["end"][0] - scale * boxes["end"][0]
    b_x = left + wide - slack - ROOM["B"][2] - detail * boxes["B"][2]
    b_y = (
        heads["main"]
        - main / 2.0
        + (ROOM["B"][1] - ROOM["B"][3]) / 2.0
        - detail * (boxes["B"][1] + boxes["B"][3]) / 2.0
    )
    return {
        "front": Frame(x, front_y, scale),
        "end": Frame(end_x, front_y, scale),
        "B": Frame(b_x, b_y, detail),
        "plan": Frame(x, heads["plan"] - ROOM["plan"][3] - scale * boxes["plan"][3], scale),
        "A": Frame(x, heads["A"] - ROOM["A"][3] - scale * boxes["A"][3], scale),
    }


def _size(box: Box, scale: float, room: Box) -> tuple[float, float]:
    """Width and height on paper, room included."""
    return scale * (box[2] - box[0]) + room[0] + room[2], scale * (box[3] - box[1]) + room[1] + room[3]


def scale_text(scale: float) -> str:
    """A scale as it is written: 1 : 10 or 2 : 1."""
    return f"1 : {1.0 / scale:.0f}" if scale <= 1.0 else f"{scale:.0f} : 1"
