"""Rules of the revision table: each revision once, in the order of their dates, the last one that of the file."""

from __future__ import annotations

from collections.abc import Iterator

from params.schema.arm import Arm
from params.steps.problems import Fault


def revising(arm: Arm) -> Iterator[Fault]:
    """Every rule that the revision table breaks."""
    rows = arm.revisions
    names = [row.revision for row in rows]
    for index, row in enumerate(rows):
        if row.revision in names[:index]:
            key, wrong = ("revisions", index, "revision"), "is in the revision table twice"
            yield Fault(key, row.revision, wrong, "each revision once", "correct one of the two")
        if index and row.date < rows[index - 1].date:
            limit = f"{rows[index - 1].date}, the date of revision {names[index - 1]}, or later"
            key, wrong = ("revisions", index, "date"), "is before the date of the row above"
            yield Fault(key, str(row.date), wrong, limit, "sort the rows, oldest first, or correct the date")
    if names and names[-1] != arm.revision:
        mend = f"add a row for {arm.revision}, or write revision: {names[-1]}"
        wrong = "is not the last of the revision table"
        yield Fault(("revision",), arm.revision, wrong, f"{names[-1]}, its last row", mend)
