"""linkage.json: outline of the arm, and where the linkage stands and what acts on the arm, for free body and page.

Outline in the arm's frame; the rest in the world's frame, y up; mm, rad. The hand calculation writes it.
"""

from __future__ import annotations

from params.steps.contract import Contract, OfCases, Plane

Circle = tuple[float, float, float, float]  # x and y of the centre, radius outside, radius of the bore


class Body(Contract):
    limbs: tuple[tuple[Plane, ...], ...]  # corners of input and output arm
    circles: tuple[Circle, Circle, Circle]  # pivot, input, output


class Anchors(Contract):
    """Fixed ends of cylinder and link, and the sizes that draw the cylinder."""

    cylinder: Plane
    closed_length: float
    bore: float
    rod: float
    link: Plane | None  # none where the load has no link


class Swing(Contract):
    """One load case: a value for each position of stroke.csv."""

    phi: tuple[float, ...]  # of the output arm above the horizontal
    input: tuple[Plane, ...]
    output: tuple[Plane, ...]
    weight_at: tuple[Plane, ...]
    forces: dict[str, tuple[Plane, ...]]  # of input, output, pivot and weight, in `unit`


class LinkageFile(OfCases):
    unit: str  # of the forces
    cases: dict[str, Swing]
    body: Body
    anchors: Anchors
    largest: float  # force of all, in `unit`
    longest: float  # its arrow
    extent: tuple[float, float, float, float]  # least x and y, largest x and y of all that is drawn
