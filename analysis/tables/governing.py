"""Rows of tables that hold several assumptions: those that results rest on."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any, TypeVar

Row = TypeVar("Row", bound=dict[str, Any])


def governing(rows: Iterable[Row]) -> list[Row]:
    """Of rows of the tables of found cracks those of the residual stress that counts (column `governs`)."""
    return [
        row for row in rows if row.get("governs", "yes") in ("yes", "")
    ]  # empty: out of range, whatever it is
