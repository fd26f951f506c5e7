"""What a parameter file may say: the arm as frozen, closed pydantic models, in N, mm, MPa, kg and radians once read.

The arm lies in the x-y plane with the pivot at the origin and pin axes along z; in the arm's own frame the output arm
runs along +x and the input pin stands at the included angle from it. In the world frame y is up and the arm is turned by
the angle of its output arm above the horizontal.
"""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import BaseModel, ConfigDict, Field, StringConstraints

from params.units import Quantity

Size = Quantity("length", "1 mm", "20 m")
Fine = Quantity("length", "0 mm", "1 m")
Place = Quantity("length", "-50 m", "50 m")
Turn = Quantity("angle", "-360 deg", "360 deg")
Included = Quantity("angle", "90 deg", "180 deg")
Force = Quantity("force", "0 N", "100 MN")
Moment = Quantity("moment", "0 N*m", "500 MN*m")
Pressure = Quantity("stress", "0.1 MPa", "100 MPa")
Strength = Quantity("stress", "50 MPa", "3000 MPa")
Fraction = Annotated[float, Field(ge=0.0, le=1.0, allow_inf_nan=False)]
Factor = Annotated[float, Field(ge=1.0, le=10.0, allow_inf_nan=False)]
Name = Annotated[str, StringConstraints(pattern=r"^[a-z][a-z0-9_-]{0,39}$")]
Text = Annotated[str, StringConstraints(min_length=1, max_length=4000)]


class Frozen(BaseModel):
    """A closed, frozen record: an unknown key is an error."""

    model_config = ConfigDict(frozen=True, extra="forbid")


class Pin(Frozen):
    diameter: Size = Field(description="Diameter of the pin or shaft that passes through the bore.")
    yield_strength: Strength = Field(description="Specified minimum yield strength of the pin.")
    tensile_strength: Strength = Field(description="Specified minimum tensile strength of the pin.")
    side_plate: Size = Field(description="Thickness of each supporting plate or bearing beside the arm, along the pin.")
    gap: Fine = Field(description="Gap between the arm's hub or boss face and the supporting plate, each side.")


class Bore(Frozen):
    bore: Size = Field(description="Diameter of the bore in the finished arm.")
    outside: Size = Field(description="Outside diameter of the hub or boss about the bore.")
    width: Size = Field(description="Width of the hub or boss along the pin.")
    chamfer: Fine = Field(description="45 degree chamfer at both ends of the bore.")
    pin: Pin = Field(description="The pin or shaft that passes through this bore.")


class Section(Frozen):
    kind: Literal["i", "box", "solid"] = Field(description="i: two flanges and a web; box: two flanges and two webs; solid: a bar.")
    depth_at_hub: Size = Field(description="Depth of both arms where they meet the hub circle.")
    depth_at_pins: Size = Field(description="Depth of both arms at the pin centres (the taper is straight).")
    width: Size = Field(description="Width of the section along z: of the flanges (i), over the webs (box), of the bar (solid).")
    flange_thickness: Size | None = Field(default=None, description="Thickness of each flange (i and box).")
    web_thickness: Size | None = Field(default=None, description="Thickness of the web (i) or of each web (box).")
    fillet: Fine | None = Field(default=None, description="Radius between web and flange (i), or inside corner in plan (box).")


class Geometry(Frozen):
    input_arm: Size = Field(description="Pivot centre to input pin centre.")
    output_arm: Size = Field(description="Pivot centre to output pin centre.")
    included_angle: Included = Field(description="Angle between the two arms at the pivot.")
    blend_radius: Fine = Field(description="Radius in the elevation where arm edges run into hub and bosses.")
    pivot: Bore = Field(description="The hub about the pivot bore.")
    input: Bore = Field(description="The boss at the cylinder's pin.")
    output: Bore = Field(description="The boss at the load's pin.")
    section: Section = Field(description="The section of both arms.")


class Point(Frozen):
    x: Place = Field(description="Horizontal distance from the pivot, world frame.")
    y: Place = Field(description="Height above the pivot, world frame.")


class Drive(Frozen):
    cylinder_bore: Size = Field(description="Bore of the hydraulic cylinder.")
    rod: Size = Field(description="Rod diameter.")
    relief_pressure: Pressure = Field(description="Pressure at which the relief valve opens.")
    anchor: Point = Field(description="Centre of the cylinder's fixed pin, world frame.")
    closed_length: Size = Field(description="Pin-to-pin length with the rod fully in.")
    stroke: Size = Field(description="Travel of the rod that the cylinder has.")
    lowered: Turn = Field(description="Angle of the output arm above the horizontal at the lowered end of the stroke.")
    raised: Turn = Field(description="Angle of the output arm above the horizontal at the raised end of the stroke.")


class LoadPoint(Frozen):
    at: Fraction = Field(description="Fraction of the swing: 0 lowered, 1 raised.")
    force: Force | None = Field(default=None, description="Pull of the load on the output pin along its line.")
    moment: Moment | None = Field(default=None, description="Resisting moment of the load about the pivot.")


class Driven(Frozen):
    direction: Turn | None = Field(default=None, description="World direction in which the load pulls the output pin (-90 deg: straight down).")
    anchor: Point | None = Field(default=None, description="Far end of a link whose near end is the output pin; it pulls toward this point.")
    load: tuple[LoadPoint, ...] = Field(min_length=2, max_length=100, description="Load over the swing, straight between points.")


class LoadCase(Frozen):
    kind: Literal["raise", "lower", "hold", "blocked"] = Field(
        description="raise, lower: moving, pivot friction opposes; hold: still; blocked: output held while the cylinder stands at relief pressure."
    )
    push: Literal["extend", "retract"] | None = Field(default=None, description="blocked only: the way the cylinder acts.")
    load_factor: Annotated[float, Field(ge=0.0, le=10.0, allow_inf_nan=False)] = Field(
        default=1.0, description="Multiplies the load table (1 as written; 0 no load)."
    )
    shock_factor: Factor = Field(default=1.0, description="Multiplies load and self weight for inertia and shock.")
    side_ratio: Annotated[float, Field(ge=0.0, le=0.5, allow_inf_nan=False)] = Field(
        default=0.0, description="Side force along z at both pins as a share of each pin force (misalignment)."
    )
    eccentricity: Place = Field(default=0.0, validate_default=False, description="Distance along z of the pin forces from the mid-plane (misalignment).")
    friction: Annotated[float, Field(ge=0.0, le=0.6, allow_inf_nan=False)] = Field(
        default=0.0, description="Coefficient of friction at the pivot bore while moving."
    )


class DutyPair(Frozen):
    from_case: Name = Field(description="Load case at one end of the cycle.")
    to_case: Name = Field(description="Load case at the other end.")
    cycles_per_year: Annotated[float, Field(gt=0.0, le=1e8, allow_inf_nan=False)] = Field(description="Cycles a year.")


class Duty(Frozen):
    service_years: Annotated[float, Field(gt=0.0, le=500.0, allow_inf_nan=False)] = Field(description="Service life wanted.")
    pairs: tuple[DutyPair, ...] = Field(min_length=1, max_length=50, description="Cycles as pairs of load cases.")


class Criteria(Frozen):
    design_factor: Factor = Field(description="N_d on yield for members and, with 1.20, on rupture (ASME BTH-1 2-2: 2.0 category A, 3.0 category B).")
    peak_factor: Factor = Field(description="Least ratio of yield strength to the elastic peak stress at a bore or fillet.")
    pin_code: Literal["bth1", "en1993", "aisc360"] = Field(description="Code of the pin connections: ASME BTH-1, EN 1993-1-8 or AISC 360 (ASD).")
    limit_state_factor: Factor = Field(default=1.5, description="en1993 only: factor from service loads to design loads.")
    pins_rotate: bool = Field(default=True, description="Pins turn under load: the lower bearing stress of the pin code applies.")
    deflection_ratio: Annotated[float, Field(ge=50.0, le=5000.0, allow_inf_nan=False)] = Field(
        default=300.0, description="Arm length over the tip deflection allowed."
    )


class Span(Frozen):
    least: Fine = Field(description="Smallest size.")
    most: Size = Field(description="Largest size.")
    steps: Annotated[int, Field(ge=1, le=100)] = Field(description="Number of sizes, ends included.")


class Sweep(Frozen):
    depth_at_hub: Span | None = Field(default=None, description="Range of the depth at the hub.")
    depth_at_pins: Span | None = Field(default=None, description="Range of the depth at the pins.")
    width: Span | None = Field(default=None, description="Range of the section width.")
    flange_thickness: Span | None = Field(default=None, description="Range of the flange thickness.")
    web_thickness: Span | None = Field(default=None, description="Range of the web thickness.")
    hub: Span | None = Field(default=None, description="Range of the hub diameter.")
    grid_limit: Annotated[int, Field(ge=1, le=5_000_000)] = Field(default=200_000, description="Largest full grid; beyond it a Latin hypercube of this many designs.")
    seed: Annotated[int, Field(ge=0, le=2**32 - 1)] = Field(default=1, description="Seed of the Latin hypercube.")
    confirm: Annotated[int, Field(ge=1, le=50)] = Field(default=6, description="Designs of the front that are meshed and solved.")


class MeshSizes(Frozen):
    per_quarter_bore: Annotated[int, Field(ge=3, le=24)] = Field(default=8, description="Elements per quarter of each bore's circle to start from (6 sweep, 8 usual, 12 record).")
    growth: Annotated[float, Field(ge=1.05, le=3.0, allow_inf_nan=False)] = Field(default=1.5, description="Growth of element size away from the bores.")
    largest: Size = Field(description="Largest element edge.")
    peak_change: Annotated[float, Field(ge=0.001, le=0.2)] = Field(default=0.03, description="Refinement ends when every bore's peak changes by less than this share.")
    levels: Annotated[int, Field(ge=1, le=6)] = Field(default=4, description="Most refinement levels.")


class Arm(Frozen):
    """One whole parameter file."""

    name: Name = Field(description="Name of the arm; the file's name without .yaml.")
    units: Literal["si", "us"] = Field(description="Units of tables and pictures.")
    description: Text = Field(description="What the arm is and does.")
    revision: Annotated[str, StringConstraints(pattern=r"^[A-Z0-9][A-Z0-9.-]{0,7}$")] = Field(description="Revision of this file.")
    caution: Text = Field(description="The owner's own caution, printed beside the standing one.")
    geometry: Geometry
    drive: Drive
    driven: Driven
    load_cases: dict[Name, LoadCase] = Field(min_length=1, max_length=40)
    duty: Duty
    material: Name = Field(description="Name of a file in params/materials.")
    criteria: Criteria
    sweep: Sweep
    mesh: MeshSizes
