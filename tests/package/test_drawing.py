"""The drawing: nothing overlaps, DXF audits clean, sheet and tolerances as the standards have them, same bytes."""

import ezdxf
import numpy as np
import pytest

from analysis.drawing.arrangement import drawn
from analysis.drawing.border import SIZES, blank, space
from analysis.drawing.dims import linear
from analysis.drawing.dxf import document, write_dxf
from analysis.drawing.frame import Frame, hatched
from analysis.drawing.ink import PENS, Measure, Stroke, Text
from analysis.drawing.pdf import write_pdf
from analysis.drawing.sheet import crossings, flat, meetings
from analysis.drawing.words import Words
from analysis.package.tolerances import linear as general
from tests.arms import demo
from tests.package.made import said, seen, sheet

SHEETS = [
    ("bench-lever", "first", "A2"),
    ("bench-lever", "third", "A1"),
    pytest.param("linkspan-rocker", "first", "A2", marks=pytest.mark.slow),
    pytest.param("linkspan-rocker", "third", "A1", marks=pytest.mark.slow),
    pytest.param("sluice-crank", "third", "A1", marks=pytest.mark.slow),
    pytest.param("sluice-crank", "first", "A0", marks=pytest.mark.slow),
]


@pytest.mark.parametrize(("name", "projection", "size"), SHEETS)
def test_lettering_meets_nothing_and_all_lies_within_the_frame(name, projection, size):
    result = sheet(name, projection, size)
    items = list(flat(result.items))
    assert [(a.text, b.text) for a, b in meetings(items, items)] == []
    assert [(text.text, line.pen) for text, line in crossings(items, items)] == []
    x, y, wide, high = space(result)
    inside = [
        item for item in items if isinstance(item, Stroke) and item.pen in ("outline", "dimension", "symbol")
    ]
    points = np.array([point for item in inside for point in item.points])
    assert (points >= (x, y)).all() and (points <= (x + wide, y + high)).all()


def test_a_text_on_another_is_found():
    result = blank("A2", "")
    result.text(100.0, 100.0, "1750")
    result.text(108.0, 102.0, "600")
    result.line("outline", (300.0, 300.0), (320.0, 310.0))
    result.text(306.0, 302.0, "12")
    items = list(flat(result.items))
    assert any({a.text, b.text} == {"1750", "600"} for a, b in meetings(items, items))
    assert any(text.text == "12" for text, _ in crossings(items, items))


def test_dxf_is_read_back_audits_clean_and_has_the_dimensions(tmp_path):
    result = sheet("bench-lever")
    write_dxf(result, tmp_path / "a.dxf")
    read = ezdxf.readfile(tmp_path / "a.dxf")
    audit = read.audit()
    assert not audit.errors and not audit.fixes
    drawn_as = [list(entity.virtual_entities()) for entity in read.modelspace().query("DIMENSION")]
    assert all(any(one.dxftype() == "TEXT" for one in strokes) for strokes in drawn_as)
    message = {entity.dxf.text for entity in read.modelspace().query("DIMENSION")}
    # Sizes as the file has them; H7 of 40 mm is +25 0 micrometres (ISO 286-2 Table 6, published F rows), stacked behind it.
    assert {"200 ±0.2", "150 ±0.2", "150°", "Ø40 H7 {\\H0.71x;\\S+0.025^ 0;}", "Ø90", "50"} <= message
    assert {layer.dxf.name for layer in read.layers} >= {name.upper() for name in PENS}
    assert (
        read.layers.get("OUTLINE").dxf.lineweight == 2 * read.layers.get("HIDDEN").dxf.lineweight
    )  # ISO 128-2, 2 : 1
    assert len(document(result).blocks) == len(read.blocks)


def test_a_drawing_made_twice_has_the_same_bytes(tmp_path):
    for folder in ("a", "b"):
        (tmp_path / folder).mkdir()
        result = drawn(said(demo("bench-lever"), seen("bench-lever")), seen("bench-lever"))
        write_dxf(result, tmp_path / folder / "drawing.dxf")
        write_pdf(result, tmp_path / folder / "drawing.pdf")
    for name in ("drawing.dxf", "drawing.pdf"):
        assert (tmp_path / "a" / name).read_bytes() == (tmp_path / "b" / name).read_bytes()


@pytest.mark.parametrize(
    ("units", "full", "limits"),
    [("si", "Ø320 H7", ("+0.057", "0")), ("us", "Ø12.5984 H7", ("+.0022", "−.0000"))],
)
def test_limits_stand_behind_the_size(units, full, limits):
    """H7 of 320 mm: +57 0 micrometres (ISO 286-2); in inches 0.057 / 25.4 = 0.0022, and 320 / 25.4 = 12.5984."""
    size = {"nominal": 320.0, "lower": 0.0, "upper": 0.057, "basis": "H7", "kind": "diameter"}
    plain = size | {"basis": "ISO 2768-1 m", "lower": -0.8, "upper": 0.8}
    say = Words(units, {"bore": size, "plain": plain})
    assert (say.full("bore"), say.limits("bore"), say.limits("plain")) == (full, limits, None)
    below = Words("us", {"bore": size | {"lower": -0.0508, "upper": -0.0254}})
    assert below.limits("bore") == ("−.0010", "−.0020")


def test_stacked_limits_keep_off_text_and_line():
    result = linear((10.0, 20.0), (90.0, 20.0), 0.0, (0.0, 50.0), "Ø320 H7", 0.0, limits=("+0.057", "0"))
    text, upper, lower = (item for item in result.items if isinstance(item, Text))
    assert upper.box[:, 1].min() > lower.box[:, 1].max() and lower.box[:, 1].min() > 50.0
    assert min(upper.box[:, 0].min(), lower.box[:, 0].min()) > text.box[:, 0].max()
    middle = (text.box[:, 0].min() + upper.box[:, 0].max()) / 2.0
    assert middle == pytest.approx(50.0)  # of the whole, between the feature points


@pytest.mark.parametrize(
    ("size", "trimmed", "room"),
    [("A0", (1189, 841), (1159, 821)), ("A1", (841, 594), (811, 574)), ("A2", (594, 420), (564, 400))],
)
def test_sheet_sizes_of_iso_5457(
    size, trimmed, room
):  # Table 1 of the standard: trimmed sheet and drawing space
    assert SIZES[size] == trimmed
    assert space(blank(size, ""))[2:] == room


def test_grid_references_of_iso_5457():  # fields counted by the standard for A2: 12 by 8
    result = blank("A2", "")
    message = [item.text for item in result.items if isinstance(item, Text)]
    assert max(int(text) for text in message if text.isdigit()) == 12
    assert sorted({text for text in message if text.isalpha()}) == list("ABCDEFGH")


@pytest.mark.parametrize(
    ("grade", "nominal", "off"),
    [("m", 50.0, 0.3), ("m", 1250.0, 1.2), ("c", 700.0, 2.0), ("v", 3000.0, 8.0), ("f", 25.0, 0.1)],
)
def test_general_tolerances_of_iso_2768(grade, nominal, off):  # ISO 2768-1:1989 Table 1, from memory
    assert general(grade, nominal) == off


def test_a_dimension_line_stands_where_it_was_put():
    result = linear((10.0, 20.0), (70.0, 25.0), 0.0, (0.0, 50.0), "60")
    assert isinstance(result, Measure)
    line = next(
        item for item in result.items if isinstance(item, Stroke) and item.points[0][1] == item.points[1][1]
    )
    assert line.points == ((10.0, 50.0), (70.0, 50.0))
    text = next(item for item in result.items if isinstance(item, Text))
    assert text.at[0] == pytest.approx(40.0) and text.at[1] > 50.0


def test_hatching_keeps_out_of_holes():
    square = [
        {"points": [[a, b], [c, d]]}
        for a, b, c, d in ((0, 0, 40, 0), (40, 0, 40, 40), (40, 40, 0, 40), (0, 40, 0, 0))
    ]
    hole = [{"centre": [20.0, 20.0], "radius": 10.0, "from": 0.0, "to": 360.0}]
    lines = hatched([*square, *hole], Frame(0.0, 0.0, 1.0), apart=1.0)
    length = sum(np.hypot(*(np.array(line.points[1]) - line.points[0])) for line in lines)
    # Lines a unit apart over an area have its number as length; the circle is drawn by chords of 5 degrees.
    assert length == pytest.approx(1600.0 - 100.0 * np.pi, rel=0.01)
    middle = [np.mean(line.points, axis=0) for line in lines]
    assert min(np.hypot(*(point - 20.0)) for point in middle) > 9.9
