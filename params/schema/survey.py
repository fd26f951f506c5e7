"""What `params/surveys/NAME/survey.yaml` may say: what was scanned and how, and what was measured beside the scan.

Every quantity is text with its unit in the file and a float in mm and radians once read.
"""

from __future__ import annotations

from typing import Annotated, Any, Literal

from pydantic import BeforeValidator, Field

from params.schema.day import Day
from params.schema.fields import Fine, Frozen, Name, Number, Revision, Size, Text
from params.schema.units import Within, within

Unit = Literal["mm", "cm", "m", "in", "ft"]
Up = Literal["x", "-x", "y", "-y", "z", "-z"]
ArmName = Literal["input", "output"]
SizeName = Literal[
    "input_arm",
    "output_arm",
    "included_angle",
    "blend_radius",
    "pivot.bore",
    "pivot.outside",
    "pivot.width",
    "pivot.chamfer",
    "input.bore",
    "input.outside",
    "input.width",
    "input.chamfer",
    "output.bore",
    "output.outside",
    "output.width",
    "output.chamfer",
    "section.depth_at_hub",
    "section.depth_at_pins",
    "section.width",
    "section.flange_thickness",
    "section.web_thickness",
    "section.fillet",
]
LENGTH, ANGLE = Within("length", "0 mm", "20 m"), Within("angle", "0 deg", "180 deg")
Coordinate = Annotated[float, Field(strict=True, allow_inf_nan=False, ge=-1e9, le=1e9)]


def measure(text: Any) -> float:
    """A length, or where the text ends so an angle."""
    return ANGLE(text) if str(text).strip().endswith(("deg", "rad")) else LENGTH(text)


Measure = Annotated[float, BeforeValidator(measure)]


class Instrument(Frozen):
    what: Text = Field(description="Kind of instrument, and its last calibration.")
    scale_ppm: Number = Field(
        default=0.0, ge=0.0, le=5000.0, description="Standard uncertainty of its scale, parts per million."
    )
    offset: Fine = Field(
        default=0.0,
        description="Standard uncertainty of the surface's place along its normal, common to all points: paint, probe, range zero.",
    )
    noise: Annotated[float, within("length", "0 mm", "50 mm")] = Field(
        default=0.0, description="Stated noise of one point; the points' own scatter counts where it is more."
    )


class ScanFile(Frozen):
    file: Annotated[str, Field(pattern=r"^[A-Za-z0-9][A-Za-z0-9._-]{0,99}$")] = Field(
        description="File beside this one: ply, stl, obj, e57, las, laz, xyz, csv, txt."
    )
    unit: Unit | None = Field(
        default=None, description="Unit of its numbers; left out for e57, which is in m."
    )
    targets: dict[Name, tuple[Coordinate, Coordinate, Coordinate]] = Field(
        default={},
        max_length=100,
        description="Places of targets in this file's axes and unit, to join the setups.",
    )


class Tape(Frozen):
    size: SizeName = Field(description="Name of the size, as in an arm's file below geometry.")
    value: Measure = Field(description="What was read.")
    spread: Measure = Field(description="Its standard uncertainty: about half of how far it may be off.")


class Survey(Frozen):
    name: Name = Field(description="Name of the survey and of the arm that comes of it; the folder's name.")
    title: Text = Field(description="What was scanned, where it lay, in what state.")
    units: Literal["si", "us"] = Field(
        default="si", description="Units of the arm's file and of tables: si or us."
    )
    revision: Revision = Field(default="A", description="Revision of the arm's file.")
    date: Day = Field(description="Day of the scan.")
    by: Text | None = Field(default=None, description="Who signs for the scan; left out: a blank field.")
    caution: Text = Field(description="The owner's own caution, printed beside the standing one.")
    instrument: Instrument = Field(description="What it was scanned with.")
    up: Up | None = Field(
        default=None, description="Axis of the first file that points up; left out: not known."
    )
    files: tuple[ScanFile, ...] = Field(
        min_length=1, max_length=50, description="The setups, one file each; an e57 may hold several."
    )
    joined: bool = Field(
        default=False,
        strict=True,
        description="true where the files share one set of axes already, to about 1 % of the arm.",
    )
    joined_within: Annotated[float, within("length", "0.001 mm", "100 mm")] = Field(
        default="1 mm",
        validate_default=True,
        description="Standard uncertainty of where the setups stand to one another; from the targets or the joining.",
    )
    longer_arm: ArmName = Field(
        default="output",
        description="The arm that is longer; the shape alone does not tell cylinder and load.",
    )
    section: Literal["by fit", "i", "box", "solid"] = Field(
        default="by fit", description="Kind of section. A closed box and a bar look alike: say which it is."
    )
    hidden: tuple[SizeName, ...] = Field(
        default=(), description="Sizes that could not be seen; they are left to be given."
    )
    tape: tuple[Tape, ...] = Field(
        default=(), max_length=100, description="Sizes measured otherwise: tape, calliper, ultrasonics."
    )
    rest_from: Name | None = Field(
        default=None,
        description="Arm in params/arms whose pins, drive, loads and the rest go into the new file.",
    )
    drawing_of: Name | None = Field(
        default=None,
        description="Arm in params/arms whose drawing the scanned part is held against, as made.",
    )
    least_depth: Size | None = Field(
        default=None,
        description="Deviations smaller than this are not listed; left out: three times their uncertainty.",
    )
