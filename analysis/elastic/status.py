"""How a solve ended, and what to do about it."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum


class Status(Enum):
    """Value: advice to the person who reads it."""

    OK = "nothing to do"
    LOOSE_PART = "the mesh is in more than one piece: join the solids before meshing"
    INVERTED = "an element is turned inside out: mesh again with other sizes near the place named"
    NOT_POSITIVE_DEFINITE = "the stiffness is singular: look for a flat element or a missing support"
    ITERATIONS_EXHAUSTED = (
        "conjugate gradients did not settle and there was no memory for the direct solver: refine thin plates"
    )
    RESIDUAL_TOO_LARGE = "the equations are not solved to tolerance: look for slivers in the mesh"
    CONTACT_UNSETTLED = "the contact did not settle: mesh the bore finer, allow more passes, or look for a pin that nothing presses"
    OUT_OF_MEMORY = "the model needs more memory than is free: take larger elements or another machine"


@dataclass(frozen=True)
class Figures:
    """What a solve did. Lengths of the tuples: one for each load case."""

    method: str = ""
    unknowns: int = 0
    iterations: int = 0
    residual: tuple[float, ...] = ()  # |K u - f| / |f| over the free unknowns
    reaction: tuple[
        float, ...
    ] = ()  # largest support reaction over the largest sum of applied loads' magnitudes
    energy: tuple[float, ...] = ()  # strain energy, N mm
    seconds: dict[str, float] | None = None
    peak_bytes: int = 0
    note: str = ""
