"""What a parameter file may say about its bores: fits, surfaces, welds, fretting, measured history.

Every quantity is text with its unit in the file and a float in N, mm, MPa, degrees C and 1/K once read.
"""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import FailFast, Field

from params.schema.expansion import Expansion
from params.schema.fields import Fine, Frozen, Name, Number, Size, Text
from params.schema.fitclass import FitText
from params.schema.geometry import BoreName
from params.schema.units import within
from params.schema.weldclasses import CATEGORIES

Temperature = Annotated[float, within("temperature", "-200 degC", "700 degC")]
Modulus = Annotated[float, within("stress", "10 GPa", "500 GPa")]
Roughness = Annotated[float, within("length", "0 mm", "1 mm")]
Measured = Annotated[float, within("length", "0 mm", "1 mm")]
Finish = Literal["ground", "machined", "hot-rolled", "as-forged", "as-cast", "as-deposited"]
Region = Literal[
    "pivot_bore", "input_bore", "output_bore", "pivot_faces", "input_faces", "output_faces", "outside"
]
Signal = Annotated[float, Field(strict=True, allow_inf_nan=False, ge=-100.0, le=100.0)]


class MeasuredFit(Frozen):
    bore: Size = Field(description="Measured diameter of the bore.")
    shaft: Size = Field(description="Measured diameter of the pin or shaft.")
    uncertainty: Measured = Field(default=0.0, description="How far each of the two may be off, either way.")


class Sizes(Frozen):
    """A fit by its name or by measured sizes: one of the two."""

    fit: FitText | None = Field(default=None, description="Fit after ISO 286, hole first: H7/s6.")
    measured: MeasuredFit | None = Field(default=None, description="Measured sizes instead.")


class Solid(Frozen):
    """An elastic ring or shaft that goes into the bore."""

    elastic_modulus: Modulus = Field(description="Elastic modulus. Steel 205 GPa.")
    poisson_ratio: Number = Field(ge=0.0, lt=0.5, description="Poisson ratio. Steel 0.3.")
    expansion: Expansion = Field(description="Thermal expansion. Steel 11.7 um/m/K.")


class Shaft(Solid):
    inside: Fine = Field(default=0.0, description="Bore of a hollow pin or shaft; 0 mm where it is solid.")


class Bush(Solid):
    inside: Size = Field(description="Bore of the bush before it is pressed in.")
    fit: Sizes = Field(description="Fit of the bush in the arm, often H7/p6.")
    yield_strength: Annotated[float, within("stress", "50 MPa", "3000 MPa")] = Field(
        description="Specified minimum yield strength of the bush."
    )


class Friction(Frozen):
    least: Number = Field(
        gt=0.0, le=0.6, description="Least friction in the fit; what it holds counts on it."
    )
    most: Number = Field(gt=0.0, le=0.6, description="Most friction in the fit; pressing it in must beat it.")


class Assembly(Frozen):
    room: Temperature = Field(description="Temperature of the parts when measured. 20 degC.")
    clearance: Measured = Field(description="Clearance on the diameter that the shaft needs to drop in.")
    cooled_shaft: Temperature | None = Field(
        default=None, description="Temperature of a cooled shaft, -78 degC in dry ice; left out: not cooled."
    )
    hub_limit: Temperature = Field(
        description="Hottest that the hub may become; under its tempering or coating temperature."
    )


class BoreFit(Frozen):
    fit: Sizes = Field(description="Fit of the pin or shaft in its bore.")
    compare: Sizes | None = Field(
        default=None, description="A second fit to set beside it, such as the old interference fit."
    )
    shaft: Shaft = Field(description="The pin or shaft in the bore.")
    bush: Bush | None = Field(default=None, description="A bush between shaft and arm.")
    hub_expansion: Expansion = Field(
        default=11.7e-6, description="Thermal expansion of the arm. Steel 11.7 um/m/K (common practice)."
    )
    friction: Friction = Field(description="Friction between shaft and bore.")
    roughness_bore: Roughness = Field(default=0.0, description="Rz of the bore; its peaks are smoothed.")
    roughness_shaft: Roughness = Field(default=0.0, description="Rz of the shaft.")
    service: tuple[Temperature, Temperature] = Field(
        description="Coldest and warmest temperature in service, a list of two; unlike materials loosen or tighten."
    )
    assembly: Assembly = Field(description="How the shaft is put in.")


class Surface(Frozen):
    region: Region = Field(description="Named region of the arm's surface.")
    finish: Finish = Field(description="State of the surface there.")


class Weld(Frozen):
    """A weld class at a place. With arm and station the nominal stress of the hand calculation counts, which
    is what EN 1993-1-9 categories are for; without them the mesh's stress all over the region."""

    region: Region = Field(description="Named region in which the weld lies.")
    arm: Literal["input", "output"] | None = Field(default=None, description="Arm on which the weld lies.")
    station: Size | None = Field(default=None, description="Distance of the weld from the pivot's centre.")
    category: Literal[CATEGORIES] | None = Field(  # type: ignore[valid-type]
        default=None, description="EN 1993-1-9:2005 detail category, MPa at 2e6 cycles (nominal stress)."
    )
    fat: Number | None = Field(
        default=None, ge=30.0, le=300.0, description="IIW FAT class instead, for hot-spot or notch stress."
    )
    thickness: Size | None = Field(
        default=None, description="Plate thickness where the size effect applies (transverse butt welds)."
    )
    assessment: Literal["damage tolerant", "safe life"] = Field(
        description="damage tolerant where cracks are looked for, else safe life (EN 1993-1-9 Table 3.1)."
    )
    consequence: Literal["low", "high"] = Field(description="Consequence of failure (EN 1993-1-9 Table 3.1).")


class Fretting(Frozen):
    """Factor on fatigue strength where a pin or shaft rubs in its bore; published values lie from 0.24 to 0.90."""

    least: Number = Field(default=0.24, ge=0.24, le=0.90, description="Worst factor to show.")
    used: Number = Field(ge=0.24, le=0.90, description="Factor on which lives are based.")
    most: Number = Field(default=0.90, ge=0.24, le=0.90, description="Mildest factor to show.")
    clearance: Number | None = Field(
        default=None,
        ge=0.24,
        le=1.0,
        description="Factor where a pin with play rubs; left out: as used. 1 only where tests of the pair show it.",
    )


class MeanStress(Frozen):
    rule: Literal["goodman", "gerber", "morrow", "walker", "swt", "soderberg", "none"] = Field(
        description="Mean-stress rule of unwelded surfaces. goodman is usual; walker or swt for long histories."
    )
    walker_exponent: Number | None = Field(
        default=None, gt=0.0, le=1.0, description="Exponent gamma of walker; left out: from tensile strength."
    )
    true_fracture_strength: Annotated[float, within("stress", "50 MPa", "3000 MPa")] | None = Field(
        default=None, description="True fracture strength of morrow; left out: tensile strength + 345 MPa."
    )
    compression: Literal["lessened", "full"] = Field(
        default="lessened",
        description="What compression counts: lessened (at least 60 %; in full as deposited) or full; not for swt,"
        " walker, none.",
    )


class History(Frozen):
    """A measured signal that runs the stress from one load case (0) to another (1)."""

    title: Text = Field(description="What was measured, where and when.")
    from_case: Name = Field(description="Load case at which the signal is 0.")
    to_case: Name = Field(description="Load case at which the signal is 1.")
    values: Annotated[tuple[Signal, ...], FailFast()] = Field(  # one bad value is enough to say of so many
        min_length=2, max_length=100_000, description="The signal's turning points or samples, 0 to 1 scale."
    )
    times_per_year: Number = Field(gt=0.0, le=1e8, description="How often a year this history comes.")


class Bores(Frozen):
    """The section `bores:` of an arm's file."""

    fits: dict[BoreName, BoreFit] = Field(default={}, description="Fits by bore.")
    surfaces: tuple[Surface, ...] = Field(min_length=1, description="State of every region's surface.")
    welds: tuple[Weld, ...] = Field(default=(), description="Welds on the arm.")
    fretting: Fretting | None = Field(
        default=None,
        description="Pins rub in their bores, tight or loose. Left out: the worst, 0.24.",
    )
    mean_stress: MeanStress = Field(description="How a steady stress counts.")
    reliability: Number = Field(default=0.99, ge=0.5, le=0.999999, description="Share of arms that last.")
    size_factor: Number = Field(
        default=1.0, ge=0.6, le=1.0, description="Marin size factor on local stress: 0.6 to 0.75 over 250 mm."
    )
    histories: tuple[History, ...] = Field(default=(), max_length=20, description="Measured histories.")
