"""Welds with a station: nominal stress of the hand calculation at both flanges against their class."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

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

Floats = NDArray[np.float64]


@dataclass(frozen=True)
class Judged:
    """Both flanges at a weld, towards +eta first, and the number of the worse one."""

    curve: Curve
    worst_plane: Search
    life: Life
    worse: int


def judge(arm: Arm, hand: dict[str, Any], weld: Weld, variant: Variant, cycles: Cycles) -> Judged:
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


def nominal(arm: Arm, hand: dict[str, Any], weld: Weld) -> Floats:
    """Stress (S, 2, 6) along the arm at the weld's station by state as `year` numbers them, flange towards +eta first."""
    ends = [
        {case: flanges(one["stations"][weld.arm], weld) for case, one in hand[end].items()}
        for end in ("cases", "least")
    ]
    return by_load_state(arm, *ends)


def flanges(table: list[dict[str, Any]], weld: Weld) -> Floats:
    """Stress (2, 6) at the weld's station from the stations of its arm."""
    stress, s = np.zeros((2, 6)), [row["s"] for row in table]
    for side, name in enumerate(("sigma_plus", "sigma_minus")):
        stress[side, 0] = np.interp(weld.station or 0.0, s, [row[name] for row in table])
    return stress


def place(arm: Arm, weld: Weld) -> Floats:
    """Where a weld with a station lies on its arm's axis (3,), mm."""
    return np.array([*arm_datum(arm, weld.arm or "input").point(weld.station or 0.0), 0.0])


def name(weld: Weld) -> str:
    return f"weld {weld.category:g}" if weld.category else f"weld FAT {weld.fat:g}"


def weld_margins(arm: Arm, material: Material, hand: dict[str, Any]) -> dict[str, dict[str, Any]]:
    """Margin, range and allowable range (MPa), years and place (mm) of every weld with a station, by its name in words."""
    if arm.bores is None:
        return {}
    cycles, variant, margins = year(arm, arm.bores), this_arm(arm, material), {}
    for weld in arm.bores.welds:
        if weld.arm is None or weld.station is None:
            continue
        judged = judge(arm, hand, weld, variant, cycles)
        k, largest = judged.worse, float(judged.worst_plane.equivalent[judged.worse])
        beyond = judged.curve.most / largest - 1.0 if largest > judged.curve.most else np.inf
        margins[f"{weld.arm} arm, {name(weld)} at {show(weld.station, 'length', arm.units)}"] = {
            "margin": min(float(judged.life.margin[k]), beyond),
            "range": float(judged.worst_plane.range[k]),
            "allowable": float(judged.life.allowable_range[k]),
            "years": float(judged.life.years[k]),
            "at": place(arm, weld),
        }
    return margins
