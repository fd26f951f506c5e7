"""What a parameter file may say: the arm as frozen, closed models, in N, mm, MPa, kg and radians once read.

The arm lies in the x-y plane with the pivot at the origin and pin axes along z; in the arm's own frame the
output arm runs along +x and the input pin stands at the included angle from it. In the world frame y is up
and the arm is turned by the angle of its output arm above the horizontal. The descriptions in these models
are the comments of every parameter file.
"""

from __future__ import annotations

from pathlib import Path
from typing import Literal, Self

from pydantic import Field, PrivateAttr

from params.schema.bores import Bores
from params.schema.cracks import Cracks, FoundCrack
from params.schema.drawing import Drawing
from params.schema.duty import Drive, Driven, Duty, DutyPair, LoadCase, LoadPoint, Point
from params.schema.fields import Frozen, Name, Number, Revision, Size, Text, Whole
from params.schema.geometry import Bore, Geometry, Pin, Section
from params.schema.revised import Revised
from params.schema.surveyed import Surveyed
from params.steps.library import PROJECT

__all__ = [
    "Arm",
    "Bore",
    "Criteria",
    "Drawing",
    "Drive",
    "Driven",
    "Duty",
    "DutyPair",
    "Geometry",
    "LoadCase",
]
__all__ += ["LoadPoint", "MeshSizes", "Pin", "Point", "Section", "Span", "Sweep"]


class Criteria(Frozen):
    design_factor: Number = Field(
        ge=1.0,
        le=10.0,
        description="Factor N_d on yield for members and, times 1.20, on rupture (ASME BTH-1 2-2: 2.0 for"
        " category A, 3.0 for category B).",
    )
    peak_factor: Number = Field(
        ge=1.0,
        le=10.0,
        description="Least ratio of yield strength to the elastic peak stress at a bore or fillet"
        " (1.2 to 1.5, common practice, no source).",
    )
    pin_code: Literal["bth1", "en1993", "aisc360"] = Field(
        description="Code of the pin connections: ASME BTH-1, EN 1993-1-8 or AISC 360 (ASD). What the owner's"
        " rules ask.",
    )
    limit_state_factor: Number = Field(
        default=1.5, ge=1.0, le=10.0, description="en1993 only: factor from service loads to design loads."
    )
    pin_factor: Number = Field(
        default=1.0,
        ge=1.0,
        le=10.0,
        description="en1993 and aisc360 only, whose own factors are fixed: further factor on the loads of the"
        " pin connections, such as a casting factor.",
    )
    pins_rotate: bool = Field(
        default=True,
        strict=True,
        description="true where pins turn under load: the lower bearing stress of the pin code applies.",
    )
    deflection_ratio: Number = Field(
        default=300.0, ge=50.0, le=5000.0, description="Arm length over the tip deflection allowed."
    )
    least_margin: Number = Field(
        default=0.05,
        ge=0.0,
        le=1.0,
        description="Least margin, by hand and by mesh, that a new design must have left: 0.05 is 5 % (common"
        " practice, no source).",
    )


class Span(Frozen):
    least: Size = Field(description="Smallest size.")
    most: Size = Field(description="Largest size.")
    steps: Whole = Field(ge=1, le=100, description="Number of sizes, ends included.")


class Sweep(Frozen):
    depth_at_hub: Span | None = Field(default=None, description="Range of the depth at the hub.")
    depth_at_pins: Span | None = Field(default=None, description="Range of the depth at the pins.")
    width: Span | None = Field(default=None, description="Range of the section width.")
    flange_thickness: Span | None = Field(
        default=None, description="Range of the flange thickness. Steps of plate or of a weld layer."
    )
    web_thickness: Span | None = Field(default=None, description="Range of the web thickness.")
    hub: Span | None = Field(default=None, description="Range of the hub diameter (geometry.pivot.outside).")
    grid_limit: Whole = Field(
        default=200_000,
        ge=1,
        le=5_000_000,
        description="Largest full grid; beyond it a Latin hypercube of this many designs.",
    )
    seed: Whole = Field(
        default=1, ge=0, le=2**32 - 1, description="Seed of the Latin hypercube; same seed, same designs."
    )
    confirm: Whole = Field(
        default=6,
        ge=1,
        le=50,
        description="Designs of the front that are meshed and solved; each takes a while.",
    )


class MeshSizes(Frozen):
    per_quarter_bore: Whole = Field(
        default=8,
        ge=3,
        le=24,
        description="Elements per quarter of each bore's circle to start from (6 sweep, 8 usual, 12 record).",
    )
    growth: Number = Field(
        default=1.5,
        ge=1.05,
        le=3.0,
        description="Growth of element size away from the bores (1.3 fine, 1.6 coarse).",
    )
    largest: Size = Field(description="Largest element edge. A quarter to a sixth of the depth at the hub.")
    peak_change: Number = Field(
        default=0.03,
        ge=0.001,
        le=0.2,
        description="Refinement ends when every bore's peak changes by less than this share.",
    )
    levels: Whole = Field(default=4, ge=1, le=6, description="Most refinement levels.")


class Arm(Frozen):
    """One whole parameter file."""

    name: Name = Field(description="Name of the arm; the file's name without .yaml.")
    units: Literal["si", "us"] = Field(description="Units of tables and pictures: si or us.")
    description: Text = Field(description="What the arm is and does, and why it is replaced.")
    revision: Revision = Field(
        description="Revision of this file; raise it with every change that leaves the house."
    )
    revisions: tuple[Revised, ...] = Field(
        default=(),
        max_length=200,
        description="Revision table, oldest first; `python -m analysis.adopt` adds rows.",
    )
    caution: Text = Field(description="The owner's own caution, printed beside the standing one.")
    geometry: Geometry = Field(description="The arm itself, from a survey of the old one.")
    survey: Surveyed | None = Field(
        default=None, description="How sure the surveyed sizes are; written by the survey of a scan."
    )
    drive: Drive = Field(description="The hydraulic cylinder and the swing that it makes.")
    driven: Driven = Field(description="What the output pin moves: either direction or anchor, and the load.")
    load_cases: dict[Name, LoadCase] = Field(
        min_length=1, max_length=40, description="One line a case, NAME: {kind: ...}; the names are yours."
    )
    duty: Duty = Field(description="What the arm does in a year, for fatigue.")
    material: Name = Field(description="Name of a file in params/materials, without .yaml.")
    route: Name | None = Field(
        default=None,
        description="Way by which this part is made: a file in params/routes, without .yaml; the factors below hold"
        " that route's already. Left out: not chosen, and a sweep puts in those of the material's route.",
    )
    routes: tuple[Name, ...] | None = Field(
        default=None,
        min_length=1,
        max_length=50,
        description="Ways to make the new arm: names of files in params/routes, without .yaml; left out: all of them.",
    )
    outage: Name | None = Field(
        default=None,
        description="Stop in which the arm is changed: name of a file in params/outages, without .yaml.",
    )
    criteria: Criteria = Field(description="What the arm must keep.")
    bores: Bores | None = Field(
        default=None, description="Fits, surfaces and welds, for the life of the bores and of the rest."
    )
    found_cracks: tuple[FoundCrack, ...] = Field(
        default=(), max_length=20, description="Cracks found on the arm in service, one line a crack."
    )
    cracks: Cracks | None = Field(
        default=None, description="What cracks need: toughness, growth, examination; for found and new ones."
    )
    sweep: Sweep = Field(
        description="Sizes tried for weight against margin; leave a range out to keep the size as it is."
    )
    mesh: MeshSizes = Field(description="Elements of the 3D model.")
    drawing: Drawing = Field(
        default=Drawing(), description="The drawing for the vendor; every key may be left out."
    )
    _library: Path = PrivateAttr(default=PROJECT)

    @property
    def design_factors(self) -> tuple[float, ...]:
        """Factor on yield in each load case: its own, else the one of the criteria."""
        cases = self.load_cases.values()
        return tuple(
            self.criteria.design_factor if one.design_factor is None else one.design_factor for one in cases
        )

    @property
    def library(self) -> Path:
        """The folder whose materials, routes and outage count for this arm: a run's copies, else `params`."""
        return self._library

    def read_beside(self, library: Path) -> Self:
        """This arm, with the library that counts for the file it was read from."""
        self._library = library
        return self
