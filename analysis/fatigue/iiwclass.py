"""S-N curves by FAT class, hot-spot stress and effective notch stress: the alternative to EN 1993-1-9.

Hobbacher, Recommendations for Fatigue Design of Welded Joints and Components, IIW-2259-15 (2016), from memory
where the published values of the tests do not hold it: FAT is the range at 2e6 cycles; direct stress m = 3
(parent material 5) with the knee at 1e7, shear m = 5 with the knee at 1e8; beyond the knee m = 22 at constant
amplitude, 2 m - 1 in a history of varying ranges. There is no cut-off.
"""

from __future__ import annotations

from typing import Literal

from analysis.fatigue.curve import Curve

Stress = Literal["direct", "shear", "parent"]

_IIW = "IIW-2259-15 (2016)"
_SHAPE: dict[str, tuple[float, float]] = {"direct": (3.0, 1e7), "shear": (5.0, 1e8), "parent": (5.0, 1e7)}


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


def damage_limit(varying: bool) -> float:
    """Miner sum allowed: 0.5 for a varying history, else 1 (4.3.1, from memory)."""
    return 0.5 if varying else 1.0
