"""What the record says of why an arm cracked: the answer in sentences, above its table."""

from pypdf import PdfReader

from analysis.fracture.explained import COLUMNS
from analysis.record.book import main
from analysis.tables.files import write_cautioned
from tests.record.standin import whole

SAID = (
    "In 68 years of service fatigue makes no crack at the pivot bore. The duty as given does not explain it."
)
ROWS = (
    {
        "crack": "rim",
        "part": "answer",
        "what": "years in service",
        "least": 68.16,
        "unit": "years",
        "note": SAID,
    },
    {
        "crack": "rim",
        "part": "cause",
        "what": "cycles a year times",
        "value": 21.97,
        "status": "would explain it",
    },
)


def test_the_answer_stands_above_the_table(tmp_path):
    root = whole("bench-lever", tmp_path / "bench-lever")
    (root / "as-written" / "bores").mkdir()
    write_cautioned(root / "as-written" / "bores" / "explained.csv", COLUMNS, ROWS)
    main(root, root / "record.pdf")
    shown = (page.extract_text() for page in PdfReader(root / "record.pdf").pages)
    flat = " ".join(" ".join(shown).split())
    assert flat.index(f"rim: {SAID}") < flat.index("cycles a year times")
    assert "would explain it" in flat and "21.97" in flat
