"""The outside views with what stands beside them: front, plan, end view."""

from __future__ import annotations

from typing import Any

import numpy as np

from analysis.drawing.dims import (
    STEP,
    angular,
    centre_mark,
    leader,
    linear,
    pair,
    placed,
    readable,
    stacked,
    unit,
)
from analysis.drawing.frame import Edges, Frame, extent, strokes
from analysis.drawing.ink import Item, Stroke, Text
from analysis.drawing.sheet import Sheet
from analysis.drawing.symbols import gravity, plane_end
from analysis.drawing.words import Words

Facts = dict[str, Any]
FRONT_KINDS = ("hidden", "smooth", "visible")


def front(sheet: Sheet, edges: Edges, frame: Frame, facts: Facts, say: Words) -> None:
    """Elevation: centre distances, angle, depths, blends, cutting planes, centre of gravity."""
    sheet.add(strokes(edges, frame, FRONT_KINDS))
    for name, bore in facts["bores"].items():
        turn = direction(facts, name)
        sheet.add(centre_mark(frame.at(*bore["centre"]), frame.scale * bore["outside"] / 2.0, turn))
    for name in ("input", "output"):
        sheet.add(axis(facts, frame, name))
    mass_centre(sheet, frame, facts)
    cutting_a(sheet, frame, facts)
    cutting_b(sheet, frame, facts)
    centres(sheet, edges, frame, facts, say)
    depths(sheet, frame, facts, say)
    angle_between(sheet, frame, facts, say)
    radii(sheet, edges, frame, facts, say)


def direction(facts: Facts, name: str) -> float:
    """Angle (deg) of the arm that a bore ends; the pivot takes the output arm's."""
    along = facts["arms"]["output" if name == "pivot" else name]["along"]
    return float(np.degrees(np.arctan2(along[1], along[0])))


def axis(facts: Facts, frame: Frame, name: str) -> list[Item]:
    """Centre line of an arm from hub to boss."""
    arm, boss = facts["arms"][name], facts["bores"][name]["outside"] / 2.0
    ends = [
        s * np.array(arm["along"])
        for s in (arm["hub_edge"] + 3.0 / frame.scale, arm["length"] - boss - 3.0 / frame.scale)
    ]
    return [Stroke("centre", tuple(frame.at(*end) for end in ends))]


def mass_centre(sheet: Sheet, frame: Frame, facts: Facts) -> None:
    """The symbol of the centre of gravity, its name where there is room."""
    x, y = frame.at(*facts["centroid_mm"][:2])
    sheet.add(gravity((x, y)))
    places = (
        (x + 3.0, y + 1.0),
        (x + 3.0, y - 3.5),
        (x - 7.5, y + 1.0),
        (x - 7.5, y - 3.5),
        (x - 2.2, y + 3.5),
    )
    placed(sheet, ([Text(at, "CG", 2.5)] for at in places))


def cutting_a(sheet: Sheet, frame: Frame, facts: Facts) -> None:
    """Ends of plane A on the arms' axes, seen from within the included angle."""
    for name, side, off in (
        ("input", 1.0, 4.0),
        ("output", -1.0, 16.0),
    ):  # the depth at the pin stands between
        arm = facts["arms"][name]
        along, across = np.array(arm["along"]), np.array(arm["across"])
        foot = (
            np.array(frame.at(*(arm["length"] * along)))
            + (frame.scale * facts["bores"][name]["outside"] / 2.0 + off) * along
        )
        sheet.add(plane_end(pair(foot), along, side * across, "A"))


def cutting_b(sheet: Sheet, frame: Frame, facts: Facts) -> None:
    """Plane B square to the output arm, seen toward the pivot."""
    arm = facts["arms"]["output"]
    along, across = np.array(arm["along"]), np.array(arm["across"])
    half = float(np.interp(facts["station_B_mm"], *np.array(arm["corners"]).T)) / 2.0
    for side in (-1.0, 1.0):
        foot = frame.at(*(facts["station_B_mm"] * along + side * half * across))
        start = np.array(foot) + 2.5 * side * across
        sheet.add(plane_end(pair(start), side * across, -along, "B"))


def angle_between(sheet: Sheet, frame: Frame, facts: Facts, say: Words) -> None:
    hub = frame.scale * facts["bores"]["pivot"]["outside"] / 2.0
    last = direction(facts, "input")
    text = say.full("included_angle")
    options = (
        [angular(frame.at(0.0, 0.0), hub + out, 0.0, last, text, share * last)]
        for out in (9.0, 15.0, 21.0, 27.0, 33.0, 40.0)
        for share in (0.5, 0.4, 0.6, 0.3, 0.7)
    )
    placed(sheet, options)


def centres(sheet: Sheet, edges: Edges, frame: Frame, facts: Facts, say: Words) -> None:
    """Pivot to each pin, each on the outer side of its arm."""
    bottom = frame.at(0.0, extent(edges)[1])[1]
    pivot, pin = frame.at(0.0, 0.0), frame.at(*facts["bores"]["output"]["centre"])
    text = say.full("output_arm")
    stacked(sheet, lambda y: linear(pivot, pin, 0.0, (pivot[0], y), text), bottom - 10.0, -STEP)
    out, pin = np.array(facts["arms"]["input"]["across"]), frame.at(*facts["bores"]["input"]["centre"])
    text, lean = say.full("input_arm"), readable(direction(facts, "input"))
    start = frame.scale * facts["bores"]["pivot"]["outside"] / 2.0 + 10.0
    stacked(
        sheet, lambda away: linear(pivot, pin, lean, pair(np.array(pivot) + away * out), text), start, STEP
    )


def front_room(edges: Edges, facts: Facts) -> tuple[float, float, float, float]:
    """Extent of the elevation with the places of its dimension lines beside the input arm, mm of the part."""
    left, bottom, right, top = extent(edges)
    arm, hub = facts["arms"]["input"], facts["bores"]["pivot"]["outside"] / 2.0
    x, y = arm["length"] * np.array(arm["along"]) + hub * np.array(arm["across"])
    return min(left, float(x)), min(bottom, float(y)), right, max(top, float(y))


def depths(sheet: Sheet, frame: Frame, facts: Facts, say: Words) -> None:
    """Depth of the output arm where its taper begins, and at the pin centre beyond the boss."""
    arm, boss = facts["arms"]["output"], facts["bores"]["output"]
    half = arm["depth_at_hub"] / 2.0
    ends = frame.at(arm["hub_edge"], -half), frame.at(arm["hub_edge"], half)
    text = say.full("depth_at_hub")
    reach = frame.scale * (arm["length"] - arm["hub_edge"])
    shifts = (0.25, -0.25, 0.3, -0.3, 0.15, -0.15)
    placed(
        sheet,
        (
            [linear(*ends, 90.0, (ends[0][0] + away, 0.0), text, share * 2.0 * half * frame.scale)]
            for away in (0.1 * reach, 0.15 * reach, 0.2 * reach, 0.25 * reach)
            for share in shifts
        ),
    )
    half = arm["depth_at_pin"] / 2.0
    x = arm["length"] + boss["outside"] / 2.0
    ends = frame.at(arm["length"], -half), frame.at(arm["length"], half)
    right, text = frame.at(x, 0.0)[0], say.full("depth_at_pins")
    stacked(sheet, lambda at: linear(*ends, 90.0, (at, ends[0][1]), text), right + 10.0, 3.0)


def radii(sheet: Sheet, edges: Edges, frame: Frame, facts: Facts, say: Words) -> None:
    """Blends, the bends of the arms' edges, and the corners of pockets (both sides of the web) or of the inside of a box."""
    radius(sheet, edges["visible"], frame, say, "blend_radius", -1.0)
    inner = edges["hidden" if facts["section"] == "box" else "visible"]
    for name in say.sizes:
        if name.startswith("bend_radius"):
            radius(sheet, edges["visible"], frame, say, name, 1.0)
        elif name.startswith("inside_bend_radius"):
            radius(sheet, inner, frame, say, name, 1.0, sides=2 if facts["section"] == "i" else 1)
    radius(sheet, edges["visible"], frame, say, "pocket_corner", -1.0, sides=2)
    if facts["section"] == "box":
        radius(sheet, edges["hidden"], frame, say, "fillet", -1.0)


def radius(
    sheet: Sheet,
    edges: list[dict[str, Any]],
    frame: Frame,
    say: Words,
    name: str,
    way: float,
    sides: int = 1,
) -> None:
    """A leader on an arc with the radius asked for, and their number (ISO 129-1); way: 1 from its centre, -1 toward it."""
    wanted = say.sizes.get(name)
    arcs = [
        edge
        for edge in edges
        if "centre" in edge and wanted and abs(edge["radius"] - wanted["nominal"]) < 0.01 and not whole(edge)
    ]
    if not arcs:
        return
    count = sides * sum(1 for one in arcs if not goes_on(one, arcs))
    text = f"{count}× {say.full(name)}" if count > 1 else say.full(name)
    options = (
        leader(pair(tip), pair(tip + reach * way * out + turn * np.array([1.0, 0.0])), text)
        for tip, out in (middle(edge, frame) for edge in sorted(arcs, key=sweep, reverse=True))
        for reach in (12.0, 18.0, 24.0, 30.0, 40.0, 50.0)
        for turn in (4.0, -4.0, 12.0, -12.0, 24.0, -24.0)
    )
    placed(sheet, options)


def middle(edge: dict[str, Any], frame: Frame) -> tuple[np.ndarray, np.ndarray]:
    """The middle of an arc on paper, and the direction to it from the centre."""
    out = unit(edge["from"] + sweep(edge) / 2.0)
    return np.array(frame.at(*edge["centre"])) + frame.scale * edge["radius"] * out, out


def sweep(edge: dict[str, Any]) -> float:
    return (edge["to"] - edge["from"]) % 360.0


def whole(edge: dict[str, Any]) -> bool:
    return edge["from"] == 0.0 and edge["to"] == 360.0


def goes_on(edge: dict[str, Any], arcs: list[dict[str, Any]]) -> bool:
    """Whether an arc is the second half of one that the projection splits where its angle begins anew."""
    return edge["from"] == 0.0 and any(one["to"] == 360.0 and one["centre"] == edge["centre"] for one in arcs)


def plan(sheet: Sheet, edges: Edges, frame: Frame, say: Words) -> None:
    """Seen from above: overall length for reference."""
    sheet.add(strokes(edges, frame, FRONT_KINDS))
    left, bottom, right, _ = extent(edges)
    ends = frame.at(left, bottom), frame.at(right, bottom)
    text = say.reference(right - left)
    stacked(sheet, lambda y: linear(*ends, 0.0, (ends[0][0], y), text), ends[0][1] - 9.0, -STEP)
    sheet.line("centre", frame.at(left - 3.0 / frame.scale, 0.0), frame.at(right + 3.0 / frame.scale, 0.0))


def end(sheet: Sheet, edges: Edges, frame: Frame, facts: Facts, say: Words) -> None:
    """Seen along the arms: width of the hub, overall height for reference."""
    sheet.add(strokes(edges, frame, ("smooth", "visible")))
    _, bottom, _, top = extent(edges)
    half = facts["bores"]["pivot"]["width"] / 2.0
    foot = -facts["bores"]["pivot"]["outside"] / 2.0
    ends = frame.at(-half, foot), frame.at(half, foot)
    text = say.full("pivot_width")
    stacked(sheet, lambda y: linear(*ends, 0.0, (ends[0][0], y), text), ends[0][1] - 10.0, -STEP)
    ends = frame.at(half, bottom), frame.at(half, top)
    text = say.reference(top - bottom)
    stacked(sheet, lambda x: linear(*ends, 90.0, (x, ends[0][1]), text), ends[0][0] + 10.0, STEP)
    sheet.line("centre", frame.at(0.0, bottom - 3.0 / frame.scale), frame.at(0.0, top + 3.0 / frame.scale))
