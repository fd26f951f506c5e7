"""How a solve ended, and what to do then."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum


class Status(Enum):
    """Value: what the reader should do."""

    OK = "nothing to do"
    LOOSE_PART = "the mesh is in more than one piece: join the solids before meshing"
    INVERTED = "an element is turned inside out: mesh again with another element size there"
    NOT_POSITIVE_DEFINITE = "the stiffness is singular: check for a flat element or a missing support"
    ITERATIONS_EXHAUSTED = (
        "conjugate gradients did not converge, and memory is short for the direct solver: refine thin plates"
    )
    RESIDUAL_TOO_LARGE = "the equations are not solved to tolerance: check the mesh for flat elements"
    CONTACT_UNSETTLED = "the contact did not settle: mesh the bore finer, allow more passes, or check that every pin is loaded"
    OUT_OF_MEMORY = (
        "the model needs more memory than is free: use larger elements or a machine with more memory"
    )


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
