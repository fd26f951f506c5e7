"""`snakemake --report`: every file that a rule marks has its sentence, and every sentence belongs to a file."""

import re
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
CAPTIONS = ROOT / "analysis" / "record" / "captions"
LISTS = (ROOT / "analysis" / "record" / "captions.smk").read_text()
RULES = "".join(
    path.read_text()
    for room in ("params", "geometry", "analysis")
    for path in sorted((ROOT / room).rglob("rules.smk"))
)


def marked():
    """Names that stand in calls of `captioned`; the pictures by their lists."""
    lists = re.findall(r"^([A-Z]+) = \[(.*?)\]", LISTS, re.DOTALL | re.MULTILINE)
    pictures = [name for _, told in lists for name in re.findall(r'"([^"]+)"', told)]
    calls = re.findall(r"captioned\((.*?)\)", RULES, re.DOTALL)
    found = [name for call in calls for name in re.findall(r'"([^"/]+\.[a-z]+)"', call)]
    assert len(lists) == 4 and all(any(f"*{name}" in call for call in calls) for name, _ in lists)
    found = [name for name in found if not name.startswith("gantt-")]  # all routes have one sentence
    return {*pictures, *found}


def test_every_marked_file_has_its_caption():
    assert {f"{name}.rst" for name in marked()} == {path.name for path in CAPTIONS.iterdir()}


@pytest.mark.parametrize("path", sorted(CAPTIONS.iterdir()), ids=lambda path: path.stem)
def test_caption_is_one_sentence(path):
    told = path.read_text()
    plain = re.sub(r"\{\{.*?\}\}", "ARM", told).strip()
    assert plain[0].isupper() and plain.endswith(".") and plain.count(". ") == 0 and "\n" not in plain
    assert "snakemake.wildcards.arm" in told
