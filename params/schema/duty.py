"""What a parameter file says of the arm's work: cylinder, load over the swing, load cases, cycles."""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from params.schema.fields import Force, Frozen, Moment, Name, Number, Place, Pressure, Size, Turn


class Point(Frozen):
    x: Place = Field(description="Horizontal distance from the pivot, world frame; positive to the right.")
    y: Place = Field(description="Height above the pivot, world frame; negative below it.")


class Drive(Frozen):
    cylinder_bore: Size = Field(description="Bore of the hydraulic cylinder, from its name plate.")
    rod: Size = Field(
        description="Rod diameter, from the name plate; it takes area from the retracting side."
    )
    relief_pressure: Pressure = Field(
        description="Pressure at which the relief valve opens. The setting on test, not the pump's rating."
    )
    anchor: Point = Field(description="Centre of the cylinder's fixed pin, world frame. Survey it.")
    closed_length: Size = Field(
        description="Pin-to-pin length with the rod fully in, from the cylinder's drawing."
    )
    stroke: Size = Field(
        description="Travel of the rod that the cylinder has; some more than the swing needs."
    )
    lowered: Turn = Field(
        description="Angle of the output arm above the horizontal at the lowered end of the swing."
    )
    raised: Turn = Field(
        description="Angle of the output arm above the horizontal at the raised end of the swing."
    )


class LoadPoint(Frozen):
    at: Number = Field(ge=0.0, le=1.0, description="Fraction of the swing: 0 lowered, 1 raised.")
    force: Force | None = Field(
        default=None, description="Pull of the load on the output pin along its line."
    )
    moment: Moment | None = Field(
        default=None, description="Resisting moment of the load about the pivot, in place of force."
    )


class Driven(Frozen):
    direction: Turn | None = Field(
        default=None,
        description="World direction in which the load pulls the output pin (-90 deg: straight down).",
    )
    anchor: Point | None = Field(
        default=None,
        description="Far end of a link whose near end is the output pin; it pulls toward this point."
        " In place of direction.",
    )
    load: tuple[LoadPoint, ...] = Field(
        min_length=2,
        max_length=100,
        description="Load over the swing, straight between the points. Measured if it can be.",
    )


class LoadCase(Frozen):
    kind: Literal["raise", "lower", "hold", "blocked"] = Field(
        description="raise, lower: moving, pivot friction opposes; hold: still; blocked: output held while"
        " the cylinder stands at relief pressure."
    )
    push: Literal["extend", "retract"] | None = Field(
        default=None, description="blocked only: the way the cylinder acts."
    )
    load_factor: Number = Field(
        default=1.0, ge=0.0, le=10.0, description="Multiplies the load table (1 as written; 0 no load)."
    )
    shock_factor: Number = Field(
        default=1.0,
        ge=1.0,
        le=10.0,
        description="Not for blocked: multiplies load and self weight for inertia and shock (1.1 to 1.5).",
    )
    overshoot_factor: Number = Field(
        default=1.0,
        ge=1.0,
        le=3.0,
        description="blocked only: highest pressure over the relief pressure while the valve opens (1.1 to 1.3;"
        " from its data sheet or measured).",
    )
    side_ratio: Number = Field(
        default=0.0,
        ge=0.0,
        le=0.5,
        description="Side force along z at both pins as a share of each pin force, from misalignment (0.02"
        " usual). Taken the same way and opposite ways; the worse counts.",
    )
    eccentricity: Place = Field(
        default=0.0,
        description="Distance along z of the pin forces from the mid-plane, from misalignment. Taken to either"
        " side at each pin; the worse counts.",
    )
    friction: Number = Field(
        default=0.0,
        ge=0.0,
        le=0.6,
        description="raise, lower only: coefficient of friction at the pivot bore while moving (0.1 greased, 0.2"
        " dry bronze).",
    )
    design_factor: Number | None = Field(
        default=None,
        ge=1.0,
        le=10.0,
        description="Factor N_d in this case, where the owner's rules allow a rare one such as a jam another than"
        " criteria.design_factor.",
    )


class DutyPair(Frozen):
    """One kind of working cycle, from where it loads the arm least to where it loads it most."""

    from_case: Name = Field(
        description="Load case at the least loaded end: one without the load (kind hold, load_factor 0) where each lift"
        " puts it down."
    )
    to_case: Name = Field(description="Load case at the most loaded end.")
    cycles_per_year: Number = Field(gt=0.0, le=1e8, description="Cycles a year, from the log of the machine.")


class Duty(Frozen):
    service_years: Number = Field(gt=0.0, le=500.0, description="Service life wanted, years.")
    pairs: tuple[DutyPair, ...] = Field(
        min_length=1,
        max_length=50,
        description="Working cycles, from the least loaded load case to the most loaded one; one line a kind of cycle: each"
        " lift, and what comes now and then such as a jam.",
    )
