"""What a parameter file may say of its drawing: sheet, projection, tolerances, surfaces, title block, display model."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field, StringConstraints

from params.schema.day import Day
from params.schema.fields import Frozen, Number
from params.schema.fitclass import HoleText, ToleranceClass
from params.schema.units import within

Tolerance = Annotated[float, within("length", "0.001 mm", "20 mm")]
Roughness = Annotated[float, within("length", "0.0001 mm", "0.1 mm")]
Line = Annotated[
    str, StringConstraints(min_length=1, max_length=60)
]  # has to fit its field of the title block


class Drawing(Frozen):
    """The section `drawing:`; all of it has defaults. Tolerances and finishes there: common practice, no source."""

    projection: Literal["first", "third"] = Field(
        default="first", description="First-angle or third-angle projection (ISO 5456-2)."
    )
    sheet: Literal["A0", "A1", "A2"] = Field(
        default="A2", description="Sheet size (ISO 5457); the scale is the largest of ISO 5455 that fits."
    )
    owner: Line = Field(default="Owner not named", description="Legal owner, for the title block (ISO 7200).")
    number: Line | None = Field(
        default=None, description="Identification number of the drawing; left out: the arm's name."
    )
    issued: Day | None = Field(default=None, description="Date of issue of this revision, 2027-01-31.")
    creator: Line | None = Field(default=None, description="Who made the drawing; left out: a blank field.")
    approved: Line | None = Field(
        default=None, description="Who approved it; left out: a blank field to sign."
    )
    general_tolerance: Literal["f", "m", "c", "v"] = Field(
        default="m", description="Class of ISO 2768-1 for machined sizes without a tolerance of their own."
    )
    raw_tolerance: Literal["m", "c", "v"] = Field(
        default="v", description="Class of ISO 2768-1 for sizes between faces that stay as made."
    )
    bore_class: HoleText = Field(
        default=ToleranceClass("H", 8),
        description="Tolerance class (ISO 286) of bores without a fit under `bores`.",
    )
    centre_tolerance: Tolerance = Field(
        default=0.2, description="Tolerance, plus and minus, of the distance from pivot to pin centres."
    )
    bore_parallelism: Tolerance = Field(
        default=0.1, description="Parallelism of the pin bores to the pivot bore, over their length."
    )
    face_squareness: Tolerance = Field(
        default=0.1, description="Squareness of hub and boss faces to the pivot bore."
    )
    bore_finish: Roughness = Field(default=0.0016, description="Ra of the bores, such as 0.0016 mm.")
    face_finish: Roughness = Field(default=0.0032, description="Ra of hub and boss faces.")
    display_scale: Number = Field(
        default=0.1, gt=0.0, le=1.0, description="Scale of the display model over the part."
    )
