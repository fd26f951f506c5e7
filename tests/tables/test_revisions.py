"""The revision table as record and page print it."""

from __future__ import annotations

from pathlib import Path

import pytest

from analysis.page import page
from analysis.record.book import main as book
from analysis.record.book import source
from analysis.record.tables import Tables
from analysis.tables.revisions import HEADS, revisions
from params.files.read import read_arm
from params.files.spliced import with_item, with_value
from tests.arms import ARMS, demo
from tests.page.folder import results
from tests.record.standin import whole
from tests.record.test_record import pages

WHY = '<script>alert("x")</script> #panic("no")'  # as hostile as one line may be
ROW = {
    "revision": "B",
    "date": "2026-02-01",
    "reason": WHY,
    "by": "A. Invented",
    "design": "cast-d000012",
    "route": "cast",
    "confirmed": False,
    "before": {
        "mass": "4.79141 kg",
        "hand_margin": 0.4934,
        "mesh_margin": -0.031,
        "governing": "peak stress, raise (mesh)",
    },
}
SHOWN = [
    "B",
    "2026-02-01",
    WHY,
    "A. Invented",
    "4.79 kg",
    "+49.3 %",
    "\u22123.1 %",
    "peak stress, raise (mesh)",
]


def revised() -> str:
    """The bench lever as revision B."""
    text = with_value((ARMS / "bench-lever.yaml").read_text(), ("revision",), "B")
    return with_item(text, ("revisions",), ROW, ("name", "revision"), lines=True)


def test_a_row_for_each_revision(tmp_path: Path) -> None:
    (tmp_path / "bench-lever.yaml").write_text(revised())
    (row,) = revisions(read_arm(tmp_path / "bench-lever.yaml"))
    assert len(row) == len(HEADS)
    assert [text for text in row if text not in SHOWN] == [
        "design cast-d000012, route cast, adopted before a mesh judged it"
    ]
    assert revisions(demo("bench-lever")) == []


def test_the_record_prints_it(tmp_path: Path) -> None:
    root = whole("bench-lever", tmp_path / "bench-lever")
    assert "Revisions" not in source(Tables(root))
    path = root / "as-written" / "arm.yaml"
    path.write_text(revised())
    book(root, root / "record.pdf")
    printed = "".join(pages(root / "record.pdf")).replace("\u200b", "").replace("\xad", "-")
    flat = "".join(printed.split())
    for text in SHOWN:
        assert "".join(text.split()) in flat, text


@pytest.mark.slow
def test_the_page_shows_it(tmp_path: Path) -> None:
    folder = results(tmp_path / "bench-lever", revised())
    page.main(folder, folder / "page.html")
    told = (folder / "page.html").read_text()
    assert "<h3>Revisions</h3>" in told and "<script>alert" not in told
    assert "&lt;script&gt;alert(&#34;x&#34;)&lt;/script&gt; #panic(&#34;no&#34;)" in told
    for text in (*SHOWN[:2], *SHOWN[3:]):
        assert f">{text}</td>" in told, text
