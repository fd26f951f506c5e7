"""workings.json and substitutions.json: what the record prints of the hand calculation. The hand calculation writes both."""

from __future__ import annotations

from params.steps.contract import Contract


class Number(Contract):
    """A symbol and its number as printed: `printed` times ten to the power of `power`, in `unit`."""

    symbol: str
    meaning: str
    printed: str
    power: int
    unit: str


class Step(Number):
    """A line of a working: what it gives, the arithmetic of symbols, and the condition under which it applies."""

    expression: str
    when: str


class Working(Contract):
    """Given numbers, and lines that each follow from the numbers above it."""

    given: tuple[Number, ...]
    lines: tuple[Step, ...]


class CheckWorking(Working):
    """A check at the place and in the load case of its least margin; the last lines are demand, capacity and margin."""

    check: str
    place: str
    load_case: str


class SectionWorking(Contract):
    place: str
    working: Working


class CaseWorking(Contract):
    """A governing load case: balance of the whole arm, and both arms (by name) at the hub edge."""

    case: str
    statics: Working
    hub_edge: dict[str, Working]


class WorkingsFile(Contract):
    caution: str
    checks: tuple[CheckWorking, ...]
    sections: tuple[SectionWorking, ...]
    cases: tuple[CaseWorking, ...]


class Symbol(Contract):
    """A symbol of a clause with its number in the units of the arm's tables."""

    symbol: str
    meaning: str
    value: float | None  # none where it is not finite
    unit: str


class Substitution(Contract):
    """A row of checks.csv with its clause in full; a number that is not finite is none."""

    check: str
    place: str
    load_case: str
    demand: float | None
    capacity: float | None
    unit: str
    margin: float | None
    clause: str
    status: str
    note: str
    what: str
    equation: str
    limits: str
    symbols: tuple[Symbol, ...]


class SubstitutionsFile(Contract):
    caution: str
    rows: tuple[Substitution, ...]
