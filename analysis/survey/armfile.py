"""The arm's parameter file out of a survey: surveyed sizes with their provenance, the rest from a named arm.

Nothing is rounded: values have all the digits of the fit. A size that nothing determines stays out, with a comment that says so,
and the check of the file asks for it.
"""

from __future__ import annotations

import re
from math import degrees
from typing import Any

from analysis.survey import sizes as named
from analysis.survey.found import Found
from analysis.survey.writing import closed, given, unit
from params.files.commented import comment, commented
from params.files.read import HERE
from params.files.yamlfile import read_yaml
from params.new import STARTER
from params.schema.arm import Arm

STRONG = 0.3  # correlations from which they are written


def text(found: Found) -> str:
    """The file."""
    survey = found.survey
    base = HERE / "arms" / f"{survey.rest_from}.yaml" if survey.rest_from else STARTER
    data = dict(read_yaml(base).data)
    rest = (
        f"the arm {survey.rest_from}"
        if survey.rest_from
        else "the starter file: all of that is INVENTED, replace it"
    )
    data |= {
        "name": survey.name,
        "units": survey.units,
        "revision": survey.revision,
        "caution": survey.caution,
        "description": f"As found by a scan on {survey.date}: {survey.title}",
        "survey": block(found),
    }
    data["geometry"] = geometry(found, data["geometry"])
    measured(found, data)
    head = (
        f"{survey.name}: sizes under geometry as found by a scan on {survey.date}; pins, drive, loads and the rest from {rest}."
        " Look through all of it."
    )
    return noted(commented(data, Arm, head), found)


def quantity(found: Found, name: str, value: float) -> str:
    """A size as text with its unit, all digits."""
    told, mm = unit(found.survey.units)
    return f"{degrees(value):.9g} deg" if name == named.ANGLE else f"{value / mm:.9g} {told}"


def geometry(found: Found, old: dict[str, Any]) -> dict[str, Any]:
    """The geometry with pins from the old file."""
    taped = {one.size: one.value for one in found.survey.tape}
    values = {name: found.state.sizes[name] for name in found.state.order if given(found, name)}
    kind = "i" if found.state.kind == "i" else closed(found)
    if kind != "solid":
        values |= {name: value for name, value in taped.items() if name not in found.state.order}
    made: dict[str, Any] = {}
    for name in named.ARM_SIZES:
        if name in values:
            made[name] = quantity(found, name, values[name])
    for part in ("pivot", "input", "output", "section"):
        made[part] = {
            name.split(".")[1]: quantity(found, name, value)
            for name, value in values.items()
            if name.startswith(f"{part}.")
        }
        if part != "section":
            made[part]["pin"] = old[part]["pin"]
    made["section"] = {**({"kind": kind} if kind in ("i", "box", "solid") else {}), **made["section"]}
    return made


def measured(found: Found, data: dict[str, Any]) -> None:
    """Measured bores into the fits that the file has."""
    fits = (data.get("bores") or {}).get("fits") or {}
    for one in found.bores:
        if one.name in fits and given(found, f"{one.name}.bore"):
            fits[one.name] = {
                **fits[one.name],
                "fit": {
                    "measured": {
                        "bore": quantity(found, "bore", one.diameter),
                        "shaft": data["geometry"][one.name]["pin"]["diameter"],
                        "uncertainty": quantity(found, "bore", 2.0 * one.u_diameter),
                    }
                },
            }


def block(found: Found) -> dict[str, Any]:
    """The section `survey:`."""
    rows = [row for row in found.certainty.rows if given(found, row.name)]
    names = {row.name for row in rows}
    parts = ("uncertainty", "noise", "neighbours", "coverage", "instrument")
    matrix, order = found.certainty.correlation, found.certainty.order
    bound = [
        {"one": order[i], "other": order[j], "correlation": round(float(matrix[i, j]), 4)}
        for i in range(len(order))
        for j in range(i)
        if abs(matrix[i, j]) >= STRONG and {order[i], order[j]} <= names
    ]
    return {
        "name": found.survey.name,
        "day": str(found.survey.date),
        "source": f"{found.survey.title} {found.survey.instrument.what}",
        "sizes": {
            row.name: {part: quantity(found, row.name, getattr(row, part)) for part in parts} for row in rows
        },
        **({"bound": bound} if bound else {}),
    }


def noted(file: str, found: Found) -> str:
    """The file with a comment above each surveyed size, and in place of each that is left to be given."""
    lines, made = file.splitlines(), []
    path: list[str] = []
    inside = False
    for line in lines:
        if re.match(r"^\S", line) and not line.startswith("#"):
            inside = line.startswith("geometry:")
        match = re.match(r"^(\s+)(#\s)?([a-z_]+):(.*)$", line) if inside else None
        if match and (not match[2] or not match[4].strip()):
            depth = len(match[1]) // 2 - 1
            path = [*path[:depth], match[3]]
            name = ".".join(path)
            if name in found.certainty.order:
                made += [f"{match[1]}{one}" for one in comment(provenance(found, name))]
        made.append(line)
    return "\n".join(made) + "\n"


def provenance(found: Found, name: str) -> str:
    row = found.certainty.of(name)
    if not given(found, name):
        return f"Surveyed: NOT determined by the points ({row.points} on its faces). Measure it and write it here."
    parts = ", ".join(
        f"{part} {short(found, name, getattr(row, part))}"
        for part in ("noise", "neighbours", "coverage", "instrument")
    )
    told = f"{short(found, name, row.uncertainty)} {quantity(found, name, 0.0).split()[1]}"
    return f"Surveyed {found.survey.date}: standard uncertainty {told} ({parts}), {row.points} points."


def short(found: Found, name: str, value: float) -> str:
    """Two significant digits, as in a comment; the data below have all."""
    return f"{float(quantity(found, name, value).split()[0]):.2g}"
