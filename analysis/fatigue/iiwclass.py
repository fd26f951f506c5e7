"""S-N curves by FAT class, hot-spot stress and effective notch stress: the alternative to EN 1993-1-9.

Hobbacher, Recommendations for Fatigue Design of Welded Joints and Components, IIW-2259-15 (2016), from memory
where the published values of the tests do not hold it: FAT is the range at 2e6 cycles; direct stress m = 3
(parent material 5) with the knee at 1e7, shear m = 5 with the knee at 1e8; beyond the knee m = 22 at constant
amplitude, 2 m - 1 in a history of varying ranges. There is no cut-off.
"""

from __future__ import annotations

from typing import Literal

import numpy as np
from numpy.typing import ArrayLike

from analysis.fatigue.curve import Curve
from params.steps.arrays import Floats

Stress = Literal["direct", "shear", "parent"]

_IIW = "IIW-2259-15 (2016)"
_SHAPE: dict[str, tuple[float, float]] = {"direct": (3.0, 1e7), "shear": (5.0, 1e8), "parent": (5.0, 1e7)}

HOT_SPOT = {
    "non-load-carrying": 100.0,
    "load-carrying": 90.0,
}  # FAT for structural hot-spot stress at a fillet toe
EFFECTIVE_NOTCH = 225.0  # FAT for the notch stress with a fictitious radius of 1 mm, steel


def curve(fat: float, stress: Stress = "direct", partial_factor: float = 1.0, varying: bool = True) -> Curve:
    """Curve of a FAT class (MPa at 2e6 cycles); `partial_factor` is gamma_M, 1.0 to 1.4.

    >>> round(curve(90).knee, 2)
    52.63
    """
    if not 30.0 <= fat <= 300.0:
        raise ValueError(f"FAT {fat:g}: between 30 and 300 MPa expected")
    if not 1.0 <= partial_factor <= 1.4:
        raise ValueError(f"partial factor {partial_factor:g}: between 1.0 and 1.4 expected")
    slope, knee = _SHAPE[stress]
    at_knee = fat / partial_factor * (2e6 / knee) ** (1.0 / slope)
    beyond = 2.0 * slope - 1.0 if varying else 22.0
    if stress == "shear" and varying:
        beyond = slope  # the shear curve goes on straight in a varying history
    return Curve(f"{_IIW} FAT {fat:g} {stress}", at_knee, knee, slope, beyond, source=_IIW)


def thickness_factor(thickness: float, exponent: float) -> float:
    """(25/t)^n for t over 25 mm; n = 0.3 as-welded toe, 0.2 ground, 0.1 parent (from memory)."""
    if thickness <= 0.0 or not 0.0 <= exponent <= 0.3:
        raise ValueError(
            f"thickness {thickness:g} mm, exponent {exponent:g}: t > 0 and n from 0 to 0.3 expected"
        )
    return min(1.0, (25.0 / thickness) ** exponent)


def hot_spot(near: ArrayLike, far: ArrayLike, mesh: Literal["fine", "coarse"] = "fine") -> Floats:
    """Structural hot-spot stress from two surface stresses before the toe.

    fine: read at 0.4 t and 1.0 t; coarse: at 0.5 t and 1.5 t of the plate thickness t.

    >>> round(float(hot_spot(180.0, 150.0)), 1)
    200.1
    """
    factors = (1.67, 0.67) if mesh == "fine" else (1.5, 0.5)
    return factors[0] * np.asarray(near, float) - factors[1] * np.asarray(far, float)


def notch_curve(partial_factor: float = 1.0, varying: bool = True) -> Curve:
    """Curve for effective notch stress in steel, plates of 5 mm and thicker."""
    return curve(EFFECTIVE_NOTCH, "direct", partial_factor, varying)


def damage_limit(varying: bool) -> float:
    """Miner sum allowed: 0.5 for a varying history, else 1 (4.3.1, from memory)."""
    return 0.5 if varying else 1.0
