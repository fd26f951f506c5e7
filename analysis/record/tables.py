"""What the record prints: the tables of one arm, read once."""

from __future__ import annotations

import hashlib
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path
from typing import Any, TypeVar

from analysis.contracts.elastic import ElasticFile
from analysis.contracts.hand import HandFile
from analysis.contracts.loads import LoadsFile
from analysis.contracts.summary import Summary, read_summary
from analysis.contracts.workings import Substitution, SubstitutionsFile, WorkingsFile
from analysis.tables.files import read_csv, read_json
from analysis.tables.number import number
from params.files.origin import Origin, origin
from params.files.read import read_arm, read_material
from params.schema.arm import Arm
from params.schema.material import Material
from params.schema.units import outside, show, shown_unit
from params.steps.contract import read_model

Row = dict[str, str]
Case = TypeVar("Case")


@dataclass(frozen=True)
class Tables:
    """results/ARM as its steps left it; `folder` is as-written."""

    root: Path

    @property
    def folder(self) -> Path:
        return self.root / "as-written"

    @cached_property
    def arm(self) -> Arm:
        return read_arm(self.folder / "arm.yaml")

    @cached_property
    def material(self) -> Material:
        return read_material(self.arm.material, self.arm.library)

    @cached_property
    def summary(self) -> Summary:
        return read_summary(self.folder / "summary.json")

    @cached_property
    def origin(self) -> Origin:
        return origin(self.arm, self.folder / "arm.yaml")

    @cached_property
    def order(self) -> dict[str, Any] | None:
        """What is ordered, in sentences; None where the routes were not worked out."""
        path = self.root / "making" / "answer.json"
        return read_json(path) if path.exists() else None

    @cached_property
    def hand(self) -> HandFile:
        return read_model(self.folder / "hand.json", HandFile)

    @cached_property
    def elastic(self) -> ElasticFile:
        return read_model(self.folder / "elastic.json", ElasticFile)

    @cached_property
    def workings(self) -> WorkingsFile:
        return read_model(self.folder / "workings.json", WorkingsFile)

    @cached_property
    def substitutions(self) -> tuple[Substitution, ...]:
        return read_model(self.folder / "substitutions.json", SubstitutionsFile).rows

    @cached_property
    def loads(self) -> LoadsFile:
        return read_model(self.folder / "loads.json", LoadsFile)

    def in_order(self, cases: Mapping[str, Case]) -> list[tuple[str, Case]]:
        """Load cases in the order of the parameter file."""
        return [(name, cases[name]) for name in self.arm.load_cases]

    def csv(self, name: str) -> list[Row]:
        return read_csv(self.folder / name)

    def extra(self, place: str) -> list[Path]:
        """Tables of a step that may not have been made, in the order of their names."""
        return sorted([*(self.folder / place).glob("*.csv"), *(self.root / place).glob("*.csv")])

    def show(self, value: float, kind: str) -> str:
        """With the unit; what rounds to nought has no sign."""
        text = show(value, kind, self.arm.units)
        return text if any(digit in text for digit in "123456789") else text.removeprefix("-")

    def amount(self, value: float, kind: str) -> str:
        """Four significant digits with the unit, for what may be small."""
        unit = shown_unit(kind, self.arm.units)
        return f"{number(outside(value, unit, kind))} {unit.replace('*', ' ')}"

    def files(self) -> Iterable[tuple[str, str]]:
        """The files this record was set from, with the first half of their SHA-256."""
        names = (
            "arm.yaml",
            "checks.csv",
            "workings.json",
            "substitutions.json",
            "stroke.csv",
            "stations.csv",
            "hand.json",
            "linkage.json",
            "loads.json",
            "resultants.csv",
            "verify.csv",
            "convergence.csv",
            "elastic.json",
            "summary.json",
        )
        extra = [*self.extra("bores"), *self.extra("making")]
        for path in (*(self.folder / name for name in names), *extra):
            yield str(path.relative_to(self.root)), hashlib.sha256(path.read_bytes()).hexdigest()[:32]


def words(name: str) -> str:
    """A name of a column or place as words."""
    return name.replace("_", " ")


def grouped(rows: Iterable[Row], *by: str) -> dict[tuple[str, ...], list[Row]]:
    """Rows by the values of some columns, in order."""
    groups: dict[tuple[str, ...], list[Row]] = {}
    for row in rows:
        groups.setdefault(tuple(row[name] for name in by), []).append(row)
    return groups


def least(rows: Iterable[Row], key: Callable[[Row], float]) -> Row:
    return min(rows, key=key)


def margin(row: Row) -> float:
    """Margin for choosing; where nothing is asked, without end."""
    return float(row["margin"]) if row["margin"] else float("inf")
