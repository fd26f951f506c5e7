"""Plate cutting list of a weldment: a CSV and an outline at full size for each plate, from blanks.json."""

from __future__ import annotations

import io
from typing import Any

from analysis.drawing.dxf import layer, new, put, text_of
from analysis.drawing.frame import Frame, stroke
from analysis.drawing.ink import PENS
from analysis.tables.files import cell

COLUMNS = ("plate", "count", "thickness_mm", "area_mm2", "mass_each_kg", "outline", "note")
FOLDER = "plates/"  # in a package
LIST = f"{FOLDER}cutting-list.csv"
FULL = Frame(0.0, 0.0, 1.0)


def outline(plate: dict[str, Any]) -> bytes:
    """DXF in millimetres at full size: one closed figure of lines and arcs, nothing else."""
    drawing = new()
    layer(drawing, "outline", PENS["outline"])
    put(drawing, drawing.modelspace(), [stroke(edge, FULL, "outline") for edge in plate["edges"]])
    return text_of(drawing).encode()


def cutting_list(plates: list[dict[str, Any]], density: float) -> bytes:
    """One row a plate; density in kg/mm3."""
    file = io.StringIO()
    file.write(",".join(COLUMNS) + "\n")
    for plate in plates:
        mass = plate["area_mm2"] * plate["thickness_mm"] * density
        row = (
            plate["name"],
            plate["count"],
            plate["thickness_mm"],
            plate["area_mm2"],
            mass,
            f"{plate['name']}.dxf",
            plate["note"],
        )
        file.write(",".join(cell(value) for value in row) + "\n")
    return file.getvalue().encode()


def entries(plates: list[dict[str, Any]], density: float) -> dict[str, tuple[bytes, str]]:
    """Files of the package's folder `plates`, each with what it is."""
    if not plates:
        return {}
    listed = {LIST: (cutting_list(plates, density), "plate cutting list, CSV")}
    return listed | {
        f"{FOLDER}{plate['name']}.dxf": (
            outline(plate),
            f"{plate['name']}: outline at full size, DXF in millimetres",
        )
        for plate in plates
    }
