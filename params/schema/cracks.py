"""What a parameter file may say of cracks: found ones, toughness, growth, scatter, inspection, outage.

Sections `found_cracks:` and `cracks:` of an arm's file. Every quantity is text with its unit in the file and a
float in N, mm, MPa, J and degrees C once read; days are written year-month-day.
"""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from params.schema.bores import Region, Temperature
from params.schema.day import Day
from params.schema.fields import Frozen, Name, Number, Size, Text, Whole
from params.schema.units import within

Crack = Annotated[float, within("length", "0.05 mm", "5 m")]
Energy = Annotated[float, within("energy", "1 J", "500 J")]
Shape = Literal["surface", "corner", "edge", "through", "hole-through"]
Turn = Annotated[float, within("angle", "-360 deg", "360 deg")]
Residual = Annotated[float, within("stress", "0 MPa", "1500 MPa")]
Variation = Annotated[float, Field(strict=True, allow_inf_nan=False, ge=0.0, le=1.0)]


class CrackSection(Frozen):
    """The plate that a crack runs in."""

    thickness: Size = Field(description="Wall in which the depth runs.")
    width: Size = Field(description="Full width across the crack's length; at a hole, of the whole strip.")


class FoundCrack(Frozen):
    name: Name = Field(description="What the report calls it.")
    region: Region = Field(description="Named region of the arm's surface on which it was found.")
    shape: Shape = Field(
        description="surface: half an ellipse in a face; corner: a quarter of one at the bore's edge; edge:"
        " straight along an edge; through: through the wall; hole-through: through the hub from the bore."
    )
    length: Crack = Field(
        description="Length on the face as measured, all of it; for corner and hole-through from the bore's edge."
    )
    depth: Crack | None = Field(
        default=None,
        description="Depth, of surface, corner (along the bore) and edge cracks; by ultrasonics.",
    )
    angle: Turn | None = Field(
        default=None,
        description="At a bore: where about it, counter-clockwise from the output arm. Left out: where the stress varies most.",
    )
    found: Day = Field(description="Day on which it was measured.")
    section: CrackSection | None = Field(
        default=None, description="Plate that it runs in. Left out: the hub or boss of its region."
    )


# Least single value over the mean of three with which impact tests of steel are accepted (EN 10025-1, from memory).
SINGLE = 0.7


class CharpyPoint(Frozen):
    temperature: Temperature = Field(description="Test temperature.")
    energy: Energy = Field(description="Absorbed energy there, mean of three.")
    lowest: Energy | None = Field(
        default=None,
        description="Lowest single value of the three. Left out: 0.7 of the mean, the least that is accepted.",
    )


class Toughness(Frozen):
    charpy: tuple[CharpyPoint, ...] = Field(
        min_length=1, max_length=50, description="Charpy energies, coldest first. Straight between them."
    )
    held_when_warmer: bool = Field(
        default=False,
        strict=True,
        description="true for a specified minimum, which holds at every warmer temperature too.",
    )
    method: Literal["lower bound", "transition", "upper shelf"] = Field(
        default="lower bound",
        description="lower bound: BS 7910 Annex J, from the lowest values; transition, upper shelf: Barsom and Rolfe, from"
        " means, in their range.",
    )
    reference_temperature: Temperature | None = Field(
        default=None, description="T0 of the master curve by ASTM E1921; used in place of Charpy where given."
    )

    @property
    def counted(self) -> list[float]:
        """The energies that the method asks for, J: the lowest of each set for a lower bound (BS 7910 Annex J), else the means."""
        if self.method != "lower bound":
            return [point.energy for point in self.charpy]
        return [SINGLE * point.energy if point.lowest is None else point.lowest for point in self.charpy]


Environment = Literal["air", "marine", "marine with protection"]
Year = Annotated[int, Field(strict=True, ge=1800, le=2200)]


class Spell(Frozen):
    """A time in which the old arm worked otherwise than the duty of this file says."""

    from_year: Year = Field(
        description="First year of it; it lasts to the next one's, the last to the finding."
    )
    cycles: Number = Field(
        gt=0.0, le=100.0, description="Cycles a year as a share of the duty's; 1 as the duty."
    )
    load: Number = Field(
        default=1.0, ge=0.1, le=3.0, description="Its loads as a share of the duty's; 1 as the duty."
    )


class OldArm(Frozen):
    """The cracked arm where this file describes its replacement."""

    material: Name = Field(
        description="File in params/materials of what the cracked arm is made of, without .yaml."
    )
    toughness: Toughness = Field(description="What that material stands, from samples of the old arm.")
    residual_stress: Residual | None = Field(
        default=None,
        description="Residual membrane stress at the found cracks: 0 after stress relief, measured, or up to yield strength as"
        " cast or welded. Results stand at none, at this and at yield; left out, at none and at yield, where yield counts.",
    )
    in_service: Year | None = Field(
        default=None,
        description="Year in which it went into service. Needed to say whether the duty explains a found crack.",
    )
    history: tuple[Spell, ...] = Field(
        default=(),
        max_length=20,
        description="How it worked over the years, earliest first, where not as the duty says; before the first, as the duty.",
    )
    environment: Environment = Field(
        default="air",
        description="What reaches the found cracks: air (painted, greased); marine: sea water or spray, corroding freely;"
        " marine with protection: sea water with cathodic protection.",
    )


class Scatter(Frozen):
    """Coefficients of variation (standard deviation over mean) of each."""

    load: Variation = Field(description="Of the stress: load, friction, model. 0.05 to 0.15.")
    size: Variation = Field(description="Of the measured size. 0.1 to 0.3 by ultrasonics.")
    growth: Variation = Field(description="Of the growth constant. 0.2 to 0.6.")
    toughness: Variation | Literal["weibull"] = Field(
        description="Of toughness, or weibull: shape 4 above 20 MPa m^0.5 (ASTM E1921)."
    )
    fractile: Number = Field(
        default=0.05,
        gt=0.0,
        lt=1.0,
        description="Share of toughness values below the one used. 0.05 for a bound.",
    )
    samples: Whole = Field(default=20_000, ge=1000, le=1_000_000, description="Cracks drawn.")
    seed: Whole = Field(default=1, ge=0, le=2**32 - 1, description="Same seed, same figures.")


class Examination(Frozen):
    method: Literal["radiography", "ultrasonics", "magnetic particle", "penetrant", "visual"] = Field(
        description="How flaws are looked for."
    )
    depth: Crack = Field(description="Depth of the smallest flaw that it is trusted to find there.")
    length: Crack = Field(description="Length of that flaw on the face.")
    source: Text = Field(description="Where the two sizes come from: procedure, trial, or common practice.")


class Inspection(Frozen):
    examinations: tuple[Examination, ...] = Field(
        min_length=1, max_length=20, description="Methods to compare."
    )
    factor_on_life: Number = Field(
        default=2.0,
        ge=1.0,
        le=20.0,
        description="Life over interval. 2: a flaw missed once is still found next time.",
    )
    service_years: Number = Field(
        gt=0.0, le=500.0, description="Years that a flaw left in the new arm must last."
    )


class Partial(Frozen):
    """Partial factors on the failure assessment of found cracks."""

    chance: Literal["2.3e-1", "1e-3", "7e-5", "1e-5"] = Field(
        description="Chance of failure aimed at, a column of BS 7910 Annex K."
    )
    stress: Variation = Field(description="Coefficient of variation of the stress, up to 0.3.")
    size: Variation = Field(description="Of the measured size, up to 0.5.")
    toughness: Variation = Field(description="Of toughness, up to 0.3.")


class Cracks(Frozen):
    """The section `cracks:` of an arm's file."""

    coldest: Temperature = Field(description="Coldest temperature of the arm under its highest load.")
    toughness: Toughness = Field(description="What the arm's material stands.")
    growth: Literal[
        "simplified", "two-stage mean", "two-stage upper", "ferrite-pearlite", "martensitic", "austenitic"
    ] = Field(
        default="two-stage upper",
        description="Growth law, steel in air. two-stage upper is BS 7910's mean + 2 standard deviations.",
    )
    residual_stress: Residual | None = Field(
        default=None,
        description="Residual membrane stress at the crack. Yield strength as welded, 0 after stress relief. Left out: none for"
        " flaws of the new arm, and they say so; found cracks without old_arm as there.",
    )
    yield_plateau: bool = Field(
        default=False, strict=True, description="true where the steel yields with a plateau: a lower diagram."
    )
    old_arm: OldArm | None = Field(
        default=None, description="The cracked arm, where it is of another material than this file's."
    )
    scatter: Scatter | None = Field(
        default=None, description="Needed for the chance of lasting to the outage."
    )
    partial_factors: Partial | None = Field(
        default=None, description="Failure assessment with partial factors beside the plain one."
    )
    inspection: Inspection | None = Field(
        default=None, description="Needed for intervals and acceptable flaws."
    )
