"""YAML read safely: at most 1 MB of UTF-8, plain scalars, lists and mappings only, with the line of every key."""

from __future__ import annotations

from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import yaml

from params.problems import ParameterError, Problem

LARGEST = 1_000_000  # bytes
DEEPEST = 12  # levels of nesting
Key = tuple[str | int, ...]


@dataclass
class YamlFile:
    """Plain data and, for every path of keys, the line on which it stands."""

    path: Path
    data: Any = None
    lines: dict[Key, int] = field(default_factory=dict)

    def line(self, key: Key) -> int:
        """Line of the key, or of its nearest parent that is in the file."""
        while key and key not in self.lines:
            key = key[:-1]
        return self.lines.get(key, 1)


def read_yaml(path: Path) -> YamlFile:
    """Read one YAML document.

    Raises
    ------
    ParameterError
        with one problem where the file cannot be read, is too large, is no UTF-8, is no YAML, or uses anchors, tags,
        duplicate keys, keys that are not text, or nests too deep.
    """
    file = YamlFile(path)
    try:
        node = yaml.compose(_text(path), Loader=yaml.SafeLoader)
    except yaml.MarkedYAMLError as error:
        line = error.problem_mark.line + 1 if error.problem_mark else 1
        raise _refused(path, line, "", f"is no YAML: {error.problem or 'broken'}", mend="mend this line") from None
    except (yaml.YAMLError, RecursionError) as error:
        raise _refused(path, 1, "", f"is no YAML: {str(error).splitlines()[0]}", mend="write plain YAML") from None
    if node is None:
        raise _refused(path, 1, "", "is empty", mend="start from `python -m params.new NAME`")
    file.data = _plain(node, (), file, set())
    return file


def _text(path: Path) -> str:
    try:
        raw = path.read_bytes() if path.stat().st_size <= LARGEST else None
    except OSError as error:
        raise _refused(path, 1, "", f"cannot be read: {error.strerror}", mend="check the path") from None
    if raw is None:
        raise _refused(path, 1, "", "is too large", limit="at most 1 MB", mend="keep measured data in a table beside it")
    try:
        text = raw.decode("utf-8")
    except UnicodeDecodeError as error:
        line = raw[: error.start].count(b"\n") + 1
        raise _refused(path, line, "", "is no UTF-8 text", mend="save the file as UTF-8") from None
    for number, line in enumerate(text.split("\n"), 1):
        if any(sign in line for sign in "&*") and _anchor(line):
            raise _refused(path, number, line.strip()[:60], "uses an anchor or alias", mend="write the value out")
    return text


def _anchor(line: str) -> bool:
    """Whether a plain token of this line begins with & or * (anchors and aliases are refused before YAML expands them)."""
    try:
        return any(isinstance(token, yaml.AnchorToken | yaml.AliasToken) for token in yaml.scan(line.strip()))
    except yaml.YAMLError:
        return False


def _plain(node: yaml.Node, key: Key, file: YamlFile, seen: set[int]) -> Any:
    line = node.start_mark.line + 1
    file.lines.setdefault(key, line)
    if len(key) > DEEPEST:
        raise _refused(file.path, line, _dotted(key), "nests too deep", limit=f"at most {DEEPEST} levels")
    if id(node) in seen:
        raise _refused(file.path, line, _dotted(key), "uses an alias", mend="write the value out")
    seen.add(id(node))
    if isinstance(node, yaml.MappingNode):
        return _mapping(node, key, file, seen)
    if isinstance(node, yaml.SequenceNode):
        return [_plain(item, (*key, index), file, seen) for index, item in enumerate(node.value)]
    if node.tag not in SCALARS:
        raise _refused(file.path, line, _dotted(key), f"has the tag {node.tag}", mend="write plain text or a number")
    return _scalar(node)


SCALARS = {f"tag:yaml.org,2002:{name}" for name in ("str", "int", "float", "bool", "null", "timestamp")}


def _scalar(node: yaml.Node) -> Any:
    kind = node.tag.rsplit(":", 1)[1]
    if kind in ("int", "float", "bool", "null"):
        try:
            return yaml.SafeLoader("").construct_object(node)
        except ValueError:
            return node.value
    return node.value


def _mapping(node: yaml.MappingNode, key: Key, file: YamlFile, seen: set[int]) -> dict[str, Any]:
    made: dict[str, Any] = {}
    for name, value in node.value:
        line = name.start_mark.line + 1
        if not isinstance(name, yaml.ScalarNode):
            raise _refused(file.path, line, _dotted(key), "has a key that is no text", mend="use plain words as keys")
        inner = (*key, name.value)
        if name.value in made:
            raise _refused(file.path, line, _dotted(inner), "stands twice", mend="keep one of the two")
        file.lines[inner] = line
        made[name.value] = _plain(value, inner, file, seen)
    return made


def _dotted(key: Key) -> str:
    return ".".join(str(part) for part in key) or "file"


def _refused(path: Path, line: int, value: str, wrong: str, limit: str = "", mend: str = "") -> ParameterError:
    return ParameterError([Problem(str(path), line, "file", value, wrong, limit, mend)])
