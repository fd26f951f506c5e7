"""A sheet as PDF at full size; the same sheet gives the same bytes."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from analysis.drawing.ink import CAPITAL, PENS, Arc, Fill, Item, Stroke, Text, font_file
from analysis.drawing.sheet import Sheet, flat

POINT = 72.0 / 25.4  # of type, in a millimetre
METADATA = {"Creator": "Leverwright", "Producer": None, "CreationDate": None}


def write_pdf(sheet: Sheet, path: Path, dpi: float = 100.0) -> None:
    """Write the sheet; by its suffix also as PNG."""
    import matplotlib
    from matplotlib.figure import Figure

    settings: Any = {"pdf.fonttype": 42, "path.simplify": False}
    with matplotlib.rc_context(settings):
        figure = Figure(figsize=(sheet.width / 25.4, sheet.height / 25.4))
        plot = figure.add_axes((0.0, 0.0, 1.0, 1.0))
        plot.set(xlim=(0.0, sheet.width), ylim=(0.0, sheet.height))
        plot.axis("off")
        for item in flat(sheet.items):
            put(plot, item)
        known = METADATA | {"Title": sheet.title} if path.suffix == ".pdf" else {"Software": None}
        figure.savefig(path, metadata=known, dpi=dpi)


def put(plot, item: Item) -> None:
    """One stroke onto matplotlib's axes, which measure mm of paper."""
    from matplotlib.font_manager import FontProperties
    from matplotlib.lines import Line2D
    from matplotlib.patches import Polygon

    if isinstance(item, Stroke | Arc):
        pen = PENS[item.pen]
        points = fine(item) if isinstance(item, Arc) else item.points
        line = Line2D(*zip(*points, strict=True), color="black", linewidth=pen.width * POINT)
        line.set_solid_capstyle("round")
        if pen.dashes:
            line.set_linestyle((0, tuple(dash / pen.width for dash in pen.dashes)))
            line.set_dash_capstyle("butt")
        plot.add_line(line)
    elif isinstance(item, Fill):
        plot.add_patch(Polygon(item.points, closed=True, facecolor="black", edgecolor="none", linewidth=0.0))
    elif isinstance(item, Text):
        font = FontProperties(fname=str(font_file()), size=item.height / CAPITAL * POINT)
        across = {"middle": "center"}.get(item.align, item.align)
        plot.text(
            *item.at,
            item.text,
            fontproperties=font,
            ha=across,
            va="baseline",
            rotation=item.angle,
            rotation_mode="anchor",
            parse_math=False,
        )


def fine(arc: Arc) -> tuple[tuple[float, float], ...]:
    """Points of an arc, a hundredth of a millimetre off at most."""
    import numpy as np

    step = 2.0 * np.degrees(np.arccos(1.0 - min(0.01 / max(arc.radius, 0.02), 0.5)))
    count = max(3, int(np.ceil((arc.last - arc.first) / step)) + 1)
    turn = np.radians(np.linspace(arc.first, arc.last, count))
    x, y = arc.centre
    return tuple(zip(x + arc.radius * np.cos(turn), y + arc.radius * np.sin(turn), strict=True))
