"""A sheet as DXF (R2010, millimetres of paper), a layer for each pen; dimensions are dimension entities."""

from __future__ import annotations

import io
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from pathlib import Path

from ezdxf._options import options
from ezdxf.document import Drawing
from ezdxf.enums import TextEntityAlignment
from ezdxf.layouts.base import BaseLayout
from ezdxf.units import MM

from analysis.drawing.dims import SMALL, TEXT
from analysis.drawing.ink import PENS, Arc, Fill, Item, Measure, Pen, Stroke, Text
from analysis.drawing.sheet import Sheet

ALIGN = {
    "left": TextEntityAlignment.LEFT,
    "middle": TextEntityAlignment.CENTER,
    "right": TextEntityAlignment.RIGHT,
}
STYLE = "LETTERING"


def write_dxf(sheet: Sheet, path: Path) -> None:
    """Write the sheet; the same sheet gives the same bytes."""
    save(document(sheet), path)


def document(sheet: Sheet) -> Drawing:
    drawing = new()
    for name, pen in PENS.items():
        layer(drawing, name, pen)
    put(drawing, drawing.modelspace(), sheet.items)
    drawing.header["$EXTMIN"], drawing.header["$EXTMAX"] = (0.0, 0.0, 0.0), (sheet.width, sheet.height, 0.0)
    drawing.set_modelspace_vport(sheet.height, (sheet.width / 2.0, sheet.height / 2.0))
    return drawing


def new() -> Drawing:
    """An empty document in millimetres without clock time or random numbers."""
    with timeless():
        drawing = Drawing.new("R2010")
        drawing.units = MM
    drawing.styles.add(STYLE, font="DejaVuSans.ttf")
    return drawing


def layer(drawing: Drawing, name: str, pen: Pen) -> None:
    """A layer with the pen's weight and line type."""
    kind = "CONTINUOUS"
    if pen.dashes:
        kind = name.upper()
        signed = [dash * (-1.0 if index % 2 else 1.0) for index, dash in enumerate(pen.dashes)]
        drawing.linetypes.add(kind, [sum(pen.dashes), *signed], description=f"{name}, ISO 128-2")
    drawing.layers.add(name.upper(), color=7, linetype=kind, lineweight=round(100.0 * pen.width))


def put(drawing: Drawing, layout: BaseLayout, items: Iterable[Item]) -> None:
    """Strokes into a layout or block."""
    for item in items:
        if isinstance(item, Stroke):
            layout.add_lwpolyline(item.points, dxfattribs={"layer": item.pen.upper()})
        elif isinstance(item, Arc):
            circle(layout, item)
        elif isinstance(item, Fill):
            corners = (
                item.points
                if len(item.points) == 3
                else (item.points[0], item.points[1], item.points[3], item.points[2])
            )
            layout.add_solid(corners, dxfattribs={"layer": item.pen.upper()})
        elif isinstance(item, Text):
            entity = layout.add_text(
                item.text,
                height=item.height,
                rotation=item.angle,
                dxfattribs={"layer": "LETTERING", "style": STYLE},
            )
            entity.set_placement(item.at, align=ALIGN[item.align])
        else:
            dimension(drawing, layout, item)


def circle(layout: BaseLayout, item: Arc) -> None:
    known = {"layer": item.pen.upper()}
    if item.last - item.first >= 360.0 - 1e-9:
        layout.add_circle(item.centre, item.radius, dxfattribs=known)
    else:
        layout.add_arc(item.centre, item.radius, item.first, item.last, dxfattribs=known)


def dimension(drawing: Drawing, layout: BaseLayout, item: Measure) -> None:
    """A dimension entity whose picture is the block of its strokes."""
    block = drawing.blocks.new_anonymous_block(type_char="D")
    put(drawing, block, item.items)
    known = {
        "layer": "DIMENSION",
        "text": measure_text(item),
        "geometry": block.name,
        "defpoint": (*item.line, 0.0),
    }
    middle = next(one for one in item.items if isinstance(one, Text)).box.mean(0)
    known["text_midpoint"] = (float(middle[0]), float(middle[1]), 0.0)
    first, second = ((*point, 0.0) for point in item.points[:2])
    if item.kind == "linear":
        known |= {"dimtype": 32, "defpoint2": first, "defpoint3": second, "angle": item.angle}
    else:
        centre = (*item.points[2], 0.0)
        known |= {"dimtype": 37, "defpoint2": first, "defpoint3": second, "defpoint4": centre}
    layout.new_entity("DIMENSION", known)


def measure_text(item: Measure) -> str:
    """Its text in the entity, deviations stacked behind it for readers that draw it anew."""
    if item.limits is None:
        return item.text
    upper, lower = item.limits
    return f"{item.text} {{\\H{SMALL / TEXT:.2f}x;\\S{upper}^ {lower};}}"


@contextmanager
def timeless() -> Iterator[None]:
    """Constants in place of clock time and random identifiers while a document is made or written."""
    options.write_fixed_meta_data_for_testing = True
    try:
        yield
    finally:
        options.write_fixed_meta_data_for_testing = False


def text_of(drawing: Drawing) -> str:
    """The document as DXF text; the same document gives the same text."""
    stream, classes = io.StringIO(), drawing.classes
    classes.add_required_classes(
        drawing.dxfversion
    )  # as writing does, from a set: its order changes from process to process
    classes.classes = dict(sorted(classes.classes.items()))
    with timeless():
        drawing.write(stream)
    return stream.getvalue()


def save(drawing: Drawing, path: Path) -> None:
    path.write_text(text_of(drawing), encoding="utf-8", newline="\n")
