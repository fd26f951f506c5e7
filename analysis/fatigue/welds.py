"""Welds with a station: nominal stress of the hand calculation at both flanges against their class."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from analysis.contracts.elastic import FatigueMargin
from analysis.contracts.hand import HandFile, Station
from analysis.fatigue.curve import Curve
from analysis.fatigue.curve_at import weld_curve
from analysis.fatigue.cycles import by_load_state, year
from analysis.fatigue.damage import Life, life
from analysis.fatigue.duty import Cycles
from analysis.fatigue.meanstress import mean_rule
from analysis.fatigue.plane import Search, search
from analysis.fatigue.variants import Variant, this_arm
from geometry.datums import arm_datum
from params.schema.arm import Arm
from params.schema.bores import Weld
from params.schema.material import Material
from params.schema.units import show
from params.steps.arrays import Floats


@dataclass(frozen=True)
class Judged:
    """Both flanges at a weld, towards +eta first, and the number of the worse one."""

    curve: Curve
    worst_plane: Search
    life: Life
    worse: int


def judge(arm: Arm, hand: HandFile, weld: Weld, variant: Variant, cycles: Cycles) -> Judged:
    """A weld with a station under the cycles of a year; `hand` is hand.json."""
    curve = weld_curve(weld, variant, len(cycles) > 1)
    worst_plane = search(
        nominal(arm, hand, weld),
        cycles,
        [curve],
        [mean_rule("none")],
        np.zeros(2, np.int64),
        arm.duty.service_years,
    )
    lives = life(worst_plane)
    return Judged(curve, worst_plane, lives, int(np.argmin(lives.margin)))


def nominal(arm: Arm, hand: HandFile, weld: Weld) -> Floats:
    """Stress (S, 2, 6) along the arm at the weld's station by state as `year` numbers them, flange towards +eta first."""
    limb = weld.arm or "input"
    most = {case: flanges(one.stations[limb], weld) for case, one in hand.cases.items()}
    least = {case: flanges(one.stations[limb], weld) for case, one in hand.least.items()}
    return by_load_state(arm, most, least)


def flanges(table: Sequence[Station], weld: Weld) -> Floats:
    """Stress (2, 6) at the weld's station from the stations of its arm."""
    stress, s = np.zeros((2, 6)), [row.s for row in table]
    for side, values in enumerate(([row.sigma_plus for row in table], [row.sigma_minus for row in table])):
        stress[side, 0] = np.interp(weld.station or 0.0, s, values)
    return stress


def place(arm: Arm, weld: Weld) -> Floats:
    """Where a weld with a station lies on its arm's axis (3,), mm."""
    return np.array([*arm_datum(arm, weld.arm or "input").point(weld.station or 0.0), 0.0])


def name(weld: Weld) -> str:
    return f"weld {weld.category:g}" if weld.category else f"weld FAT {weld.fat:g}"


def weld_margins(arm: Arm, material: Material, hand: HandFile) -> dict[str, FatigueMargin]:
    """Margin, range and allowable range (MPa), years and place (mm) of every weld with a station, by its name in words."""
    if arm.bores is None:
        return {}
    cycles, variant, margins = year(arm, arm.bores), this_arm(arm, material), {}
    for weld in arm.bores.welds:
        if weld.arm is None or weld.station is None:
            continue
        x, y, z = place(arm, weld).tolist()
        judged = judge(arm, hand, weld, variant, cycles)
        k, largest = judged.worse, float(judged.worst_plane.equivalent[judged.worse])
        beyond = judged.curve.most / largest - 1.0 if largest > judged.curve.most else np.inf
        margins[f"{weld.arm} arm, {name(weld)} at {show(weld.station, 'length', arm.units)}"] = FatigueMargin(
            margin=min(float(judged.life.margin[k]), beyond),
            range=judged.worst_plane.range[k],
            allowable=judged.life.allowable_range[k],
            years=judged.life.years[k],
            at=(x, y, z),
        )
    return margins
