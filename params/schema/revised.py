"""The revision table of an arm: what changed, when, why, by whom, and the figures of the part that was replaced."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field, StringConstraints

from params.schema.day import Day
from params.schema.fields import Frozen, Name, Number, Revision
from params.schema.units import within

Mass = Annotated[float, within("mass", "0 kg", "10000 t")]
Line = Annotated[str, StringConstraints(min_length=1, max_length=200)]
Mark = Annotated[str, StringConstraints(pattern=r"^[a-z0-9][a-z0-9_-]{0,59}$")]


class Figures(Frozen):
    """What was found of a part; margins are capacity over demand less one."""

    mass: Mass = Field(description="Mass by hand.")
    hand_margin: Number = Field(ge=-1.0, le=1e6, description="Least margin by hand: 0.1 is 10 %.")
    mesh_margin: Number = Field(ge=-1.0, le=1e6, description="Least margin by mesh.")
    governing: Line = Field(description="The check with the least margin of both.")


class Revised(Frozen):
    """One row of the revision table."""

    revision: Revision = Field(description="The revision that this row made.")
    date: Day = Field(description="Its date of issue, 2027-01-31.")
    reason: Line = Field(description="Why.")
    by: Line | None = Field(default=None, description="Who decided it.")
    design: Mark | None = Field(
        default=None,
        description="Design of the sweep that it adopted, such as d000012, or a route's best, such as cast-d000012.",
    )
    route: Name | None = Field(default=None, description="Route by which the part is made since.")
    confirmed: bool = Field(
        default=True, strict=True, description="false where it was adopted before a mesh had judged it."
    )
    before: Figures | None = Field(
        default=None, description="Figures of the part that it replaced, as last computed."
    )
