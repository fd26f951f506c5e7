"""The layout of a wide table: what is the same in every row stands once above it, and a few wide rows stand as columns."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

FEW = 4  # rows that may stand as columns


def same_and_varying(
    rows: Sequence[Mapping[str, str]], names: Iterable[str], column: str | None = None
) -> tuple[list[str], list[str]]:
    """Names of the columns that are the same in every row of several, and of the others; `column` is always one of these.

    >>> same_and_varying([{"a": "1", "b": "x"}, {"a": "1", "b": "y"}], ["a", "b"])
    (['a'], ['b'])
    """
    names = list(names)
    same = [
        name for name in names if name != column and len(rows) > 1 and len({row[name] for row in rows}) == 1
    ]
    return same, [name for name in names if name not in same]


def rows_as_columns(rows: Sequence[object], names: Sequence[str], widest: int) -> bool:
    """Whether the rows stand as columns: few of them, with more columns than a table of the page's width holds."""
    return len(rows) <= FEW and len(names) > widest
