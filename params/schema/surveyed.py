"""The section `survey:` of an arm's file: where its sizes come from and how sure they are, for the calculation of chances."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from params.schema.day import Day
from params.schema.fields import Frozen, Name, Text
from params.schema.survey import Measure, SizeName


class SurveyedSize(Frozen):
    uncertainty: Measure = Field(description="Standard uncertainty (one standard deviation).")
    noise: Measure = Field(description="Part from the noise of its points.")
    neighbours: Measure = Field(description="Part from errors that neighbouring points share.")
    coverage: Measure = Field(
        description="Part from what was not seen, so that sizes are bound up with one another."
    )
    instrument: Measure = Field(description="Part from the instrument's scale and offset.")


class Bound(Frozen):
    one: SizeName = Field(description="A size.")
    other: SizeName = Field(description="Another size.")
    correlation: Annotated[float, Field(strict=True, allow_inf_nan=False, ge=-1.0, le=1.0)] = Field(
        description="Correlation of their errors."
    )


class Surveyed(Frozen):
    name: Name = Field(description="Folder in params/surveys.")
    day: Day = Field(description="Day of the scan.")
    source: Text = Field(description="What was scanned, with what.")
    sizes: dict[SizeName, SurveyedSize] = Field(description="Standard uncertainties by size.")
    bound: tuple[Bound, ...] = Field(
        default=(), max_length=300, description="Errors that go together, 0.3 and more."
    )
