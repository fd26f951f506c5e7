"""How the old arm worked from the year it went into service to the day a crack was found: spells of cycles and loads."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date

from params.schema.cracks import OldArm


@dataclass(frozen=True)
class Worked:
    """One spell: years since the arm went into service at its two ends, cycles and loads as shares of the duty's."""

    begin: float
    end: float
    cycles: float = 1.0
    load: float = 1.0


@dataclass(frozen=True)
class Past:
    """Years from going into service to the finding, and the spells; the last goes on without end."""

    years: float
    spells: tuple[Worked, ...]

    def after(self, since: float) -> Iterator[Worked]:
        """The spells from some year on, the first cut off there."""
        for spell in self.spells:
            if spell.end > since:
                yield Worked(max(spell.begin, since), spell.end, spell.cycles, spell.load)


def past(old: OldArm, found: date) -> Past | None:
    """What the file says; None where it does not say when the arm went into service."""
    if old.in_service is None:
        return None
    starts = [(float(spell.from_year), spell.cycles, spell.load) for spell in old.history]
    if not starts or starts[0][0] > old.in_service:
        starts = [(float(old.in_service), 1.0, 1.0), *starts]
    begins = [year - old.in_service for year, _, _ in starts]
    ends = [*begins[1:], math.inf]
    spells = (Worked(b, e, c, f) for b, e, (_, c, f) in zip(begins, ends, starts, strict=True))
    return Past(since(old.in_service, found), tuple(spells))


def since(year: int, day: date) -> float:
    """Years from the first day of a year to a day."""
    length = (date(day.year + 1, 1, 1) - date(day.year, 1, 1)).days
    return day.year - year + (day - date(day.year, 1, 1)).days / length
