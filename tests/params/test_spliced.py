"""Values changed in the text of a file: what is asked for changes, and not one sign beside it."""

from __future__ import annotations

import difflib
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

import pytest
import yaml
from hypothesis import given
from hypothesis import strategies as st

from params.files.messages import fields_at
from params.files.spliced import spans, with_item, with_remark, with_value, without
from params.files.yamlfile import read_yaml
from params.schema.arm import Arm
from params.steps.problems import one_line
from tests.arms import ARMS

HOSTILE = """\
# head, with a key: in it
name: x   # remark # and more
geometry: {a: 1 mm,   # in braces
  b: {c: "2 mm", d: 3 mm}, e: [1, 2,
  3]}  # behind

group:
    # above one
    one:    "1 mm"  # measured, see page 3
    # two:
    # above three
    three:
        deep: 'it''s'
        # last of three
    # last of the group
rows:
- {region: a, finish: b}  # first
# between
-   region: c
    # inside
    finish: d
text: >-
  several
  lines
# tail
empty:
"""


def comments(text: str) -> list[str]:
    return [line.strip() for line in text.splitlines() if line.lstrip().startswith("#")]


def changed_lines(before: str, after: str) -> list[str]:
    lines = difflib.ndiff(before.splitlines(), after.splitlines())
    return [line for line in lines if line[0] in "+-"]


@pytest.mark.parametrize("ends", ["\n", "\r\n"])
@pytest.mark.parametrize(
    ("key", "value"),
    [
        (("name",), "y"),
        (("name",), "12"),
        (("geometry", "a"), "7 mm"),
        (("geometry", "b", "c"), "a, b}"),
        (("geometry", "e", 1), 9),
        (("group", "one"), "2 in"),
        (("group", "three", "deep"), "x: y # z"),
        (("rows", 0, "finish"), "ground"),
        (("rows", 1, "finish"), "ground"),
        (("text",), "one"),
        (("empty",), "full"),
    ],
)
def test_a_value_changes_and_nothing_beside_it(key: tuple[str | int, ...], value: object, ends: str) -> None:
    """What a plain YAML reader (PyYAML) sees is the same file with one value changed."""
    text = HOSTILE.replace("\n", ends)
    new = with_value(text, key, value)
    wanted = yaml.safe_load(text)
    group = wanted
    for part in key[:-1]:
        group = group[part]
    group[key[-1]] = value
    assert yaml.safe_load(new) == wanted
    assert comments(new) == comments(text)
    span = spans(text)[key]
    assert new.startswith(text[: span.start]) and new.endswith(text[span.end :])
    assert (new.count("\r") == new.count("\n")) is (ends == "\r\n")


@pytest.mark.parametrize("ends", ["\n", "\r\n"])
@pytest.mark.parametrize(
    ("key", "order", "follows"),
    [
        (("geometry", "z"), ("a", "z", "b"), "a: 1 mm"),
        (("geometry", "b", "z"), (), "d: 3 mm"),
        (("group", "two"), (), "# page"),  # takes the place of its own comment
        (("group", "four"), ("one", "three", "four"), "deep: 'it''s'"),
        (("rows", 1, "z"), ("region", "z"), "region: c"),
        (("z",), ("name", "z"), "remark"),
    ],
)
def test_a_new_key_goes_behind_its_neighbour(
    key: tuple[str | int, ...], order: tuple[str, ...], follows: str, ends: str
) -> None:
    text = HOSTILE.replace("\n", ends)
    new = with_value(text, key, "new", order)
    wanted = yaml.safe_load(text)
    group = wanted
    for part in key[:-1]:
        group = group[part]
    group[key[-1]] = "new"
    assert yaml.safe_load(new) == wanted
    assert set(comments(text)) - set(comments(new)) == ({"# two:"} if key[-1] == "two" else set())
    if key[-1] != "two":
        assert new.index(follows) < new.index(f"{key[-1]}: new")
        start = new.index(f"{key[-1]}: new")
        assert start - new.index(follows) < 60  # the next key, or the next line


@pytest.mark.parametrize(
    "key",
    [
        ("geometry", "a"),
        ("geometry", "e"),
        ("geometry", "b", "d"),
        ("geometry", "e", 1),
        ("group", "one"),
        ("group", "three"),
        ("rows", 1),
        ("rows", 1, "finish"),
        ("text",),
    ],
)
def test_a_key_goes_and_all_comments_stay(key: tuple[str | int, ...]) -> None:
    new = without(HOSTILE, key)
    wanted = yaml.safe_load(HOSTILE)
    group = wanted
    for part in key[:-1]:
        group = group[part]
    del group[key[-1]]
    assert yaml.safe_load(new) == wanted
    assert [line for line in comments(new) if line != f"# {key[-1]}:"] == comments(HOSTILE)


def test_items_at_the_end_of_lists() -> None:
    """Of lists in lines, in brackets, empty ones and new ones; one line an item, or one a key."""
    item = {"revision": "B", "reason": "a: b, {c}"}
    for lines in (False, True):
        new = with_item(HOSTILE, ("rows",), item, lines=lines)
        assert yaml.safe_load(new)["rows"][2] == item and comments(new) == comments(HOSTILE)
        new = with_item(HOSTILE, ("table",), item, ("name", "table"), lines=lines)
        again = with_item(new, ("table",), item, lines=lines)
        assert yaml.safe_load(again)["table"] == [item, item] and comments(again) == comments(HOSTILE)
        assert list(yaml.safe_load(again))[:2] == ["name", "table"]
    new = with_item("a: [1, 2]  # x\nb: []\n", ("a",), 3)
    assert with_item(new, ("b",), item) == 'a: [1, 2, 3]  # x\nb:\n  - {revision: B, reason: "a: b, {c}"}\n'
    assert with_item("b: []", ("b",), 1) == "b:\n  - 1"


def test_a_remark_stands_above_its_key_or_its_group() -> None:
    assert (
        with_remark(HOSTILE, ("group", "three"), ("one", "two")).count("    # one\n    # two\n    three:")
        == 1
    )
    assert with_remark(HOSTILE, ("geometry", "b", "c"), ("one",)).count("  # one\n  b: {c:") == 1
    assert with_remark(HOSTILE, ("rows", 0, "finish"), ("one",)).count("# one\nrows:") == 1
    for key in (("group", "three"), ("geometry", "b", "c"), ("rows", 0, "finish")):
        assert yaml.safe_load(with_remark(HOSTILE, key, ("one",))) == yaml.safe_load(HOSTILE)


@pytest.mark.parametrize("name", ["bench-lever", "linkspan-rocker", "sluice-crank"])
def test_every_value_of_a_demo_is_found_where_it_stands(name: str) -> None:
    """PyYAML reads from each span what it reads of the whole file there."""
    text = (ARMS / f"{name}.yaml").read_text()
    whole = yaml.safe_load(text)
    for key, span in spans(text).items():
        value = whole
        for part in key:
            value = value[part]
        if not isinstance(value, dict | list) or span.braces:
            assert yaml.safe_load(text[span.start : span.end]) == value, key


@given(st.text(st.characters(min_codepoint=32, max_codepoint=0x2FFF), max_size=60).map(one_line))
def test_any_text_comes_back(said: str) -> None:
    """Whatever a reason says, YAML 1.1 and our own reader give it back, in a line, in braces and in a new row."""
    for new, key in (
        (with_value(HOSTILE, ("group", "one"), said), ("group", "one")),
        (with_value(HOSTILE, ("geometry", "b", "c"), said), ("geometry", "b", "c")),
        (with_item(HOSTILE, ("table",), {"a": said, "b": 1}, lines=True), ("table", 0, "a")),
    ):
        from_file = reread(new)
        for part in key:
            from_file = from_file[part]
        assert from_file == said


def reread(text: str) -> Any:
    """The values of a text by the project's own reader, whose rules for words without quotes count."""
    with TemporaryDirectory() as folder:
        path = Path(folder) / "a.yaml"
        path.write_text(text, encoding="utf-8", newline="")
        return read_yaml(path).data


def test_where_a_new_key_belongs_follows_the_schema() -> None:
    """The route stands between the material and the list of routes, as `params.new` writes it."""
    text = (ARMS / "bench-lever.yaml").read_text().replace("# route:\n", "")
    new = with_value(text, ("route",), "cast", fields_at(Arm, ()))
    keys = list(yaml.safe_load(new))
    assert keys[keys.index("material") : keys.index("material") + 3] == ["material", "route", "routes"]
    assert changed_lines(text, new) == ["+ route: cast"]
