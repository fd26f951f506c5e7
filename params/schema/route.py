"""What a route file may say: how one way of making the part limits its sizes, changes its strength and takes its time.

A further route is a further file in params/routes; `read_route` (params/files/readroute.py) reads it.
"""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from params.schema.bores import Finish
from params.schema.fields import Fine, Frozen, Name, Number, Size, Text, Whole
from params.schema.money import PerHour, PerKilogram, Sum
from params.schema.schedule import Calendar, Cause, Lateness, Task
from params.schema.units import within
from params.schema.weldclasses import CATEGORIES

Mass = Annotated[float, within("mass", "1 kg", "1000 t")]
Angle = Annotated[float, within("angle", "0 deg", "20 deg")]
Rate = Annotated[float, within("rate", "0.05 kg/h", "100 kg/h")]
Speed = Annotated[float, within("speed", "1 mm/min", "50 m/min")]
Hours = Annotated[float, within("time", "0 h", "1000 h")]
Hot = Annotated[float, within("temperature", "100 degC", "1300 degC")]
WeldPlace = Literal["flange_to_web", "arm_to_hub", "arm_to_boss", "piece_joint", "repair"]


class Limits(Frozen):
    """Sizes that the route can make."""

    sections: tuple[Literal["i", "box", "solid"], ...] = Field(
        min_length=1, description="Kinds of section it can make."
    )
    least_wall: Size = Field(description="Least thickness of web, flange or wall.")
    plate_stock: tuple[Size, ...] = Field(default=(), description="Plate thicknesses to be had; none: any.")
    bead_width: Size | None = Field(
        default=None, description="Width of one deposited bead; no wall is thinner."
    )
    draft: Angle = Field(default=0.0, description="Draft of faces along the way the pattern is drawn.")
    inside_radius: Fine = Field(default=0.0, description="Least radius of inside corners.")
    largest_mass: Mass = Field(description="Largest mass of one piece: pour, crane or turntable.")


class Stock(Frozen):
    """What is made beyond the finished part."""

    machining: Fine = Field(description="Stock on each machined face.")
    near_net: Fine = Field(default=0.0, description="Allowance on faces that stay as made.")
    shrinkage_percent: Number = Field(
        default=0.0, ge=0.0, le=5.0, description="Linear shrinkage by which a pattern is larger."
    )


class Factors(Frozen):
    """Factors on strength, 1 where the route takes nothing away."""

    casting: Number = Field(
        default=1.0, ge=1.0, le=4.0, description="Casting factor: design factors are multiplied by it."
    )
    across_build: Number = Field(
        default=1.0, gt=0.3, le=1.0, description="Strength across the build direction over strength along it."
    )
    joint: Number = Field(
        default=1.0, gt=0.3, le=1.0, description="Strength of a joint of pieces over the parent's."
    )


class PlacedWeld(Frozen):
    place: WeldPlace = Field(description="Where the weld is.")
    category: Literal[CATEGORIES] = Field(  # type: ignore[valid-type]
        description="EN 1993-1-9:2005 detail category, MPa at 2e6 cycles (nominal stress)."
    )
    detail: Text = Field(description="The detail in words, with its table.")


class Torch(Frozen):
    """Wire and travel; the rate must agree with them."""

    wire: Fine = Field(description="Diameter of the wire.")
    feed: Speed = Field(description="Speed of the wire.")
    travel: Speed = Field(description="Speed of the torch along the bead.")


class Deposition(Frozen):
    rate: Rate = Field(description="Mass deposited an hour while the arc burns.")
    duty: Number = Field(gt=0.0, le=1.0, description="Share of the clock on which the arc burns.")
    yield_share: Number = Field(gt=0.5, le=1.0, description="Deposited mass over wire mass.")
    cells: Whole = Field(ge=1, le=50, description="Cells that work at the same time.")
    reach_radius: Size = Field(description="Largest radius of a piece about the cell's turntable.")
    reach_height: Size = Field(description="Largest height of a piece in the cell.")
    torch: Torch | None = Field(default=None, description="Wire and travel, where known.")


class Examination(Frozen):
    method: Literal["visual", "magnetic particle", "penetrant", "ultrasonic", "radiography"]
    where: Literal["surface", "volume", "surface and volume"] = Field(description="What it sees.")
    length: Size = Field(description="Length of the flaw that it finds reliably.")
    depth: Size | None = Field(
        default=None, description="Depth or through-thickness size that it finds; none: unknown."
    )


class HeatTreatment(Frozen):
    title: Text = Field(description="What is done and why.")
    temperature: Hot = Field(description="Holding temperature.")
    hold: Hours = Field(description="Holding time of the thickest section.")


class Cost(Frozen):
    """Low, likely and high of each; a part costs fixed + per_kg x finished mass + per_arc_hour x arc hours."""

    fixed: tuple[Sum, Sum, Sum] = Field(description="Pattern, programming, fixtures, procedure tests.")
    per_kg: tuple[PerKilogram, PerKilogram, PerKilogram] = Field(description="By finished mass.")
    per_arc_hour: tuple[PerHour, PerHour, PerHour] | None = Field(
        default=None, description="By hours of deposition."
    )


class Process(Frozen):
    """How the part is made, as far as a vendor needs it: what geometry and requirements follow from, no price and no day."""

    name: Name = Field(description="Name of the route; the file's name without .yaml.")
    title: Text = Field(description="The route in one line.")
    form: Literal["cast", "plate", "deposited"] = Field(
        description="Form of its materials (params/materials)."
    )
    finish: Finish = Field(description="Surface of faces that stay as made.")
    limits: Limits
    stock: Stock
    factors: Factors
    welds: tuple[PlacedWeld, ...] = Field(default=(), description="Class of weld at named places.")
    examination: tuple[Examination, ...] = Field(
        min_length=1, description="How it is looked at, with sizes found."
    )
    heat_treatment: HeatTreatment | None = Field(default=None)


class Route(Process):
    """One whole route file: the owner's own, with materials, days, prices and what lateness costs."""

    materials: tuple[Name, ...] = Field(min_length=1, description="Materials it can use, of its form.")
    deposition: Deposition | None = Field(default=None, description="Where metal is deposited.")
    calendars: dict[Name, Calendar] = Field(min_length=1, description="Working days by name.")
    causes: dict[Name, Cause] = Field(default={}, description="Shared causes by name.")
    tasks: dict[Name, Task] = Field(
        min_length=1, max_length=500, description="Tasks by name, from order to delivery."
    )
    cost: Cost | None = Field(default=None, description="Cost rates, where known.")
    lateness: Lateness
