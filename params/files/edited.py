"""A parameter file with some of its values changed: comments, order and layout of all else stay as they are."""

from __future__ import annotations

import io
from typing import Any

from ruamel.yaml import YAML
from ruamel.yaml.comments import CommentedMap, CommentedSeq
from ruamel.yaml.emitter import RoundTripEmitter
from ruamel.yaml.error import CommentMark
from ruamel.yaml.scalarstring import DoubleQuotedScalarString
from ruamel.yaml.tokens import CommentToken

from params.files.yamlfile import plain
from params.steps.problems import Key

NO_FOLDING = 1_000_000  # signs of a line: whoever writes the lines folds them


class _Emitter(RoundTripEmitter):
    def choose_scalar_style(self) -> Any:
        """Quotes, where they are needed, are double ones."""
        style = super().choose_scalar_style()
        return '"' if style == "'" and not self.event.style else style


def _yaml() -> YAML:
    yaml = YAML()
    yaml.Emitter = _Emitter
    yaml.preserve_quotes, yaml.width = True, NO_FOLDING
    yaml.indent(mapping=2, sequence=4, offset=2)
    return yaml


def tree_of(text: str) -> Any:
    """The values of a file with their comments; for a text that `params.files.yamlfile` has read and found safe."""
    return _yaml().load(text)


def text_of(tree: Any) -> str:
    """The text of such values, or of plain ones."""
    stream = io.StringIO()
    _yaml().dump(tree, stream)
    return stream.getvalue()


def put(tree: Any, key: Key, value: Any, remark: str) -> None:
    """Change the value at a path of keys and write a remark behind it, in place of the one that is there."""
    *path, last = key
    for part in path:
        tree = tree[part]
    tree[last] = value
    if tree.fa.flow_style():
        return  # on one line with others: no place for a remark
    comments = tree.ca.items.setdefault(last, [None, None, None, None])
    below = comments[2].value.partition("\n")[2] if comments[2] else ""  # the comment of the next key
    comments[2] = CommentToken(f" # {remark}\n{below}", CommentMark(0))


def add(tree: Any, key: Key, value: Any, remark: str, after: str) -> None:
    """Put a key that is not there behind its neighbour `after`, whose own value is no group, with a remark behind it."""
    *path, last = key
    for part in path:
        tree = tree[part]
    tree.insert(list(tree).index(after) + 1, last, value)
    if tree.fa.flow_style():
        return
    above = tree.ca.items.get(after, [None] * 4)[2]
    own, _, below = above.value.partition("\n") if above else ("", "", "")
    if above:  # the comment of the next key stands behind the new one now
        above.value = own + "\n"
    tree.ca.items[last] = [None, None, CommentToken(f" # {remark}\n{below}", CommentMark(0)), None]


def flow(item: Any) -> str:
    """A record, a list or a value on one line, in quotes where it would be read as something else.

    >>> flow({"fit": {"fit": "H7/s6"}, "service": ["20 degC", "-5 degC"]})
    '{fit: {fit: H7/s6}, service: [20 degC, -5 degC]}'
    >>> [flow(value) for value in ("1.5 m", "a: b", "12", "2027-01-31", True, 100.0, 0.02)]
    ['1.5 m', '"a: b"', '"12"', '"2027-01-31"', 'true', '100', '0.02']
    """
    return text_of({"": on_one_line(item)}).partition(": ")[2].rstrip("\n")


def on_one_line(item: Any) -> Any:
    """The item as the library's values, written on one line."""
    values: Any
    if isinstance(item, dict):
        values = CommentedMap((key, on_one_line(value)) for key, value in item.items())
    elif isinstance(item, list):
        values = CommentedSeq(map(on_one_line, item))
    elif isinstance(item, str) and (
        plain(item) != item or ":" in item
    ):  # in braces parsers differ on a colon
        return DoubleQuotedScalarString(item)
    else:
        return int(item) if isinstance(item, float) and item.is_integer() else item
    values.fa.set_flow_style()
    return values
