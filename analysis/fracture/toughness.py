"""Toughness from Charpy energy and temperature. N/mm^1.5 (MPa root mm), J, MPa, mm, degrees C inside.

Published correlations are in ksi root inch or MPa root metre; the constants below bring them inside. Every one
has its range of validity, enforced: outside of it ValueError says so in one line, nothing is extrapolated.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from analysis.clauses.bounds import checked
from params.schema.units import J_PER_FOOT_POUND, MM_PER_IN, MPA_PER_KSI, System, show, shown_unit
from params.steps.problems import OutOfRange

Floats = NDArray[np.float64]

INCH, KSI, FOOT_POUND = MM_PER_IN, MPA_PER_KSI, J_PER_FOOT_POUND
MPA_ROOT_M = math.sqrt(1000.0)  # N/mm^1.5
KSI_ROOT_INCH = KSI * math.sqrt(INCH)  # N/mm^1.5

# Upper shelf in SI, (K/s)^2 = SLOPE (CVN/s - OFFSET) with K in MPa root m, s in MPa, CVN in J.
SHELF_SLOPE = 5.0 * (INCH / 1000.0) / (FOOT_POUND / KSI)  # m MPa/J
SHELF_OFFSET = 0.05 * FOOT_POUND / KSI  # J/MPa
LEAST = 20.0 * MPA_ROOT_M  # lower bound of toughness of ferritic steel, master curve and BS 7910 Annex J


@dataclass(frozen=True)
class CharpyData:
    """Energies (J) at temperatures (degrees C), rising; `held_when_warmer` for a specified minimum."""

    temperatures: tuple[float, ...]
    energies: tuple[float, ...]
    held_when_warmer: bool = False

    def __post_init__(self) -> None:
        if not self.temperatures or len(self.temperatures) != len(self.energies):
            raise ValueError("Charpy data: one energy for every temperature expected")
        if any(b <= a for a, b in zip(self.temperatures[:-1], self.temperatures[1:], strict=True)):
            raise ValueError("Charpy data: temperatures must rise")

    def at(self, temperature: float) -> float:
        """Energy in J, linear between two tests; colder than the coldest test is refused, and warmer than the
        warmest unless the energy is held there (a specified minimum holds at every warmer temperature).
        """
        most = math.inf if self.held_when_warmer else self.temperatures[-1]
        if not self.temperatures[0] <= temperature <= most:
            raise self._refused(temperature)
        return float(np.interp(temperature, self.temperatures, self.energies))

    def _refused(self, temperature: float) -> OutOfRange:
        def message(units: System) -> str:
            at, first, last = (
                show(one, "temperature", units, unit=False) if units == "us" else f"{one:.1f}"
                for one in (temperature, self.temperatures[0], self.temperatures[-1])
            )
            unit = shown_unit("temperature", units)
            return (
                f"toughness at {at} {unit}: the Charpy data go from {first} to {last} {unit};"
                " test at that temperature, nothing is extrapolated"
            )

        return OutOfRange(message("si"), message)


def upper_shelf(charpy: ArrayLike, yield_strength: ArrayLike) -> Floats:
    """Upper shelf: (KIc/sys)^2 = 5 (CVN/sys - 0.05), ksi root in, ksi, ft-lb. N/mm^1.5.

    Barsom & Rolfe, ASTM STP 466 (1970) 281-302; Rolfe & Novak, ASTM STP 463 (1970). Yield strength 690 to 1720
    MPa (100 to 250 ksi), CVN 22 to 123 J (16 to 90 ft-lb): the steels it was drawn through, from memory.

    >>> round(float(upper_shelf(89 * FOOT_POUND, 149 * KSI)) / KSI_ROOT_INCH, 1)
    246.5
    """
    source = "upper shelf of Barsom, Rolfe and Novak"
    yields = checked("yield strength", yield_strength, 689.0, 1725.0, "MPa", source)
    energy = checked("Charpy energy", charpy, 21.0, 123.0, "J", source)
    return yields * np.sqrt(SHELF_SLOPE * (energy / yields - SHELF_OFFSET)) * MPA_ROOT_M


def transition(charpy: ArrayLike, elastic_modulus: ArrayLike) -> Floats:
    """Transition: KIc^2/E = 2 CVN^1.5, psi, in, ft-lb; static loading. N/mm^1.5.

    Barsom & Rolfe, ASTM STP 466 (1970) 281-302. CVN 4 to 82 J (3 to 60 ft-lb), from memory; a tougher steel is
    past its transition.

    >>> round(float(transition(20 * FOOT_POUND, 30e3 * KSI)) / KSI_ROOT_INCH, 2)
    73.26
    """
    energy = checked("Charpy energy", charpy, 4.0, 82.0, "J", "transition of Barsom and Rolfe") / FOOT_POUND
    psi = np.asarray(elastic_modulus, float) / KSI * 1000.0
    return np.sqrt(2.0 * psi * energy**1.5) / 1000.0 * KSI_ROOT_INCH


def lower_bound(charpy: ArrayLike, thickness: ArrayLike) -> Floats:
    """Lower bound in the transition: Kmat = (12 sqrt(Cv) - 20) (25/B)^0.25 + 20, MPa root m, J, mm. N/mm^1.5.

    BS 7910:2013 Annex J (J.2.1). Cv at the temperature of the assessment, 3 J and more; B 5 to 500 mm is a
    limit of this project. `from_charpy` keeps it below `shelf_bound`, which the annex puts beside it.

    >>> round(float(lower_bound(27.0, 25.0)) / MPA_ROOT_M, 2)
    62.35
    """
    energy = checked("Charpy energy", charpy, 3.0, 400.0, "J", "BS 7910 J.2.1")
    thick = checked("thickness", thickness, 5.0, 500.0, "mm", "BS 7910 J.2.1")
    return lower_formula(energy, thick)


def lower_formula(energy: ArrayLike, thickness: ArrayLike) -> Floats:
    """The formula of `lower_bound` alone; its range is the caller's to keep. N/mm^1.5, J, mm."""
    size = (25.0 / np.asarray(thickness, float)) ** 0.25
    return ((12.0 * np.sqrt(energy) - 20.0) * size + 20.0) * MPA_ROOT_M


def shelf_bound(charpy: ArrayLike) -> Floats:
    """Lower bound on the upper shelf: Kmat = 0.54 Cv + 55, MPa root m, J. N/mm^1.5.

    BS 7910 Annex J (upper shelf behaviour), from memory.
    """
    return shelf_formula(checked("Charpy energy", charpy, 3.0, 400.0, "J", "BS 7910 Annex J"))


def shelf_formula(energy: ArrayLike) -> Floats:
    """The formula of `shelf_bound` alone; its range is the caller's to keep. N/mm^1.5, J."""
    return (0.54 * np.asarray(energy, float) + 55.0) * MPA_ROOT_M


def master_curve(
    temperature: ArrayLike, t0: ArrayLike, thickness: ArrayLike = 25.0, chance: ArrayLike = 0.5
) -> Floats:
    """Toughness that a share `chance` of specimens falls below. N/mm^1.5, degrees C, mm.

    K = 20 + (11 + 77 exp[0.019 (T - T0)]) (25/B)^0.25 (ln 1/(1-P))^0.25 MPa root m, ASTM E1921; its median at
    25 mm is the standard's rounded 30 + 70 exp[0.019 (T - T0)] within 0.4 %. T - T0 within 50 degrees either
    way, as the standard asks of tests.
    """
    share = checked("chance", chance, 1e-6, 1.0 - 1e-6)
    thick = checked("thickness", thickness, 5.0, 500.0, "mm", "ASTM E1921")
    above = np.asarray(temperature, float) - np.asarray(t0, float)
    checked("T - T0", above, -50.0, 50.0, "degC", "ASTM E1921")
    return master_formula(above, thick, share)


def master_formula(above: ArrayLike, thickness: ArrayLike, share: ArrayLike) -> Floats:
    """The formula of `master_curve` alone, `above` = T - T0; its range is the caller's to keep. N/mm^1.5, K, mm."""
    size = (25.0 / np.asarray(thickness, float)) ** 0.25
    scale = (11.0 + 77.0 * np.exp(0.019 * np.asarray(above, float))) * size
    return (20.0 + scale * (-np.log1p(-np.asarray(share, float))) ** 0.25) * MPA_ROOT_M


def fracture_energy(toughness: ArrayLike, elastic_modulus: float, poisson_ratio: float) -> Floats:
    """Energy to extend a crack, plane strain: G = K^2 (1 - nu^2)/E, N/mm (Irwin)."""
    return np.asarray(toughness, float) ** 2 * (1.0 - poisson_ratio**2) / elastic_modulus


METHODS: Sequence[str] = ("lower bound", "transition", "upper shelf")


def from_charpy(
    method: str, charpy: float, *, yield_strength: float, elastic_modulus: float, thickness: float
) -> float:
    """Toughness by one of METHODS, N/mm^1.5; what a correlation does not hold for is refused in one line."""
    if method == "lower bound":
        return float(np.minimum(lower_bound(charpy, thickness), shelf_bound(charpy)))
    if method == "transition":
        return float(transition(charpy, elastic_modulus))
    if method == "upper shelf":
        return float(upper_shelf(charpy, yield_strength))
    raise ValueError(f"toughness method {method!r}: one of {', '.join(METHODS)} expected")
