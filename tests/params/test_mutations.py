"""Whatever is done to a valid file, the reader answers with ok or with problems: never a traceback, never a warning."""

from __future__ import annotations

import json
import tempfile
import warnings
from pathlib import Path
from typing import Any

import pytest
import yaml
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from tests.params.edits import NAME, VALID, problem_lines

LINES = VALID.splitlines(keepends=True)
DATA = yaml.safe_load(VALID)  # written back as JSON, which YAML contains and which is quick to write
SETTINGS = settings(max_examples=150, suppress_health_check=[HealthCheck.too_slow])
WORDS = st.sampled_from(
    ["", "nan mm", "-1 mm", "1e308 m", "0 deg", "90 deg", "yes", "../x", "~", "\u202e", "\n", "1e400", "2**9"]
)
LEAVES = st.one_of(
    st.none(),
    st.booleans(),
    st.integers(),
    st.floats(),
    st.text(max_size=20),
    WORDS,
    st.builds(
        "{:g} {}".format,
        st.floats(-1e9, 1e9),
        st.sampled_from(["mm", "m", "in", "deg", "kN", "MPa", "kip*ft"]),
    ),
)
VALUES = st.recursive(
    LEAVES,
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=9), inner, max_size=3),
)


def leaves(data: Any, path: tuple[Any, ...] = ()) -> list[tuple[Any, ...]]:
    """Paths of every value, also of those that hold others."""
    actual = [path] if path else []
    items = data.items() if isinstance(data, dict) else enumerate(data) if isinstance(data, list) else ()
    return actual + [leaf for key, value in items for leaf in leaves(value, (*path, key))]


def put(data: Any, path: tuple[Any, ...], value: Any) -> Any:
    """A copy with another value at the path."""
    if not path:
        return value
    copy = dict(data) if isinstance(data, dict) else list(data)
    copy[path[0]] = put(data[path[0]], path[1:], value)
    return copy


def answer(text: str | bytes) -> list[str]:
    """The reader's problems, each checked for form; a warning is an error."""
    with tempfile.TemporaryDirectory() as folder, warnings.catch_warnings():
        warnings.simplefilter("error")
        lines = problem_lines(Path(folder), text)
    for line in lines:
        assert line.startswith(f"{NAME}.yaml:")
        assert int(line.split(":")[1]) >= 1
        assert line.isprintable()
    return lines


@SETTINGS
@given(st.binary(max_size=300))
def test_any_bytes(raw: bytes) -> None:
    assert answer(raw)  # no such text is a whole parameter file


@SETTINGS
@given(st.integers(0, len(VALID)), st.integers(0, 40), st.binary(max_size=12))
def test_bytes_put_in_the_place_of_others(start: int, length: int, raw: bytes) -> None:
    text = VALID.encode()
    answer(text[:start] + raw + text[start + length :])


@SETTINGS
@given(
    st.lists(
        st.tuples(st.integers(0, len(LINES) - 1), st.sampled_from(["drop", "twice", "indent", "swap"])),
        min_size=1,
        max_size=4,
    )
)
def test_lines_dropped_doubled_and_moved(changes: list[tuple[int, str]]) -> None:
    lines = list(LINES)
    for place, how in changes:
        at = min(place, len(lines) - 1)
        if how == "drop":
            del lines[at]
        elif how == "twice":
            lines.insert(at, lines[at])
        elif how == "indent":
            lines[at] = "  " + lines[at]
        else:
            lines[at], lines[at - 1] = lines[at - 1], lines[at]
    answer("".join(lines))


@pytest.mark.slow
@settings(SETTINGS, max_examples=200)
@given(st.lists(st.tuples(st.sampled_from(leaves(DATA)), VALUES), min_size=1, max_size=3))
def test_any_value_in_any_place(changes: list[tuple[tuple[Any, ...], Any]]) -> None:
    data: Any = DATA
    for path, value in changes:
        try:
            data = put(data, path, value)
        except (KeyError, IndexError, TypeError):
            continue  # an earlier change took this place away
    answer(json.dumps(data, indent=1, ensure_ascii=False))


QUANTITIES = [
    path
    for path in leaves(DATA)
    if path[0] in ("geometry", "drive", "driven") and isinstance(DATA[path[0]], dict)
]


def scaled(data: Any, path: tuple[Any, ...], factor: float) -> Any:
    value: Any = data
    for key in path:
        value = value[key]
    if not isinstance(value, str) or " " not in value:
        return data
    number, unit = value.split()
    return put(data, path, f"{float(number) * factor!r} {unit}")


@pytest.mark.slow
@settings(SETTINGS, max_examples=200)
@given(
    st.lists(
        st.tuples(st.sampled_from(QUANTITIES), st.sampled_from([-1.0, 0.0, 1e-3, 0.1, 0.5, 2.0, 10.0, 30.0])),
        min_size=1,
        max_size=5,
    )
)
def test_sizes_changed_out_of_proportion(changes: list[tuple[tuple[Any, ...], float]]) -> None:
    data = DATA
    for path, factor in changes:
        data = scaled(data, path, factor)
    answer(json.dumps(data, indent=1))
