"""Kinds of fields in parameter files: quantities with bounds, numbers, names, texts."""

from __future__ import annotations

from typing import Annotated

from pydantic import BaseModel, ConfigDict, Field, StringConstraints

from params.schema.units import within

Size = Annotated[float, within("length", "1 mm", "20 m")]
Fine = Annotated[float, within("length", "0 mm", "1 m")]
Place = Annotated[float, within("length", "-50 m", "50 m")]
Turn = Annotated[float, within("angle", "-360 deg", "360 deg")]
Included = Annotated[float, within("angle", "90 deg", "180 deg")]
Force = Annotated[float, within("force", "0 N", "100 MN")]
Moment = Annotated[float, within("moment", "0 N*m", "500 MN*m")]
Pressure = Annotated[float, within("stress", "0.1 MPa", "100 MPa")]
Strength = Annotated[float, within("stress", "50 MPa", "3000 MPa")]
Number = Annotated[float, Field(strict=True, allow_inf_nan=False)]
Whole = Annotated[int, Field(strict=True)]
Name = Annotated[str, StringConstraints(pattern=r"^[a-z][a-z0-9_-]{0,39}$")]
Revision = Annotated[str, StringConstraints(pattern=r"^[A-Z0-9][A-Z0-9.-]{0,7}$")]
Text = Annotated[str, StringConstraints(min_length=1, max_length=4000)]


class Frozen(BaseModel):
    """A closed, frozen record: an unknown key is an error."""

    model_config = ConfigDict(frozen=True, extra="forbid")
