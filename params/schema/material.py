"""A material file: specified minimums, in MPa, kg/mm3 and joules once read; each line names its source."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from params.schema.fields import Frozen, Name, Number, Strength, Text
from params.schema.units import within


class Charpy(Frozen):
    """Specified minimum absorbed energy at a temperature."""

    energy: Annotated[float, within("energy", "1 J", "500 J")]
    temperature: Annotated[float, within("temperature", "-200 degC", "100 degC")]


class Supplementary(Charpy):
    """Absorbed energy that the buyer asks for beyond the specification."""

    practice: Text = Field(description="How it is asked for, and with whom it is agreed.")


class Material(Frozen):
    name: Name
    title: Text = Field(description="Specification and grade as written on an order.")
    form: Literal["cast", "plate", "deposited"] = Field(description="How the part comes to be.")
    yield_strength: Strength = Field(description="Specified minimum.")
    tensile_strength: Strength = Field(description="Specified minimum.")
    elongation_percent: Number = Field(
        gt=0.0, le=100.0, description="Specified minimum over the gauge length."
    )
    elastic_modulus: Annotated[float, within("stress", "10 GPa", "500 GPa")]
    poisson_ratio: Number = Field(ge=0.0, lt=0.5)
    density: Annotated[float, within("density", "1000 kg/m^3", "20000 kg/m^3")]
    charpy: Charpy | None = Field(
        default=None, description="Specified minimum toughness; absent where the specification has none."
    )
    supplementary: Supplementary | None = Field(
        default=None,
        description="Toughness that the buyer asks for at purchase; absent where nothing is asked.",
    )
    source: Text

    def charpy_for(self, coldest: float) -> Charpy | None:
        """What holds at the coldest temperature (degC): the specified minimum, else what is asked for at purchase."""
        asked = (self.charpy, self.supplementary)
        return next((one for one in asked if one and one.temperature <= coldest), None)
