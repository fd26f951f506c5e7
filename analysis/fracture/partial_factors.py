"""Partial factors for a wanted chance of failure, as an option of the failure assessment: on stress, flaw size, toughness, yield.

BS 7910:2013 Annex K, Table K.2, from memory: check it against the standard before use. Toughness is meant as mean minus one
standard deviation, or the lowest of three; stress and size as best estimates.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from analysis.fracture.bodies import Body
from analysis.fracture.fad import Diagram
from analysis.fracture.growth import Service, use
from params.steps.problems import OutOfRange

Floats = NDArray[np.float64]
CHANCES = (2.3e-1, 1e-3, 7e-5, 1e-5)  # of failure; the columns below
# Coefficient of variation: factor for each chance; nan: not practicable.
STRESS = {0.1: (1.05, 1.2, 1.25, 1.3), 0.2: (1.1, 1.25, 1.35, 1.4), 0.3: (1.12, 1.4, 1.5, 1.6)}
SIZE = {
    0.1: (1.0, 1.4, 1.5, 1.7),
    0.2: (1.05, 1.45, 1.55, 1.8),
    0.3: (1.08, 1.5, 1.65, 1.9),
    0.5: (1.15, 1.7, 1.85, 2.1),
}
TOUGHNESS = {0.1: (1.0, 1.3, 1.5, 1.7), 0.2: (1.0, 1.8, 2.6, 3.2), 0.3: (1.0, 2.85, np.nan, np.nan)}
YIELD = (1.0, 1.05, 1.1, 1.2)  # at 0.1


@dataclass(frozen=True)
class PartialFactors:
    """Factors that multiply stress and size and divide toughness and yield strength."""

    stress: float
    size: float
    toughness: float
    yield_: float


def partial_factors(chance: float, stress: float, size: float, toughness: float) -> PartialFactors:
    """Factors of the table's column `chance`; between its variations the next larger counts.

    Raises OutOfRange for a chance that is no column, a variation beyond the table, or a factor that the table does not give.

    >>> partial_factors(1e-3, 0.1, 0.2, 0.2)
    PartialFactors(stress=1.2, size=1.45, toughness=1.8, yield_=1.05)
    """
    if chance not in CHANCES:
        raise OutOfRange(
            f"chance of failure {chance:g} is none of {', '.join(f'{one:g}' for one in CHANCES)} (BS 7910 Annex K)"
        )
    column = CHANCES.index(chance)
    factors = [
        _read(name, table, variation, column)
        for name, table, variation in (
            ("stress", STRESS, stress),
            ("size", SIZE, size),
            ("toughness", TOUGHNESS, toughness),
        )
    ]
    return PartialFactors(factors[0], factors[1], factors[2], YIELD[column])


def _read(name: str, table: dict[float, tuple[float, ...]], variation: float, column: int) -> float:
    rows = [row for row in table if variation <= row + 1e-9]
    if not rows:
        raise OutOfRange(f"variation of {name} {variation:g} is over {max(table):g} (BS 7910 Annex K)")
    value = table[min(rows)][column]
    if np.isnan(value):
        raise OutOfRange(
            f"variation of {name} {variation:g}: no factor for this chance of failure (BS 7910 Annex K)"
        )
    return value


def factored(
    body: Body, sizes: Floats, service: Service, factors: PartialFactors
) -> tuple[float, float, float]:
    """Kr, Lr and the used share of the diagram of one crack (P,) with the factors on; residual stress counts as a stress."""
    large = np.asarray(sizes, float)[:, None] * factors.size
    if not body.inside(large)[0]:
        raise OutOfRange(f"a crack {factors.size:g} times as large is beyond the range of its solution")
    plain = service.diagram
    weak = Diagram(
        plain.yield_strength / factors.yield_,
        plain.tensile_strength / factors.yield_,
        plain.elastic_modulus,
        plain.plateau,
    )
    residual = None if service.residual is None else service.residual * factors.stress
    weaker = replace(service, diagram=weak, residual=residual)
    kr, lr, used = use(body, large, weaker, factors.stress, 1.0 / factors.toughness)
    return float(kr[0]), float(lr[0]), float(used[0])
