"""A material file: specified minimums, in MPa, kg/mm3 and joules once read; the source stands on each line of the file."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from params.arm import Frozen, Name, Text
from params.units import Quantity


class Charpy(Frozen):
    """Specified minimum absorbed energy at a temperature."""

    energy: Quantity("energy", "1 J", "500 J")
    temperature: Quantity("temperature", "-200 degC", "100 degC")


class Material(Frozen):
    name: Name
    title: Text = Field(description="Specification and grade as written on an order.")
    form: Literal["cast", "plate", "deposited"] = Field(description="How the part comes to be.")
    yield_strength: Quantity("stress", "50 MPa", "3000 MPa")
    tensile_strength: Quantity("stress", "50 MPa", "3000 MPa")
    elongation_percent: Annotated[float, Field(gt=0.0, le=100.0)]
    elastic_modulus: Quantity("stress", "10 GPa", "500 GPa")
    poisson_ratio: Annotated[float, Field(ge=0.0, lt=0.5)]
    density: Quantity("density", "1000 kg/m^3", "20000 kg/m^3")
    charpy: Charpy | None = Field(default=None, description="Specified minimum toughness; absent where the specification has none.")
    source: Text
