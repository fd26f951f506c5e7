"""S-N curves of welded and plain details after EN 1993-1-9:2005, as nominal stress ranges.

Section 7.1: direct stress, m = 3 to 5e6 cycles, m = 5 to the cut-off at 1e8; shear stress, m = 5 to the
cut-off at 1e8. Table 3.1: partial factor. Table 8.3: size effect. Section 8(3), Eq. 8.3: direct and shear
together. The categories are for nominal stress beside the detail: a peak from the mesh at the weld needs a
hot-spot class (see `iiwclass`). The edition of 2005 is meant throughout; later editions differ.
"""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import ArrayLike

from analysis.fatigue.curve import Curve
from params.schema.weldclasses import CATEGORIES, SHEAR_CATEGORIES
from params.steps.arrays import Floats

_EN = "EN 1993-1-9:2005"

# Table 3.1: recommended partial factor by assessment and consequence of failure.
PARTIAL_FACTOR = {
    ("damage tolerant", "low"): 1.00,
    ("damage tolerant", "high"): 1.15,
    ("safe life", "low"): 1.15,
    ("safe life", "high"): 1.35,
}

CAFL = (2.0 / 5.0) ** (1.0 / 3.0)  # of the category, at 5e6 cycles (7.1(2))
CUT_OFF = (5.0 / 100.0) ** (1.0 / 5.0)  # of the constant amplitude limit, at 1e8 cycles (7.1(3))
SHEAR_CUT_OFF = (2.0 / 100.0) ** (1.0 / 5.0)  # of the shear category, at 1e8 cycles (7.1(2))


def direct(
    category: float,
    partial_factor: float = 1.0,
    thickness: float | None = None,
    yield_strength: float = math.inf,
) -> Curve:
    """Curve of direct stress for a detail category (MPa at 2e6 cycles).

    Parameters
    ----------
    thickness
        mm, for details to which the size effect applies (transverse butt welds, Table 8.3).
    yield_strength
        MPa; ranges over 1.5 fy are out of the clause's range (8(1)).

    >>> round(direct(80).limit, 2), round(direct(80).cut_off, 2)
    (58.94, 32.38)
    """
    _known(category, CATEGORIES, "detail category")
    strength = category * _share(partial_factor) * (size_effect(thickness) if thickness is not None else 1.0)
    knee = CAFL * strength
    title = f"{_EN} category {category:g}"
    return Curve(
        title, knee, 5e6, 3.0, 5.0, knee, CUT_OFF * knee, 1.5 * yield_strength, f"{_EN} 7.1, Fig. 7.1"
    )


def shear(category: float, partial_factor: float = 1.0, yield_strength: float = math.inf) -> Curve:
    """Curve of shear stress; its limit is its cut-off (7.1(2), Fig. 7.2). Ranges over 1.5 fy/sqrt(3) are out
    of range.
    """
    _known(category, SHEAR_CATEGORIES, "shear detail category")
    strength = category * _share(partial_factor)
    most = 1.5 * yield_strength / math.sqrt(3.0)
    cut = SHEAR_CUT_OFF * strength
    return Curve(
        f"{_EN} shear category {category:g}", strength, 2e6, 5.0, 5.0, cut, cut, most, f"{_EN} 7.1, Fig. 7.2"
    )


def size_effect(thickness: float) -> float:
    """ks = (25/t)^0.2 for t over 25 mm, Table 8.3.

    >>> size_effect(20.0)
    1.0
    """
    if thickness <= 0.0:
        raise ValueError(f"thickness {thickness:g} mm: must be positive")
    return min(1.0, (25.0 / thickness) ** 0.2)


def combined(
    direct_range: ArrayLike, direct_allowed: ArrayLike, shear_range: ArrayLike, shear_allowed: ArrayLike
) -> Floats:
    """Use of direct and shear stress together, Eq. 8.3: (ds/ds_R)^3 + (dt/dt_R)^5, at most 1."""
    s = np.asarray(direct_range, float) / np.asarray(direct_allowed, float)
    t = np.asarray(shear_range, float) / np.asarray(shear_allowed, float)
    return s**3 + t**5


def _known(category: float, known: tuple[float, ...], what: str) -> None:
    if category not in known:
        near = min(known, key=lambda one: abs(one - category))
        raise ValueError(f"{what} {category:g}: not in {_EN}; nearest {near:g}")


def _share(partial_factor: float) -> float:
    if not 1.0 <= partial_factor <= 2.0:
        raise ValueError(
            f"partial factor {partial_factor:g}: between 1.0 and 2.0 expected (Table 3.1: 1.00 to 1.35)"
        )
    return 1.0 / partial_factor
