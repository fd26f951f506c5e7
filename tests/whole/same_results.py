"""Whether two folders of results are the same: `python -m tests.whole.same_results FOLDER FOLDER` names every file that differs.

Every file is compared byte by byte, but for what two runs of one and the same code were seen to differ in (measured on
bench-lever, twice from an empty folder):

- logs, which tell times;
- elastic.json, summary.json, contact.json: seconds and peak memory; the rest must be equal;
- fields (.vtu): threads add in no fixed order. Of the largest value of each field 6e-11 was seen by the linear solver, 1.1e-7
  where pins are in contact, whose search ends at a residual;
- contact.csv: the column `force_balance`, which is that residual itself;
- record.pdf: the hashes of files that hold such figures; text and pictures of every page must be equal.
"""

from __future__ import annotations

import csv
import json
import re
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

import meshio
import numpy as np
import pypdf

TIMED = ("seconds", "plain_seconds", "seconds_over_plain", "peak_memory_MB")
ROUNDED = {"stress.vtu": 1e-9}  # share of a field's largest value; ten times what was seen
IN_CONTACT = 1e-6
HASHED = re.compile(r"[\w\u00ad./-]+\s+[0-9a-f]{32}\s*")


def untimed(content: Any) -> Any:
    """JSON without its times and memory."""
    if isinstance(content, dict):
        return {key: untimed(value) for key, value in content.items() if key not in TIMED}
    return [untimed(value) for value in content] if isinstance(content, list) else content


def same_json(one: Path, other: Path) -> bool:
    return untimed(json.loads(one.read_text())) == untimed(json.loads(other.read_text()))


def same_contact(one: Path, other: Path) -> bool:
    """The rows without the residual of the search."""

    def rows(path: Path) -> list[dict[str, str]]:
        with path.open(newline="") as table:
            return [{k: v for k, v in row.items() if k != "force_balance"} for row in csv.DictReader(table)]

    return rows(one) == rows(other)


def same_fields(one: Path, other: Path) -> bool:
    """The same mesh and names, and values but for rounding."""
    first, second = meshio.read(one), meshio.read(other)
    if not np.array_equal(first.points, second.points):
        return False
    share = ROUNDED.get(one.name, IN_CONTACT)
    for kind in ("point_data", "cell_data"):
        fields, others = getattr(first, kind), getattr(second, kind)
        if list(fields) != list(others):
            return False
        for name in fields:
            a, b = (np.asarray(values, dtype=float) for values in (fields[name], others[name]))
            finite = np.isfinite(a)
            if a.shape != b.shape or not np.array_equal(a[~finite], b[~finite], equal_nan=True):
                return False
            largest = np.abs(a[finite]).max(initial=0.0)
            if np.abs(a[finite] - b[finite]).max(initial=0.0) > share * largest:
                return False
    return True


def same_record(one: Path, other: Path) -> bool:
    """Text and pictures of every page, without hashes."""
    first, second = pypdf.PdfReader(one).pages, pypdf.PdfReader(other).pages
    return len(first) == len(second) and all(
        HASHED.sub("", a.extract_text()) == HASHED.sub("", b.extract_text())
        and [image.data for image in a.images] == [image.data for image in b.images]
        for a, b in zip(first, second, strict=True)
    )


MAY_DIFFER: dict[str, Callable[[Path, Path], bool]] = {
    "elastic.json": same_json,
    "summary.json": same_json,
    "contact.json": same_json,
    "contact.csv": same_contact,
    "record.pdf": same_record,
}


def same(one: Path, other: Path) -> bool:
    if one.read_bytes() == other.read_bytes():
        return True
    judge = same_fields if one.suffix == ".vtu" else MAY_DIFFER.get(one.name)
    return judge is not None and judge(one, other)


def files(folder: Path) -> dict[str, Path]:
    """Files by their path in the folder, without logs."""
    found = {path.relative_to(folder): path for path in sorted(folder.rglob("*")) if path.is_file()}
    return {str(name): path for name, path in found.items() if "log" not in name.parts}


def differing(one: Path, other: Path) -> list[str]:
    """A line for each file that is in one folder only, or not the same in both."""
    first, second = files(one), files(other)
    alone = [f"{name}: in {one} only" for name in first.keys() - second.keys()]
    alone += [f"{name}: in {other} only" for name in second.keys() - first.keys()]
    both = sorted(first.keys() & second.keys())
    return sorted(alone) + [f"{name}: differs" for name in both if not same(first[name], second[name])]


def main(one: Path, other: Path) -> int:
    told = differing(one, other)
    print(*told, sep="\n", end="\n" if told else "")
    print(f"{len(files(one))} files in {one}, {len(told)} differ or stand alone")
    return 1 if told or not files(one) else 0


if __name__ == "__main__":
    sys.exit(main(Path(sys.argv[1]), Path(sys.argv[2])))
