"""What explained.csv says of each found crack, in sentences."""

from __future__ import annotations

from pathlib import Path

from analysis.record.typeset import paragraph
from analysis.tables.files import read_csv


def why(path: Path) -> list[str]:
    """The answer on each found crack as a paragraph; none of another table."""
    if path.stem != "explained":
        return []
    return [paragraph(f"{row['crack']}: {row['note']}") for row in read_csv(path) if row["part"] == "answer"]
