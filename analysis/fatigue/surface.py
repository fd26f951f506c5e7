"""Fatigue strength of unwelded steel by state of its surface: endurance limit with Marin factors.

Budynas and Nisbett, Shigley's Mechanical Engineering Design, 9th ed. (2011), chapter 6; the surface constants
differ between editions and are those of this one (Table 6-2, metric). Stresses in MPa, sizes in mm.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from scipy.special import ndtri

from analysis.clauses.bounds import checked
from analysis.fatigue.curve import Curve
from params.schema.bores import Finish

_BOOK = "Shigley's Mechanical Engineering Design, 9th ed. (2011)"

# Table 6-2: ka = a Sut^b. No textbook has as-cast or as-deposited skin: both take the constants of as-forged,
# the roughest state it has (common practice, no source); a tested factor belongs in the arm's file.
SURFACE: dict[Finish, tuple[float, float]] = {
    "ground": (1.58, -0.085),
    "machined": (4.51, -0.265),
    "hot-rolled": (57.7, -0.718),
    "as-forged": (272.0, -0.995),
    "as-cast": (272.0, -0.995),
    "as-deposited": (272.0, -0.995),
}
LOAD = {"bending": 1.0, "axial": 0.85, "torsion": 0.59}  # Eq. 6-26; torsion only where von Mises is not used

LEAST, MOST = (
    200.0,
    2000.0,
)  # MPa, tensile strengths that the steels behind the constants had, rounded outward


@dataclass(frozen=True)
class Endurance:
    """Endurance limit as an amplitude, MPa, and what made it."""

    limit: float
    surface: float
    size: float
    load: float
    reliability: float
    fraction: float  # f: amplitude at 1e3 cycles over tensile strength


def surface_factor(tensile: float, finish: Finish) -> float:
    """ka = a Sut^b (Eq. 6-19), at most 1.

    >>> round(surface_factor(520.0, "machined"), 2)
    0.86
    """
    _strength(tensile)
    a, b = SURFACE[finish]
    return min(1.0, a * tensile**b)


def size_factor(diameter: float) -> float:
    """kb in bending and torsion of a round section, 2.79 to 254 mm (Eq. 6-20); use 1 for axial load (Eq.
    6-21).

    For a bar that does not rotate put 0.370 d (round) or 0.808 sqrt(h b) (rectangle) for the diameter (Eq.
    6-24, 6-25).
    """
    if not 2.79 <= diameter <= 254.0:
        raise ValueError(f"diameter {diameter:g} mm: the size factor holds for 2.79 to 254 mm")
    return (diameter / 7.62) ** -0.107 if diameter <= 51.0 else 1.51 * diameter**-0.157


def reliability_factor(reliability: float) -> float:
    """ke = 1 - 0.08 z for a standard deviation of 8 % (Eq. 6-29, Table 6-5); reliability as a share, 0.5 to
    0.999999.
    """
    if not 0.5 <= reliability <= 0.999_999_9:
        raise ValueError(f"reliability {reliability:g}: between 0.5 and 0.9999999 expected")
    return float(1.0 - 0.08 * ndtri(reliability))


def uncorrected(tensile: float) -> float:
    """Endurance limit of a polished rotating specimen: 0.5 Sut, 700 MPa over 1400 (Eq. 6-8)."""
    _strength(tensile)
    return 0.5 * tensile if tensile <= 1400.0 else 700.0


def strength_fraction(tensile: float) -> float:
    """f, amplitude at 1e3 cycles over Sut: 0.9 under 490 MPa (70 kpsi), else Eq. 6-10 to 6-12 (Fig. 6-18)."""
    if tensile < 490.0:
        return 0.9
    true = tensile + 345.0
    b = -math.log(true / uncorrected(tensile)) / math.log(2e6)
    return min(0.9, true / tensile * 2e3**b)


def endurance(
    tensile: float, finish: Finish, reliability: float = 0.99, size: float = 1.0, load: float = 1.0
) -> Endurance:
    """Endurance limit with Marin factors, Eq. 6-18 (temperature factor 1: -45 to 250 C)."""
    ka, ke = surface_factor(tensile, finish), reliability_factor(reliability)
    limit = ka * size * load * ke * uncorrected(tensile)
    return Endurance(limit, ka, size, load, ke, strength_fraction(tensile))


def curve(tensile: float, strength: Endurance, beyond: bool = True) -> Curve:
    """S-N curve of fully reversed ranges from (1e3, f Sut) to (1e6, Se), Eq. 6-13 to 6-15.

    A history that stays under the limit does no damage. Where some range exceeds it, smaller ones count on a
    flatter line of slope 2 m - 1 (Haibach's extension, from memory), or with `beyond` False not at all.
    """
    m = 3.0 / math.log10(strength.fraction * tensile / strength.limit)
    knee = 2.0 * strength.limit
    flatter, cut = 2.0 * m - 1.0, 0.0 if beyond else knee
    return Curve(
        "unwelded", knee, 1e6, m, flatter, knee, cut, 2.0 * strength.fraction * tensile, f"{_BOOK} Eq. 6-13"
    )


def _strength(tensile: float) -> None:
    checked("tensile strength", tensile, LEAST, MOST, "MPa", "range of the fatigue constants")
