"""As made: the new part's sizes against its drawing's limits, as in the report form.

A size is within its limits, or outside, only where that holds with its uncertainty (guard bands of ISO 14253-1:2017, coverage
factor 2, from memory); between, the scan does not decide.
"""

from __future__ import annotations

from math import degrees
from pathlib import Path
from typing import Any

from analysis.package.features import features
from analysis.survey import sizes as named
from analysis.survey.found import Found
from analysis.survey.writing import given, unit
from analysis.tables.files import write_cautioned
from params.schema.arm import Arm

COVERAGE = 2.0
COLUMNS = (
    "id",
    "what",
    "nominal",
    "least",
    "most",
    "from",
    "measured",
    "expanded_uncertainty",
    "unit",
    "verdict",
)


def nominal(arm: Arm) -> tuple[str, dict[str, float]]:
    kind = "i" if arm.geometry.section.kind == "i" else "solid"
    return kind, named.of(arm.geometry, kind)


def size_of(identifier: str) -> str:
    """The survey's name of a size of the report form.

    >>> size_of("pivot_bore"), size_of("section_width"), size_of("input_arm")
    ('pivot.bore', 'section.width', 'input_arm')
    """
    for part in ("pivot", "input", "output"):
        tail = identifier.removeprefix(f"{part}_")
        if tail in named.BORE_SIZES and tail != identifier:
            return f"{part}.{tail}"
    if identifier == "section_width":
        return "section.width"
    return f"section.{identifier}" if f"section.{identifier}" in named.ALL else identifier


def write(found: Found, arm: Arm | None, folder: Path) -> None:
    """as_made.csv; without a drawing only its heading."""
    write_cautioned(folder / "as_made.csv", COLUMNS, rows(found, arm) if arm is not None else [])


def rows(found: Found, arm: Arm) -> list[dict[str, Any]]:
    made = []
    told, mm = unit(found.survey.units)
    for feature in features(arm):
        name = size_of(feature["id"])
        if name not in found.certainty.order:
            continue
        row = found.certainty.of(name)
        angle = name == named.ANGLE
        inside = 1.0 if angle else mm
        value, spread = (degrees(one) if angle else one / mm for one in (row.value, row.uncertainty))
        ends = [
            None if feature[end] is None else (feature["nominal"] + feature[end]) / inside
            for end in ("lower", "upper")
        ]
        made.append(
            {
                "id": feature["id"],
                "what": feature["what"],
                "nominal": feature["nominal"] / inside,
                "least": ends[0],
                "most": ends[1],
                "from": feature["basis"],
                "measured": value if given(found, name) else "",
                "expanded_uncertainty": COVERAGE * spread,
                "unit": "deg" if angle else told,
                "verdict": verdict(value, COVERAGE * spread, *ends) if given(found, name) else "not measured",
            }
        )
    return made


def verdict(value: float, wide: float, least: float | None, most: float | None) -> str:
    """Within, outside, or not decided.

    >>> [verdict(value, 0.1, 9.5, 10.5) for value in (10.0, 10.45, 10.7)]
    ['within', 'not decided', 'outside']
    """
    if least is None or most is None:
        return "no limit"
    if least + wide <= value <= most - wide:
        return "within"
    return "outside" if value > most + wide or value < least - wide else "not decided"
