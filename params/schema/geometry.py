"""What a parameter file says of the arm's shape: arms, hub and bosses with their pins, section."""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from params.schema.fields import Fine, Frozen, Included, Size, Strength

ARMS = ("input", "output")
BoreName = Literal["pivot", "input", "output"]
BORES: tuple[BoreName, ...] = ("pivot", "input", "output")  # by the pin that each holds


class Pin(Frozen):
    diameter: Size = Field(
        description="Diameter of the pin or shaft. Nominal size; at most the bore, or 0.3 % above it for a"
        " shrunk fit.",
    )
    yield_strength: Strength = Field(
        description="Specified minimum yield strength of the pin, from its order."
    )
    tensile_strength: Strength = Field(
        description="Specified minimum tensile strength of the pin, from its order."
    )
    side_plate: Size = Field(
        description="Thickness of each supporting plate or bearing beside the arm, along the pin. Measure it."
    )
    gap: Fine = Field(
        description="Gap between hub or boss face and the supporting plate, each side. Measure it."
    )


class Bore(Frozen):
    bore: Size = Field(
        description="Diameter of the bore in the finished arm. As on the old arm, so that pins fit."
    )
    outside: Size = Field(
        description="Outside diameter of the hub or boss about the bore. Twice the bore is usual; at least"
        " 4/3 of it.",
    )
    width: Size = Field(
        description="Width of the hub or boss along the pin. The space between the plates less two gaps;"
        " no narrower than the section."
    )
    chamfer: Fine = Field(
        description="45 degree chamfer at both ends of the bore. Some hundredths of the bore."
    )
    pin: Pin = Field(description="The pin or shaft that passes through this bore.")


class Section(Frozen):
    kind: Literal["i", "box", "solid"] = Field(
        description="i: two flanges and a web; box: two flanges and two webs; solid: a bar."
        " A box where side load or twist is large."
    )
    depth_at_hub: Size = Field(
        description="Depth of both arms where they meet the hub circle. A fifth to a third of the longer arm;"
        " below the hub's diameter."
    )
    depth_at_pins: Size = Field(
        description="Depth of both arms at the pin centres (the taper is straight). About the boss diameter."
    )
    width: Size = Field(
        description="Width of the section along z: of the flanges (i), over the webs (box), of the bar"
        " (solid). Half the depth or less."
    )
    flange_thickness: Size | None = Field(
        default=None, description="Thickness of each flange (i and box). Carries most of the bending moment."
    )
    web_thickness: Size | None = Field(
        default=None, description="Thickness of the web (i) or of each web (box). Carries the shear force."
    )
    fillet: Fine | None = Field(
        default=None,
        description="Radius between web and flange (i), or inside corner in plan (box). As cast, or the"
        " weld's leg.",
    )


class Geometry(Frozen):
    input_arm: Size = Field(description="Pivot centre to input pin centre. Survey it on the old arm.")
    output_arm: Size = Field(description="Pivot centre to output pin centre. Survey it on the old arm.")
    included_angle: Included = Field(description="Angle between the two arms at the pivot; 180 deg: in line.")
    blend_radius: Fine = Field(
        description="Radius in the elevation where arm edges run into hub and bosses. As large as the space"
        " allows; made smaller where it does not fit."
    )
    pivot: Bore = Field(description="The hub about the pivot bore.")
    input: Bore = Field(description="The boss at the cylinder's pin.")
    output: Bore = Field(description="The boss at the load's pin.")
    section: Section = Field(description="The section of both arms.")
