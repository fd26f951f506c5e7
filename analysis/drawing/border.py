"""Sheet sizes, frame, centring marks, grid references and trimming marks after ISO 5457:1999."""

from __future__ import annotations

import string
from itertools import pairwise

from analysis.drawing.ink import Fill
from analysis.drawing.sheet import Sheet

SIZES = {"A0": (1189.0, 841.0), "A1": (841.0, 594.0), "A2": (594.0, 420.0)}  # trimmed, landscape
LEFT, OTHER = 20.0, 10.0  # margins; the left one is for filing
FIELD = 50.0  # length of a field of the grid, counted from the axes of symmetry
STRIP = 5.0  # grid references stand in a strip this wide outside the frame


def blank(size: str, title: str) -> Sheet:
    """An empty sheet with its border."""
    sheet = Sheet(*SIZES[size], title)
    x, y, wide, high = space(sheet)
    sheet.box("frame", x, y, wide, high)
    sheet.box("grid", x - STRIP, y - STRIP, wide + 2.0 * STRIP, high + 2.0 * STRIP)
    _centring(sheet)
    _grid(sheet)
    _trimming(sheet)
    sheet.text(sheet.width - OTHER, 1.0, size, 2.5, "right")
    return sheet


def space(sheet: Sheet) -> tuple[float, float, float, float]:
    """The drawing space within the frame: left, bottom, width, height."""
    return LEFT, OTHER, sheet.width - LEFT - OTHER, sheet.height - 2.0 * OTHER


def _centring(sheet: Sheet) -> None:
    """From the grid border to 10 mm inside the frame, on both axes of symmetry."""
    x, y, wide, high = space(sheet)
    middle = (sheet.width / 2.0, sheet.height / 2.0)
    inside = 10.0
    sheet.line("frame", (middle[0], y - STRIP), (middle[0], y + inside))
    sheet.line("frame", (middle[0], y + high + STRIP), (middle[0], y + high - inside))
    sheet.line("frame", (x - STRIP, middle[1]), (x + inside, middle[1]))
    sheet.line("frame", (x + wide + STRIP, middle[1]), (x + wide - inside, middle[1]))


def _grid(sheet: Sheet) -> None:
    """Numerals from left to right, letters from top to bottom without I and O."""
    x, y, wide, high = space(sheet)
    columns = ticks(sheet.width / 2.0, x - STRIP, x + wide + STRIP)
    for number, (low, up) in enumerate(pairwise(columns), 1):
        for foot in (y - STRIP, y + high):
            if number > 1 and low != sheet.width / 2.0:
                sheet.line("grid", (low, foot), (low, foot + STRIP))
            if up - low > 4.0:
                sheet.text((low + up) / 2.0, foot + 1.25, str(number), 2.5, "middle")
    rows = ticks(sheet.height / 2.0, y - STRIP, y + high + STRIP)
    letters = [letter for letter in string.ascii_uppercase if letter not in "IO"]
    for letter, (low, up) in zip(letters, zip(rows[-2::-1], rows[:0:-1], strict=True), strict=False):
        for foot in (x - STRIP, x + wide):
            if low != rows[0] and low != sheet.height / 2.0:
                sheet.line("grid", (foot, low), (foot + STRIP, low))
            sheet.text(foot + STRIP / 2.0, (low + up) / 2.0 - 1.25, letter, 2.5, "middle")


def ticks(middle: float, first: float, last: float) -> list[float]:
    """Both ends and every FIELD from the middle; a rest shorter than half a field joins its neighbour."""
    inner = sorted(
        middle + sign * FIELD * count
        for count in range(40)
        for sign in ((1.0,) if count == 0 else (-1.0, 1.0))
        if first + FIELD / 2.0 < middle + sign * FIELD * count < last - FIELD / 2.0
    )
    return [first, *inner, last]


def _trimming(sheet: Sheet) -> None:
    """Two overlapping rectangles, 10 mm by 5 mm, at each corner of the trimmed sheet."""
    for x, right in ((0.0, 1.0), (sheet.width, -1.0)):
        for y, up in ((0.0, 1.0), (sheet.height, -1.0)):
            for a, b in ((10.0, 5.0), (5.0, 10.0)):
                corners = ((x, y), (x + right * a, y), (x + right * a, y + up * b), (x, y + up * b))
                sheet.items.append(Fill("frame", corners))
