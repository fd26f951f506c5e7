"""What the YAML reader refuses, and that it stays quick while it does."""

from __future__ import annotations

import time
from itertools import pairwise
from pathlib import Path

import pytest
from ruamel.yaml import YAML

from params.files.edited import put, text_of, tree_of
from params.files.yamlfile import LARGEST, read_yaml
from params.steps.problems import ParameterError
from tests.arms import ARMS
from tests.params.edits import NAME, VALID, edited, problem_lines

QUICK = 1.0  # seconds of the processor; most take some hundredths
LISTS = (
    "a list of many",
    "many bad values",
)  # a measured history may have 100,000 values, which take a second or two to read
REFUSED = [
    ("units: si", "units: &a si", "units: uses an anchor or alias, write the value itself"),
    ("units: si", "units: *a", "units: uses an anchor or alias, write the value itself"),
    (
        "units: si",
        "units: !!python/object/apply:os.system [ls]",
        "units: has the tag tag:yaml.org,2002:python/",
    ),
    (
        "units: si",
        "units: !!str si",
        "units: has the tag tag:yaml.org,2002:str, write plain text or a number",
    ),
    ("units: si", "? [a, b]\n: si", "file: has a key that is not plain text, use plain words as keys"),
    ("units: si", "units: [si", "is not valid YAML: "),
    ("units: si", "\tunits: si", "is not valid YAML: "),
    ("units: si", 'units: "si\\u001b[2J"', "units: has control characters, write plain text"),
    ("units: si", "units: s\x1bi", "file: has the control character U+001B, delete it"),
    ("units: si", "units: s\x00i", "file: has the control character U+0000, delete it"),
    ("units: si", "units: s\u202ei", "file: has the control character U+202E, delete it"),
    ("units: si", "units: s\x85i", "file: has the control character U+0085, delete it"),
]


@pytest.mark.parametrize(("old", "new", "expected"), REFUSED)
def test_refused_with_the_line(tmp_path: Path, old: str, new: str, expected: str) -> None:
    text, line = edited((old, new))
    lines = problem_lines(tmp_path, text)
    assert any(expected in one for one in lines)
    actual = int(lines[0].split(":")[1])
    # A bracket that is never closed shows itself only where the next key begins.
    assert line <= actual <= line + 3
    assert actual == line or "is not valid YAML" in lines[0]


def test_key_that_stands_twice(tmp_path: Path) -> None:
    text, line = edited(("units: si", "units: si\nunits: us"))
    expected = f"{NAME}.yaml:{line + 1}: units: is written twice, first on line {line}, keep one of the two"
    assert problem_lines(tmp_path, text) == [expected]


def test_second_document(tmp_path: Path) -> None:
    last = VALID.count("\n") + 1
    assert problem_lines(tmp_path, VALID + "---\na: b\n") == [
        f"{NAME}.yaml:{last}: file: holds a second document, write one document in a file, without ---"
    ]


def test_bytes_that_are_no_utf8(tmp_path: Path) -> None:
    line = VALID[: VALID.index("\nunits:")].count("\n") + 2
    broken = VALID.replace("units: si", "units: sé").encode("latin-1")
    assert problem_lines(tmp_path, broken) == [
        f"{NAME}.yaml:{line}: file: is not UTF-8 text, save the file as UTF-8"
    ]


@pytest.mark.parametrize("text", ["", "\n\n", "# only a comment\n"])
def test_empty_file(tmp_path: Path, text: str) -> None:
    assert problem_lines(tmp_path, text) == [
        f"{NAME}.yaml:1: file: is empty, start from `python -m params.new NAME`"
    ]


@pytest.mark.parametrize("text", ["- a\n- b\n", "just words\n", "3\n", "null\n"])
def test_file_that_is_no_mapping(tmp_path: Path, text: str) -> None:
    lines = problem_lines(tmp_path, text)
    assert len(lines) == 1
    assert "file: " in lines[0]
    assert "is not a group of keys, write its keys below it, one on each line, indented" in lines[0]


def test_file_that_is_not_there(tmp_path: Path) -> None:
    for path in (tmp_path / "none.yaml", tmp_path, Path("/dev/zero"), tmp_path / "a\0b.yaml"):
        with pytest.raises(ParameterError, match="cannot be read"):
            read_yaml(path)


def test_one_megabyte_is_the_limit(tmp_path: Path) -> None:
    fill = "#" + "x" * 98 + "\n"
    most = VALID + fill * ((LARGEST - len(VALID.encode())) // len(fill))
    most += "#" * (LARGEST - len(most.encode()))
    assert len(most.encode()) == LARGEST == 1_000_000
    assert problem_lines(tmp_path, most) == []
    expected = f"{NAME}.yaml:1: file: is too large, at most 1 MB, keep measured data in a table beside it"
    assert problem_lines(tmp_path, most + "#") == [expected]


HOSTILE = {
    "laughs": "a: &a [x, x]\n"
    + "".join(f"{b}: &{b} [*{a}, *{a}, *{a}]\n" for a, b in pairwise("abcdefghijklmno")),
    "itself": "a: &a [*a]\n",
    "merge": "a: &a {b: 1}\nc: {<<: *a}\n",
    "brackets": "a: " + "[" * 400_000,
    "braces": "a: " + "{x: " * 200_000,
    "indents": "".join(" " * depth + "a:\n" for depth in range(1000)),
    "questions": "? " * 400_000,
    "dashes": "- " * 400_000,
    "one long word": "a: " + "x" * 900_000,
    "many keys": "".join(f"k{n}: {n}\n" for n in range(80_000)),
    "many doubles": "k: 1\n" * 150_000,
    "keys that no schema knows": VALID + "".join(f"k{n}: 1\n" for n in range(90_000)),
    "a number of many digits": VALID.replace("bore: 40 mm", f"bore: {'4' * 20_000} mm"),
    "a bare number of many digits": VALID.replace("bore: 40 mm", f"bore: {'4' * 20_000}"),
    "quantities just within the limit": "".join(f"k{n}: {'4' * 9_990} mm\n" for n in range(90)),
    "a list of many": VALID + "histories: [" + "1, " * 200_000 + "1]\n",
    "many bad entries": VALID.replace("found_cracks:", "found_cracks:\n" + "  - {a: 1}\n" * 60_000),
    "many bad values": VALID.replace(
        "  # histories:", "  histories:\n    - values: [" + "x, " * 99_000 + "x]"
    ),
    "bad entries just within the limit": VALID.replace(
        "found_cracks:", "found_cracks:\n" + "  - {a: 1}\n" * 990
    ),
    "bad keys just within the limit": VALID
    + "k: [\n"
    + ("{" + "".join(f"k{n}: 1," for n in range(990)) + "},\n") * 100
    + "]\n",
}


@pytest.mark.parametrize("name", HOSTILE)
def test_hostile_files_are_refused_quickly(tmp_path: Path, name: str) -> None:
    start = time.process_time()
    lines = problem_lines(tmp_path, HOSTILE[name])
    took = time.process_time() - start
    assert lines
    assert all(len(line) < 2000 for line in lines)
    assert took < (5.0 if name in LISTS else QUICK), f"{name}: {took:.1f} s"


def test_parsers_agree(monkeypatch: pytest.MonkeyPatch) -> None:
    """The portable parser and the compiled one give the same data and lines."""
    first = [read_yaml(path) for path in sorted(ARMS.glob("*.yaml"))]
    monkeypatch.setattr("params.files.yamlfile.parsed", YAML(typ="safe", pure=True).parse)
    for file in first:
        again = read_yaml(file.path)
        assert file.data == again.data
        assert file.lines == again.lines
        # The library's own reader of plain data; quoted dates stay text, and these files have no bare ones.
        assert file.data == YAML(typ="safe", pure=True).load(file.path)


@pytest.mark.parametrize("folder", ["materials", "routes", "outages"])
def test_a_changed_file_keeps_all_else(folder: str) -> None:
    """Read with its comments and written again, nothing of a file is another."""
    for path in sorted((ARMS.parent / folder).glob("*.yaml")) + sorted(ARMS.glob("*.yaml")):
        assert text_of(tree_of(path.read_text())) == path.read_text()


def test_a_changed_value_has_its_remark() -> None:
    tree = tree_of("a:\n  b: 1 mm  # old\n  # of c\n  c: 2 mm\nd: {e: 1}\n")
    put(tree, ("a", "b"), "3 mm", "new")
    put(tree, ("a", "c"), "4 mm", "new")
    put(tree, ("d", "e"), 2, "new")
    assert text_of(tree) == "a:\n  b: 3 mm  # new\n  # of c\n  c: 4 mm  # new\nd: {e: 2}\n"


def test_line_of_every_key(tmp_path: Path) -> None:
    path = tmp_path / "a.yaml"
    path.write_text("a: 1\nb:\n  c:\n    - {d: 2}\n    - {d: 3,\n       e: 4}\n")
    file = read_yaml(path)
    assert file.data == {"a": 1, "b": {"c": [{"d": 2}, {"d": 3, "e": 4}]}}
    keys = [
        ("a",),
        ("b",),
        ("b", "c"),
        ("b", "c", 0),
        ("b", "c", 0, "d"),
        ("b", "c", 1, "e"),
        ("b", "c", 1, "missing"),
    ]
    assert [file.line(key) for key in keys] == [1, 2, 3, 4, 4, 6, 5]
