"""`snakemake --report`: every file that the Snakefile marks has its sentence, and every sentence belongs to a file."""

import re
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
CAPTIONS = ROOT / "analysis" / "record" / "captions"
RULES = [ROOT / "Snakefile", *sorted(ROOT.glob("*/rules.smk")), *sorted(ROOT.glob("*/*/rules.smk"))]
TEXT = "\n".join(path.read_text() for path in RULES)


def marked():
    """Names that stand in calls of `captioned`; the pictures by their lists."""
    lists = re.findall(r"^(DIAGRAMS|VIEWS|FIELDS) = \[(.*?)\]", TEXT, re.DOTALL | re.MULTILINE)
    pictures = [name for _, text in lists for name in re.findall(r'"([^"]+)"', text)]
    calls = re.findall(r"captioned\((.*?)\)", TEXT, re.DOTALL)[1:]  # the first is its definition
    actual = [name for call in calls for name in re.findall(r'"([^"/]+\.[a-z]+)"', call)]
    assert len(lists) == 3 and all(any(f"*{name}" in call for call in calls) for name, _ in lists)
    actual = [name for name in actual if not name.startswith("gantt-")]  # all routes have one sentence
    return {*pictures, *actual}


def test_every_marked_file_has_its_caption():
    assert {f"{name}.rst" for name in marked()} == {path.name for path in CAPTIONS.iterdir()}


@pytest.mark.parametrize("path", sorted(CAPTIONS.iterdir()), ids=lambda path: path.stem)
def test_caption_is_one_sentence(path):
    text = path.read_text()
    plain = re.sub(r"\{\{.*?\}\}", "ARM", text).strip()
    assert plain[0].isupper() and plain.endswith(".") and plain.count(". ") == 0 and "\n" not in plain
    assert "snakemake.wildcards.arm" in text
