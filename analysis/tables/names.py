"""Names of columns in one text."""

from __future__ import annotations


def names(text: str) -> list[str]:
    """Names of columns, separated by spaces.

    >>> names("route mass_kg caution")
    ['route', 'mass_kg', 'caution']
    """
    return text.split()
