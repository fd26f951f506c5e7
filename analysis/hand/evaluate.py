"""The hand calculation of one arm or of many designs at once.

Margins are capacity / demand - 1; each check is taken at its worst position of the swing and its worst station.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import ArrayLike, NDArray

from analysis.clauses.applied import Checked
from analysis.hand.checks import checks
from analysis.mechanics.response import Response, response
from analysis.mechanics.sizes import Sizes, unbuildable
from analysis.mechanics.statics import swing
from params.schema.arm import Arm
from params.schema.material import Material
from params.steps.arrays import Floats
from params.steps.out_of_range import STATUS as OUT_OF_RANGE
from params.steps.out_of_range import joined

POSITIONS = 41


@dataclass(frozen=True)
class Row:
    """One row of checks.csv for one design: its worst position and station, in internal units."""

    check: Checked
    load_case: str
    demand: float
    capacity: float
    margin: float
    status: str
    note: str
    symbols: dict[str, float]
    fraction: float | None
    station: float | None


@dataclass(frozen=True)
class Hand:
    """The hand calculation of D designs."""

    response: Response
    checked: tuple[Checked, ...]
    mass: Floats  # (D,) kg
    margin: Floats  # (D,) least over the checks of the arm, and over those of the drive that fail
    governing: NDArray[np.str_]  # (D,) check at place, load case
    reason: NDArray[np.str_]  # (D,) why the design cannot be built or judged; empty where it can

    def rows(self, design: int = 0) -> list[Row]:
        """Every check in every load case for one design."""
        return [row for checked in self.checked for row in rows(self.response, checked, design)]


def evaluate(
    arm: Arm, material: Material, sizes: Sizes | None = None, fraction: ArrayLike | None = None
) -> Hand:
    """Every check of every design, load case and position at once.

    Parameters
    ----------
    sizes
        D designs; the arm as written by default.
    fraction
        positions of the swing, (P,) or (C, P); 41 even ones by default.
    """
    sizes = Sizes.from_arm(arm) if sizes is None else sizes
    now = response(arm, material, sizes, swing(POSITIONS) if fraction is None else fraction)
    done = tuple(checks(now))
    margin, governing = least(arm, done, len(sizes))
    reason = unbuildable(arm, sizes)
    for checked in done:
        if not np.all(checked.outcome.in_range):
            inside = np.broadcast_to(
                checked.outcome.in_range, np.broadcast_shapes(checked.demand.shape, checked.capacity.shape)
            )
            beyond = np.broadcast_to(~inside.all(axis=(1, 2, 3)), reason.shape)
            reason[beyond & (reason == "")] = f"{checked.clause.check}: {checked.outcome.note}"[:60]
    return Hand(now, done, now.mass.total, margin, governing, reason)


def least(arm: Arm, done: tuple[Checked, ...], designs: int) -> tuple[Floats, NDArray[np.str_]]:
    """Least margin of each design and what governs it; a check of the drive counts only where it fails."""
    cases = list(arm.load_cases)
    used = np.empty((designs, len(done), len(cases)))
    for index, checked in enumerate(done):
        most = checked.most_used
        used[:, index] = np.where(most > 1.0, most, -np.inf) if checked.clause.drive else most
    used = used.reshape(designs, -1)
    names = np.array(
        [
            f"{checked.clause.check} at {checked.place}, {name_of(checked, case)}"
            for checked in done
            for case in cases
        ]
    )
    worst = np.argmax(used, axis=1)
    return 1.0 / np.maximum(used[np.arange(designs), worst], 1e-9) - 1.0, names[worst]


def name_of(checked: Checked, case: str) -> str:
    return case if checked.demand.shape[1] > 1 else "any case"


def rows(now: Response, checked: Checked, design: int) -> Iterator[Row]:
    """The worst position and station of each load case."""
    kinds = [case.kind for case in now.arm.load_cases.values()]
    for index in range(checked.used.shape[1]):
        if not (checked.clause.drive and kinds[index] == "blocked"):
            yield row(now, checked, min(design, len(checked.used) - 1), index)


def row(now: Response, checked: Checked, design: int, case: int) -> Row:
    """One load case at its worst position and station."""
    names, used = list(now.arm.load_cases), checked.used
    position, station = np.unravel_index(np.argmax(used[design, case]), used.shape[2:])
    inside = np.broadcast_to(np.asarray(checked.outcome.in_range, dtype=bool), used.shape)[design, case].all()

    def value(item: Any) -> float:
        return float(
            np.broadcast_to(np.asarray(item, dtype=float), used.shape)[design, case, position, station]
        )

    demand, capacity = value(checked.demand), value(checked.capacity)
    nothing_asked = np.nan if np.isnan(capacity) else np.inf
    margin = capacity / demand - 1.0 if demand > 0.0 else nothing_asked
    return Row(
        checked,
        names[case] if used.shape[1] > 1 or len(names) == 1 else "any",
        demand,
        capacity,
        margin,
        status(margin, bool(inside), checked.outcome.bound),
        joined("" if inside else checked.outcome.note, checked.outcome.bound),
        {name: value(item) for name, item in checked.symbols.items()},
        float(now.statics.fraction[case, position]) if used.shape[2] > 1 else None,
        value(checked.where) if checked.where is not None else None,
    )


def status(margin: float, inside: bool, bound: str) -> str:
    """A check by a conservative bound that does not hold fails; one that holds is out of range with its margin."""
    if inside and not margin >= 0.0:  # nan is no pass
        return "fails"
    return OUT_OF_RANGE if bound or not inside else "ok"
