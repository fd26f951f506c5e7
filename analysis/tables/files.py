"""Tables under results/: CSV with six significant digits, and JSON with sorted keys; the same input gives the same bytes."""

from __future__ import annotations

import csv
import json
from collections.abc import Iterable, Mapping, Sequence
from pathlib import Path
from typing import Any

import numpy as np
from pydantic import BaseModel

from params.steps import sealed
from params.steps.caution import CAUTION
from params.steps.problems import Unfit
from params.steps.results import READ, ResultFile, read_json

__all__ = [
    "cell",
    "known",
    "plain",
    "read_csv",
    "read_json",
    "read_row",
    "write_cautioned",
    "write_csv",
    "write_json",
]


def cell(value: Any) -> str:
    """A table cell: six significant digits for floats, plain text for the rest."""
    if isinstance(value, bool | np.bool_):
        return "yes" if value else "no"
    if isinstance(value, float | np.floating):
        return f"{value + 0.0:.6g}" if np.isfinite(value) else ""
    return "" if value is None else str(value)


def write_csv(path: Path, columns: Sequence[str], rows: Iterable[Mapping[str, Any]]) -> None:
    """Write rows; a key that is not a column is an error; a nan, for what is not known, is an empty cell."""
    with sealed.whole(path) as new, new.open("w", newline="", encoding="utf-8") as file:
        writer = csv.writer(file, lineterminator="\n")
        writer.writerow(columns)
        for row in rows:
            if set(row) - set(columns):
                raise KeyError(f"{path.name} has no column {sorted(set(row) - set(columns))}")
            writer.writerow([cell(row.get(column)) for column in columns])


def is_lost(value: Any) -> bool:
    """Whether a number is nan: a formula that met what it does not hold for."""
    return isinstance(value, float | np.floating) and bool(np.isnan(value))


def known(value: float) -> float | None:
    """A number of an array in which nan stands for what is not known or not asked, for a cell that stays empty then."""
    return None if is_lost(value) else value


def write_cautioned(path: Path, columns: Sequence[str], rows: Iterable[Mapping[str, Any]]) -> None:
    """Write rows that give a strength, a life or a date: the standing caution is their last column."""
    write_csv(path, (*columns, "caution"), ({**row, "caution": CAUTION} for row in rows))


def read_csv(path: Path, least: int = 0) -> list[dict[str, str]]:
    """The rows of a table, all cells as text; asking for a missing column raises an error that names the file.

    Raises
    ------
    Unfit
        where the file is empty, not as it was written, cut off within a row, not a table, or has fewer than `least` rows below its
        heading.
    """
    READ.append(path)
    sealed.check(path)
    with path.open(newline="", encoding="utf-8") as file:
        reader = csv.DictReader(file)
        try:
            rows, named = list(reader), reader.fieldnames
        except (UnicodeDecodeError, csv.Error) as error:
            raise Unfit(f"{path}: is not a table ({error})") from None
    if not named:
        raise Unfit(f"{path}: is empty")
    if any(None in row or None in row.values() for row in rows):
        raise Unfit(f"{path}: a row has more or fewer cells than the heading; it was cut off or changed")
    if len(rows) < least:
        raise Unfit(f"{path}: has {len(rows) or 'no'} rows below its heading; it must have at least {least}")
    return [ResultFile(row, path) for row in rows]


def read_row(path: Path) -> dict[str, str]:
    """The row of a table that has one only; Unfit as `read_csv`, or where it has more."""
    rows = read_csv(path, least=1)
    if len(rows) > 1:
        raise Unfit(f"{path}: has {len(rows)} rows; it must have one")
    return rows[0]


def write_json(path: Path, content: Any) -> None:
    """Write JSON with sorted keys; arrays become lists, floats keep nine significant digits."""
    sealed.write_text(path, json.dumps(plain(content), indent=1, sort_keys=True) + "\n")


def plain(value: Any) -> Any:
    """Models, numpy and mappings as JSON types; a float that is not finite becomes null."""
    if isinstance(value, BaseModel):
        return plain(value.model_dump())
    if isinstance(value, Mapping):
        return {str(key): plain(item) for key, item in value.items()}
    if isinstance(value, np.ndarray):
        return plain(value.tolist())
    if isinstance(value, list | tuple):
        return [plain(item) for item in value]
    if isinstance(value, bool | np.bool_):
        return bool(value)
    if isinstance(value, int | np.integer):
        return int(value)
    if isinstance(value, float | np.floating):
        return float(f"{value:.9g}") if np.isfinite(value) else None
    return value
