"""The record as a document: whole whatever a user writes, the same bytes every time."""

import io

import pytest
from pypdf import PdfReader

from analysis.record.book import main, source
from analysis.record.tables import Tables
from analysis.record.typeset import quoted, table, text
from analysis.tables.number import number
from params.steps.caution import CAUTION
from tests.record.printed import calculations, plain
from tests.record.standin import quoted as scalar
from tests.record.standin import whole
from tests.summaries import NOTE

WORDS = {
    "html": '<script>alert("x")</script><b>&amp;</b>',
    "markup": '#panic("no") $x_1$ *b* _i_ `raw` @label <label> // gone /* gone */ #import "x.typ" [ ] { } = = - +',
    "quotes": '"\'\'" \\" “ ” #" + read("/etc/hostname") + "',
    "right to left": "זרוע ישנה של מעבורת mixed ذراع قديم",
    "no such letters": "\U00013000 \U00012000 \U0001f9ff end",
    "lines": "one\ntwo\n\n= no heading\n- no point",
}
HOSTILE = {"markup and letters": "\n".join(WORDS.values()), "long word": "W" * 3900}


def pages(path):
    return [page.extract_text() for page in PdfReader(io.BytesIO(path.read_bytes())).pages]


@pytest.fixture(scope="module")
def result(tmp_path_factory):
    """A plain record: its tables, its PDF."""
    root = whole("bench-lever", tmp_path_factory.mktemp("results") / "bench-lever")
    main(root, root / "record.pdf")
    return Tables(root), root / "record.pdf"


@pytest.fixture(scope="module")
def message(result):
    """Text of every page of the plain record."""
    return pages(result[1])


def test_pages_carry_caution_and_number(message):
    assert 15 < len(message) < 40
    for index, page in enumerate(message):
        flat = " ".join(page.split())
        assert CAUTION in flat and f"{index + 1} / {len(message)}" in flat and "Reviewed:" in flat


def test_where_the_solid_is_not_as_the_file_says_stands_on_the_first_page(message):
    assert f"Note: {NOTE}" in " ".join(message[0].split())


def test_every_result_is_on_the_pages(result, message):
    """Digits of every result of the source stand in the text of the PDF."""
    flat = "".join("".join(message).split())
    for _, _, _, shown in calculations(source(result[0])):
        assert plain(shown).strip().partition("*")[0].replace("-", "\u2212") in flat


def test_sections_stand_in_their_order(message):
    flat = " ".join(" ".join(message).split())
    titles = (
        "Purpose and basis",
        "The arm and its work",
        "Loads and balance",
        "Section properties",
        "Clause checks",
        "Finite-element model",
        "Hand beside mesh",
        "Bores: fit",
        "Making: routes",
        "Assumptions",
        "Sources",
        "Versions and files",
    )
    places = [flat.index(f"{number} {title}") for number, title in enumerate(titles, 1)]
    assert places == sorted(places)


def test_same_tables_give_the_same_bytes(result, tmp_path):
    tables, first = result
    main(tables.root, tmp_path / "again.pdf")
    assert (tmp_path / "again.pdf").read_bytes() == first.read_bytes()


def test_tables_of_bores_and_making_are_printed_where_they_exist(result, tmp_path):
    root = whole("bench-lever", tmp_path / "bench-lever")
    for place, name, column in (("bores", "fit", "mean"), ("making", "pieces", "days")):
        (root / "as-written" / place).mkdir()
        (root / "as-written" / place / f"{name}.csv").write_text(
            f"bore,{column},note,unknown\npivot bore,0.0417,<i>#x</i>,stays in its file\n"
        )
    main(root, root / "record.pdf")
    flat = " ".join(" ".join(pages(root / "record.pdf")).split())
    assert "Fits" in flat and "Pieces of a deposited part" in flat
    assert flat.count("0.0417") == 2 and flat.count("<i>#x</i>") == 2 and "stays in its file" not in flat


@pytest.mark.slow
@pytest.mark.parametrize("what", HOSTILE)
def test_hostile_description_leaves_it_whole(what, message, tmp_path):
    root = whole(
        "bench-lever", tmp_path / "bench-lever", description=scalar(HOSTILE[what]), caution=scalar("Mine.")
    )
    main(root, root / "record.pdf")
    result = pages(root / "record.pdf")
    assert 0 <= len(result) - len(message) <= 2  # a long description takes room on the cover, nothing else
    flat = " ".join(" ".join(result).split())
    assert "12 Versions and files" in flat and "Mine." in flat
    if what == "markup and letters":
        letters = "".join(flat.replace("\u200b", "").split())
        for word in ("html", "markup", "quotes"):
            assert "".join(WORDS[word].split()) in letters, word


def test_text_is_a_string_not_markup():
    assert text('a"b\\c') == '#"a\\"b\\\\c"'
    assert quoted("a\nb\x00c\u202ed") == '"a bcd"'
    assert quoted("abcdef", word=3) == '"abc\u200bdef"'
    assert '"#x"' in table(["a"], [["#x"]])


def test_numbers_for_people():
    """Four significant digits, a true minus, powers of ten only where digits alone would mislead."""
    shown = ("20110", "\u22120.08876", "0", "1.000e", "2.346×10\u207b\u2076", "12", "")
    given = (20106.193, -0.0887643, 0.0, "1.000e", 2.3456e-6, "12", None)
    assert [number(value) for value in given] == list(shown)
