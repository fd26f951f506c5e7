"""Description of a clause, and its result."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import Any

import numpy as np
from numpy.typing import ArrayLike, NDArray

Number = Any  # a float, or an array of them


@dataclass(frozen=True)
class Outcome:
    """Demand against capacity, broadcastable arrays in the clause's kind of quantity; larger capacity is better."""

    demand: Any
    capacity: Any
    symbols: Mapping[str, Any] = field(default_factory=dict)  # what the function derived, by symbol
    in_range: Any = True
    note: str = ""  # why it is out of range, where it is
    bound: str = ""  # what is out of range and the conservative bound used instead, where there is one


@dataclass(frozen=True)
class Clause:
    """Description of a check, as a record prints it."""

    check: str
    what: str
    equation: str
    kind: str  # of demand and capacity: force, stress, moment, length or "-"
    symbols: Mapping[str, tuple[str, str]]  # symbol: meaning, kind or unit
    limits: str
    reference: str
    working: tuple[str, ...] = ()  # the equation as lines of `worked.working`, demand and capacity at the end
    drive: bool = False  # a check of the drive, not of the arm


def clause(
    check: str,
    what: str,
    equation: str,
    kind: str,
    symbols: Mapping[str, tuple[str, str]],
    limits: str,
    reference: str,
    working: tuple[str, ...] = (),
    drive: bool = False,
) -> Callable[[Callable[..., Outcome]], Callable[..., Outcome]]:
    """Attach a `Clause` to a clause function; `of` returns it."""
    definition = Clause(check, what, equation, kind, symbols, limits, reference, working, drive)

    def attach(function: Callable[..., Outcome]) -> Callable[..., Outcome]:
        function.__dict__["clause"] = definition
        return function

    return attach


def of(function: Callable[..., Outcome]) -> Clause:
    """The clause of a decorated function."""
    return function.__dict__["clause"]


def within(value: ArrayLike, least: float, most: float) -> NDArray[np.bool_]:
    """Whether values lie in a closed range."""
    value = np.asarray(value)
    return (value >= least) & (value <= most)
