"""A figure that has not settled is an empty cell in a file; where people read the table the word stands in its place."""

from __future__ import annotations

from collections.abc import Mapping

from params.steps.out_of_range import NOT_SETTLED


def in_words(row: Mapping[str, str]) -> dict[str, str]:
    """The row with the word in the cells that its note calls not settled.

    >>> in_words({"years": "", "K_range": "", "end": "", "note": "years not settled: 3 on the coarser mesh, 4 on the finer"})
    {'years': 'not settled', 'K_range': '', 'end': '', 'note': 'years not settled: 3 on the coarser mesh, 4 on the finer'}
    """
    said = {
        part.split(f" {NOT_SETTLED}: ")[0]
        for part in (row.get("note") or "").split("; ")
        if NOT_SETTLED in part
    }
    return {
        name: NOT_SETTLED if value == "" and name.replace("_", " ") in said else value
        for name, value in row.items()
    }
