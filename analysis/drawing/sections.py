"""The sections with what stands beside them: A along both arms through the pivot, B square to the output arm."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import numpy as np

from analysis.drawing.dims import (
    ABOVE,
    APART,
    ARROW,
    SMALL,
    STEP,
    TEXT,
    TRIES,
    arrow,
    leader,
    lettering,
    linear,
    pair,
    placed,
    stacked,
    toward,
)
from analysis.drawing.frame import Edges, Frame, extent, hatched, strokes
from analysis.drawing.ink import Item, Measure, Stroke, width
from analysis.drawing.sheet import Sheet
from analysis.drawing.symbols import HIGH, datum_feature, frame_length, texture, tolerance_frame
from analysis.drawing.words import Words

Facts = dict[str, Any]
SIGN = {"pivot": 0.0, "input": -1.0, "output": 1.0}  # of the place of a bore along section A


def aligned(sheet: Sheet, edges: Edges, frame: Frame, facts: Facts, say: Words) -> None:
    """Section A-A: bores with fits, outsides, widths, surfaces, datum, geometrical tolerances."""
    sheet.add(hatched(edges["cut"], frame))
    sheet.add(strokes(edges, frame, ("smooth", "visible", "cut")))
    for name in facts["bores"]:
        x, half = place(facts, name), facts["bores"][name]["width"] / 2.0
        ends = (frame.at(x, -half), frame.at(x, half))
        sheet.line("centre", (ends[0][0], ends[0][1] - 3.0), (ends[1][0], ends[1][1] + 3.0))
    top = diameters(sheet, frame, facts, say)
    widths(sheet, frame, facts, say)
    for name in facts["bores"]:
        surfaces(sheet, frame, facts, say, name)
    left, _, right, _ = extent(edges)
    middle = (frame.at(left, 0.0)[0] + frame.at(right, 0.0)[0]) / 2.0
    sheet.text(middle, top + 6.0, "A-A", 5.0, "middle")


def place(facts: Facts, name: str) -> float:
    """Where a bore's axis stands in the unfolded section, mm of the part."""
    return SIGN[name] * (0.0 if name == "pivot" else facts["arms"][name]["length"])


def diameters(sheet: Sheet, frame: Frame, facts: Facts, say: Words) -> float:
    """Bores on the lower line, outsides above; returns the height of the uppermost text."""
    highest = max(bore["width"] for bore in facts["bores"].values()) / 2.0
    start = frame.at(0.0, highest)[1] + 11.0
    tops = []
    for name in facts["bores"]:
        ends, text = across(frame, facts, name, "outside"), say.full(f"{name}_outside")
        measures = stacked(
            sheet,
            lambda y, ends=ends, text=text: linear(*ends, 0.0, (ends[0][0], y), text, 0.0),
            start + 10.0,
            STEP,
        )
        tops.append(measures.line[1] + ABOVE + TEXT)
    for name in sorted(
        facts["bores"], key=lambda name: abs(SIGN[name])
    ):  # the pivot's first, on the lowest line
        measures = placed(sheet, fitted(frame, facts, say, name, start))[0]
        assert isinstance(measures, Measure)
        tops.append(measures.line[1] + ABOVE + 2.0 * SMALL + APART)
    return max(tops)


def across(
    frame: Frame, facts: Facts, name: str, kind: str
) -> tuple[tuple[float, float], tuple[float, float]]:
    """Ends of a diameter on the upper face, on paper."""
    bore = facts["bores"][name]
    x, half = place(facts, name), bore[kind] / 2.0
    level = bore["width"] / 2.0 - (bore["chamfer"] if kind == "bore" else 0.0)
    return frame.at(x - half, level), frame.at(x + half, level)


def fitted(frame: Frame, facts: Facts, say: Words, name: str, start: float) -> Iterator[list[Item]]:
    """A bore with its class, limits, and datum or parallelism, line by line upward.

    The pivot's text keeps clear of the datum triangle; the others' stands over the bore, or beyond the extension lines of the
    outside toward the pivot.
    """
    ends, limits = across(frame, facts, name, "bore"), say.limits(f"{name}_bore")
    text = say.full(f"{name}_bore")
    long, size = lettering(text, limits), frame.scale * facts["bores"][name]["bore"]
    aside = (frame.scale * facts["bores"][name]["outside"] + long) / 2.0 + 1.5
    shifts = (max(0.0, (long - size) / 2.0 + 1.0),) if name == "pivot" else (0.0, -SIGN[name] * aside)
    for count in range(TRIES):
        for shift in shifts:
            measure = linear(*ends, 0.0, (ends[0][0], start + STEP * count), text, shift, limits=limits)
            yield [measure, *attached(frame, measure, name, facts, say, shift)]


def attached(frame: Frame, measure: Measure, name: str, facts: Facts, say: Words, shift: float) -> list[Item]:
    """On the dimension line of a bore, hence for its axis: datum A on the pivot's, parallelism on the others'."""
    value = "Ø" + say.number(facts["drawing"]["bore_parallelism"])
    long = HIGH if name == "pivot" else frame_length(value, "A")
    y = measure.line[1]
    (left, right) = sorted(point[0] for point in measure.points)
    way = 1.0 if name == "input" else -1.0
    text = lettering(measure.text, measure.limits) / 2.0 + way * shift
    start = left if way < 0.0 else right
    stem = max(text - (right - left) / 2.0, ARROW) + 1.5
    if name == "pivot":
        stem = clear(frame, facts, start + 3.0 * way, way, stem, long)
        return datum_feature((left, y), way, stem, "A")
    far = start + way * clear(frame, facts, start, way, stem, long)
    corner = (far if way > 0.0 else far - long, y - HIGH / 2.0)
    return [Stroke("dimension", ((start, y), (far, y))), *tolerance_frame(corner, "parallelism", value, "A")]


def clear(frame: Frame, facts: Facts, start: float, way: float, stem: float, long: float) -> float:
    """The stem after which a frame of this length lies between extension lines of the outsides, not across one."""
    lines = [
        frame.at(place(facts, name) + side * bore["outside"] / 2.0, 0.0)[0]
        for name, bore in facts["bores"].items()
        for side in (-1.0, 1.0)
    ]
    for longer in np.arange(stem, stem + 60.0, 1.0):
        near, far = sorted((start + way * longer, start + way * (longer + long)))
        if not any(near - 1.0 < x < far + 1.0 for x in lines):
            return float(longer)
    return stem


def widths(sheet: Sheet, frame: Frame, facts: Facts, say: Words) -> None:
    """Widths of the bosses beyond the ends of the section."""
    for name in ("input", "output"):
        bore = facts["bores"][name]
        x = place(facts, name) + SIGN[name] * bore["outside"] / 2.0
        ends = frame.at(x, -bore["width"] / 2.0), frame.at(x, bore["width"] / 2.0)
        text, start = say.full(f"{name}_width"), ends[0][0] + SIGN[name] * 10.0
        stacked(
            sheet,
            lambda at, ends=ends, text=text: linear(*ends, 90.0, (at, ends[0][1]), text),
            start,
            SIGN[name] * STEP,
        )


def surfaces(sheet: Sheet, frame: Frame, facts: Facts, say: Words, name: str) -> None:
    """Below the section: a leader into the bore and one to the face, with texture and squareness."""
    bore, drawing = facts["bores"][name], facts["drawing"]
    x, half = place(facts, name), bore["width"] / 2.0
    widest = max(one["width"] for one in facts["bores"].values()) / 2.0
    base = frame.at(0.0, -widest)[1]
    wall = (bore["bore"] + bore["outside"]) / 4.0
    lower, upper = base - 33.0, base - 17.0
    ra_bore, ra_face = say.texture(drawing["bore_finish"]), say.texture(drawing["face_finish"])
    way = -1.0 if name == "output" else 1.0  # away from the title block
    tip = frame.at(x - way * bore["bore"] / 2.0, -0.6 * half)
    shelf(sheet, tip, tip[0] + 2.0 * way, lower, ra_bore, "", -way)
    tip = frame.at(x + way * wall, -half)
    shelf(sheet, tip, tip[0] + 4.0 * way, upper, ra_face, say.number(drawing["face_squareness"]), way)


def shelf(
    sheet: Sheet, tip: tuple[float, float], x: float, y: float, ra: str, value: str, way: float
) -> None:
    """A leader to `tip` from a shelf that runs from x to one side, the texture on it, a squareness frame under it."""
    length = 14.0 + width(ra, TEXT)
    end = x + way * length
    left = min(x, end)
    sheet.line("dimension", tip, (x, y), (end, y))
    sheet.items.append(arrow(np.array(tip), toward((x, y), tip)))
    sheet.add(texture((left + 4.0, y), ra))
    if value:
        sheet.add(tolerance_frame((left, y - HIGH), "squareness", value, "A"))


def square(sheet: Sheet, edges: Edges, frame: Frame, facts: Facts, say: Words, scale: str) -> None:
    """Section B-B: width, thicknesses, fillet."""
    sheet.add(hatched(edges["cut"], frame))
    sheet.add(strokes(edges, frame, ("cut",)))
    left, bottom, right, top = extent(edges)
    ends = frame.at(left, top), frame.at(right, top)
    measures = stacked(
        sheet,
        lambda y: linear(*ends, 0.0, (ends[0][0], y), say.full("section_width")),
        ends[0][1] + 8.0,
        STEP,
    )
    over = 3.0 / frame.scale
    sheet.line("centre", frame.at(0.0, bottom - over), frame.at(0.0, top + over))
    if facts["section"] != "solid":
        plates(sheet, frame, facts, say, (left, bottom, right, top))
    sheet.text(frame.at(0.0, 0.0)[0], measures.line[1] + 10.0, f"B-B ({scale})", 5.0, "middle")


def plates(
    sheet: Sheet, frame: Frame, facts: Facts, say: Words, box: tuple[float, float, float, float]
) -> None:
    """Thickness of flange and web, and the fillet between them."""
    _, bottom, right, top = box
    flange, web = (say.sizes[f"{name}_thickness"]["nominal"] for name in ("flange", "web"))
    ends = frame.at(right, top - flange), frame.at(right, top)
    text = say.full("flange_thickness")
    stacked(sheet, lambda x: linear(*ends, 90.0, (x, ends[0][1]), text), ends[0][0] + 9.0, STEP)
    inner = (-web / 2.0, web / 2.0) if facts["section"] == "i" else (right - web, right)
    level = bottom + 0.3 * (top - bottom)
    ends = frame.at(inner[0], level), frame.at(inner[1], level)
    text = say.full("web_thickness")
    stacked(sheet, lambda y: linear(*ends, 0.0, (ends[0][0], y), text, beside=True), ends[0][1], STEP)
    if facts["section"] == "i" and "fillet" in say.sizes:
        radius = say.sizes["fillet"]["nominal"]
        middle = np.array(frame.at(web / 2.0 + radius, top - flange - radius))
        tip = middle + frame.scale * radius * np.array([-1.0, 1.0]) * np.sqrt(0.5)
        text = say.full("fillet")
        placed(
            sheet,
            (
                leader(pair(tip), pair(tip + reach * np.array([0.6, -1.0])), text)
                for reach in (10.0, 15.0, 20.0, 25.0)
            ),
        )
