"""The hand calculation of one arm or of many designs at once: `python -m analysis.hand ARM.yaml DIR` writes its tables.

Margins are capacity / demand - 1; each check is taken at its worst position of the swing and its worst station.
"""

from __future__ import annotations

import sys
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import ArrayLike, NDArray

from analysis.checked import Checked
from analysis.checks import checks
from analysis.sizes import Sizes, unbuildable
from analysis.state import State, state
from analysis.statics import swing
from params.arm import Arm
from params.material import Material
from params.out_of_range import STATUS as OUT_OF_RANGE
from params.out_of_range import joined
from params.plainly import plainly

Floats = NDArray[np.float64]
POSITIONS = 41
FLAT = 2e-3  # share of a check's demand that a sweep may miss between the positions it looks at
CHUNK = 2048  # designs at once in a sweep: more spend memory, fewer the time of calls


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

    state: State
    checked: tuple[Checked, ...]
    mass: Floats  # (D,) kg
    margin: Floats  # (D,) least over the checks of the arm, and over those of the drive that fail
    governing: NDArray[np.str_]  # (D,) check at place, load case
    reason: NDArray[np.str_]  # (D,) why the design cannot be built or judged; empty where it can

    def rows(self, design: int = 0) -> list[Row]:
        """Every check in every load case for one design."""
        return [row for checked in self.checked for row in rows(self.state, checked, design)]


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
    now = state(arm, material, sizes, swing(POSITIONS) if fraction is None else fraction)
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


def rows(now: State, checked: Checked, design: int) -> Iterator[Row]:
    """The worst position and station of each load case."""
    kinds = [case.kind for case in now.arm.load_cases.values()]
    for index in range(checked.used.shape[1]):
        if not (checked.clause.drive and kinds[index] == "blocked"):
            yield row(now, checked, min(design, len(checked.used) - 1), index)


def row(now: State, checked: Checked, design: int, case: int) -> Row:
    """One load case at its worst position and station."""
    names, used = list(now.arm.load_cases), checked.used
    position, station = np.unravel_index(np.argmax(used[design, case]), used.shape[2:])
    inside = np.broadcast_to(np.asarray(checked.outcome.in_range, dtype=bool), used.shape)[design, case].all()

    def value(item: Any) -> float:
        return float(
            np.broadcast_to(np.asarray(item, dtype=float), used.shape)[design, case, position, station]
        )

    demand, capacity = value(checked.demand), value(checked.capacity)
    margin = capacity / demand - 1.0 if demand > 0.0 or np.isnan(capacity) else np.inf
    return Row(
        checked, names[case] if used.shape[1] > 1 or len(names) == 1 else "any", demand, capacity, margin,
        status(margin, bool(inside), checked.outcome.bound),
        joined("" if inside else checked.outcome.note, checked.outcome.bound),
        {name: value(item) for name, item in checked.symbols.items()},
        float(now.statics.fraction[case, position]) if used.shape[2] > 1 else None,
        value(checked.where) if checked.where is not None else None,
    )  # fmt: skip


def status(margin: float, inside: bool, bound: str) -> str:
    """A check by a conservative bound that does not hold fails; one that holds is out of range with its margin."""
    if inside and not margin >= 0.0:  # nan is no pass
        return "fails"
    return OUT_OF_RANGE if bound or not inside else "ok"


@dataclass(frozen=True)
class Least:
    """What a sweep keeps of D designs: as in `Hand`, without the arrays behind it."""

    mass: Floats
    margin: Floats
    governing: NDArray[np.str_]
    reason: NDArray[np.str_]


class Screener:
    """Least margin, what governs, mass and feasibility of many designs, at the positions that govern the arm as written."""

    def __init__(self, arm: Arm, material: Material) -> None:
        self.arm, self.material = arm, material
        self.fraction = governing_positions(evaluate(arm, material))

    def __call__(self, sizes: Sizes) -> Least:
        """Mass, least margin, what governs and feasibility of D designs."""
        parts = [self._part(sizes[start : start + CHUNK]) for start in range(0, len(sizes), CHUNK)]
        return Least(
            *(np.concatenate([getattr(part, name) for part in parts]) for name in Least.__annotations__)
        )

    def _part(self, sizes: Sizes) -> Least:
        hand = evaluate(self.arm, self.material, sizes, self.fraction)
        return Least(hand.mass, hand.margin, hand.governing, hand.reason)


def governing_positions(written: Hand) -> Floats:
    """Fractions (C, P) of the swing, few for each case, at which every check comes within `FLAT` of its worst for this arm."""
    fraction = written.state.statics.fraction
    tables = [checked.used[0].max(axis=2) for checked in written.checked if checked.demand.shape[2] > 1]
    by_case = [
        np.stack([table[case] for table in tables if np.any(table[case] > 0.0)])
        for case in range(len(fraction))
    ]
    chosen = [cover(used >= (1.0 - FLAT) * used.max(axis=1, keepdims=True)) for used in by_case]
    most = max(len(positions) for positions in chosen)
    padded = [positions + positions[-1:] * (most - len(positions)) for positions in chosen]
    return np.take_along_axis(fraction, np.array(padded), axis=1)


def cover(good: NDArray[np.bool_]) -> list[int]:
    """Positions, greedily few, such that each row of `good` (checks by positions) is true at one of them."""
    left, chosen = good.copy(), []
    while len(left):
        best = int(np.argmax(left.sum(axis=0)))
        chosen.append(best)
        left = left[~left[:, best]]
    return sorted(chosen)


def main(source: Path, folder: Path) -> None:
    from analysis.handfiles import write
    from params.read import read_arm, read_material

    arm = read_arm(source)
    write(evaluate(arm, read_material(arm.material)), folder)


if __name__ == "__main__":
    with plainly():
        main(Path(sys.argv[1]), Path(sys.argv[2]))
