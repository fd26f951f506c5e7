"""The revision table of an arm's file for people: rows with the figures of the part that each revision replaced."""

from __future__ import annotations

from analysis.tables.number import percent
from params.schema.arm import Arm
from params.schema.revised import Revised
from params.schema.units import show

HEADS = ("revision", "date", "why", "part", "by", "mass before", "by hand", "by mesh", "governing then")


def revisions(arm: Arm) -> list[list[str]]:
    """Rows below HEADS, oldest first; none where the file has no revision table."""
    return [row_of(row, arm) for row in arm.revisions]


def row_of(row: Revised, arm: Arm) -> list[str]:
    named = (row.design and f"design {row.design}", row.route and f"route {row.route}")
    part = ", ".join(filter(None, (*named, None if row.confirmed else "adopted before a mesh judged it")))
    old = row.before
    figures = (
        [
            show(old.mass, "mass", arm.units),
            percent(old.hand_margin, 1),
            percent(old.mesh_margin, 1),
            old.governing,
        ]
        if old
        else [""] * 4
    )
    return [row.revision, str(row.date), row.reason, part, row.by or "", *figures]
