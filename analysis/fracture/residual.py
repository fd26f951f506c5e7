"""Residual stress at a crack: the cases that a result is shown at, and which one counts."""

from __future__ import annotations

from dataclasses import dataclass

NONE, STATED, YIELD = "none", "stated", "yield-limited"
UNSAID = (
    "residual stress not stated in the file: shown at none and at yield strength, which counts until it is"
)


@dataclass(frozen=True)
class Case:
    """One residual membrane stress, MPa; `governs` where results rest on it."""

    name: str
    stress: float
    governs: bool


def cases(stated: float | None, yield_strength: float) -> list[Case]:
    """None, what the file states, and yield strength: the usual bounds (BS 7910:2013 7.1.8, as welded: yield strength).

    Of a stated value more than yield strength counts as yield strength: no residual stress holds beyond.
    """
    if stated is None:
        return [Case(NONE, 0.0, False), Case(YIELD, yield_strength, True)]
    kept = min(stated, yield_strength)
    return [Case(NONE, 0.0, False), Case(STATED, kept, True), Case(YIELD, yield_strength, False)]
