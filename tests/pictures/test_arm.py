"""Pictures are drawn at the size at which the record prints them: every word in them is large enough, and on the sheet."""

import re
from xml.etree import ElementTree

import numpy as np
import pytest
from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.text import Text

from analysis.pictures import convergence as convergence_picture
from analysis.pictures import diagrams, view
from analysis.pictures import sheet as figures
from analysis.pictures.diagrams import free_body, section_forces
from tests.record.standin import hand_only, whole

# The brief of the record: no letter under 8 points on paper. The column is 170 mm wide (A4 less 22 and 18 mm), 1 in = 25.4 mm.
LEAST = 8.0
COLUMN = 170.0 / 25.4 * 72.0  # points
DEMO = ("bench-lever", "sluice-crank", "linkspan-rocker")


@pytest.fixture(scope="module", params=DEMO)
def drawn(request, tmp_path_factory):
    """Both drawings of a demo arm; one in US units among them."""
    root = hand_only(request.param, tmp_path_factory.mktemp("pictures") / request.param)
    folder = root / "as-written"
    free_body(folder, folder / "free-body.svg")
    section_forces(folder, folder / "diagrams.svg")
    return folder


@pytest.mark.parametrize("name", ["free-body", "diagrams"])
def test_letters_of_drawings_are_large_enough_on_paper(drawn, name):
    root = ElementTree.parse(drawn / f"{name}.svg").getroot()
    wide = float(root.attrib["viewBox"].split()[2])
    sizes = [
        float(size)
        for one in root.iter("{http://www.w3.org/2000/svg}text")
        for size in re.findall(r"(?:font|font-size):[^;]*?([\d.]+)px", one.attrib.get("style", ""))
    ]
    assert len(sizes) > 20
    assert min(sizes) * COLUMN / wide >= LEAST - 1e-6


def words(figure):
    """Texts that show."""
    return [one for one in figure.findobj(Text) if one.get_text().strip() and one.get_visible()]


@pytest.fixture
def saved(monkeypatch):
    """Figures instead of files."""
    kept = []
    for module in (view, convergence_picture, diagrams):
        monkeypatch.setattr(module, "save", lambda figure, _: kept.append(figure))
    return kept


def hold(figure):
    """Every letter large enough, and all that is drawn on the sheet."""
    canvas = FigureCanvasAgg(figure)
    canvas.draw()
    for one in words(figure):
        assert one.get_fontsize() * COLUMN / (72.0 * figure.get_figwidth()) >= LEAST - 1e-6, one.get_text()
    box, (wide, high) = figure.get_tightbbox(canvas.get_renderer()), figure.get_size_inches()
    assert min(box.x0, box.y0) >= -0.01 and box.x1 <= wide + 0.01 and box.y1 <= high + 0.01, (
        box
    )  # inches; a line's width


@pytest.mark.parametrize("draw", [free_body, section_forces])
def test_words_of_drawings_are_on_the_sheet(drawn, draw, saved):
    draw(drawn, drawn / "again.svg")
    hold(saved[0])


def test_words_of_a_view_are_large_enough_and_on_the_sheet(saved, tmp_path):
    pixels = np.full((900, 1600, 3), 255, np.uint8)
    marked = view.View(pixels, [(700.0, 450.0, "peak 123 MPa, near side")])
    view.sheet(
        marked,
        tmp_path / "a.png",
        "an-arm, revision A: stress",
        "A long line about it. " * 20,
        (0.0, 123.0, "stress, MPa"),
    )
    hold(saved[0])
    text = [one.get_text() for one in words(saved[0])]
    assert any("not a release for" in one for one in text)  # the caution stands whole


def test_words_of_the_convergence_are_large_enough_and_on_the_sheet(saved, tmp_path):
    folder = whole("bench-lever", tmp_path / "bench-lever") / "as-written"
    convergence_picture.convergence(folder, folder / "convergence.png")
    hold(saved[-1])


def test_a_sheet_that_is_shrunk_has_larger_letters(saved):
    """A sheet twice as wide as the column is printed at half its size: its head and caution are twice as large."""
    figure = figures.Figure(figsize=(2.0 * figures.WIDE, 6.0))
    figures.letter(figure, "Title", "Told")
    hold(figure)


def test_a_bare_view_has_lost_its_words_only(tmp_path):
    """Words stand in the head and foot of the sheet: white paper is left of them, the view's own pixels stay."""
    pixels = np.full((300, 1600, 3), 255, np.uint8)
    pixels[100:200, 400:1200] = 0
    view.sheet(view.View(pixels), tmp_path / "a.png", "Title", "Told")
    with view.Image.open(tmp_path / "a.png") as result:
        whole, bare = (np.asarray(one.convert("L")) for one in (result, view.bare(result)))
    # The block is half of the width and a third of the height of a view that fills 98 % of the width of the sheet.
    block = (0.5 * 0.98 * result.width) * (0.98 * result.width * 300.0 / 1600.0 / 3.0)
    assert np.sum(bare < 60) == pytest.approx(block, rel=0.02)  # a row or column of pixels at its edges
    assert np.sum(whole < 200) > np.sum(bare < 200) + 2_000  # the letters that are gone
    assert bare[0].min() > 250 and bare[-1].min() > 250
