"""Toughness where the file's method does not hold: the next best conservative bound, named as such.

What is out of the method's range and the bound that stands in for it:

- yield strength or Charpy energy of the means of Barsom and Rolfe: the lower bound of BS 7910 Annex J;
- a wall thicker than 500 mm: the thickness effect (25/B)^0.25 carried on, which only lowers the toughness (the weakest link of a
  longer crack front; ASTM E1921 has no upper end to it); one thinner than 5 mm counts as 5 mm, where the effect would raise it;
- Charpy energy over 400 J counts as 400 J, a temperature more than 50 K above T0 as 50 K: toughness rises with both;
- Charpy energy under 3 J, or more than 50 K below T0: the lower shelf of ferritic steel, 20 MPa root m.

Colder than the coldest Charpy test there is no bound: that is refused.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from analysis.fracture.found import charpy_data, toughness_of
from analysis.fracture.toughness import LEAST, lower_formula, master_formula, shelf_formula
from params.schema.cracks import Cracks
from params.schema.material import Material
from params.schema.units import System, show
from params.steps.out_of_range import by_bound
from params.steps.problems import OutOfRange

THIN, THICK = 5.0, 500.0  # mm, range of the formulas' thickness
FAINT, STRONG = 3.0, 400.0  # J, range of BS 7910 J.2.1
FAR = 50.0  # K from T0, ASTM E1921
SHELF = "the lower shelf of ferritic steel, 20 MPa m0.5"


@dataclass(frozen=True)
class Tough:
    """Toughness in N/mm^1.5; `note` says why, where it is a bound in place of the method's value."""

    value: float
    note: str = ""


def toughness_or_bound(cracks: Cracks, material: Material, thickness: float, units: System) -> Tough:
    """Toughness at the coldest temperature in a wall of this thickness (mm), or the conservative bound on it.

    Raises OutOfRange where there is no bound either.
    """
    try:
        return Tough(toughness_of(cracks, material, thickness))
    except OutOfRange as refusal:
        value, bound = (_master if cracks.toughness.reference_temperature is not None else _charpy)(
            cracks, thickness, units
        )
        return Tough(value, by_bound(refusal.message(units), bound))


def _master(cracks: Cracks, thickness: float, units: System) -> tuple[float, str]:
    above = cracks.coldest - (cracks.toughness.reference_temperature or 0.0)
    share = cracks.scatter.fractile if cracks.scatter else 0.05
    if above < -FAR:
        return LEAST, SHELF
    counted, wall = _wall(thickness, units)
    warm = "counted as 50 K above T0" if above > FAR else ""
    value = float(master_formula(min(above, FAR), counted, share))
    return value, ", ".join(filter(None, ("master curve", warm, wall)))


def _charpy(cracks: Cracks, thickness: float, units: System) -> tuple[float, str]:
    lowest = cracks.toughness.model_copy(
        update={"method": "lower bound"}
    )  # which counts single values, not means
    energy = charpy_data(lowest).at(cracks.coldest)
    if energy < FAINT:
        return LEAST, SHELF
    counted, wall = _wall(thickness, units)
    strong = f"energy counted as {show(STRONG, 'energy', units)}" if energy > STRONG else ""
    energy = min(energy, STRONG)
    value = float(np.minimum(lower_formula(energy, counted), shelf_formula(energy)))
    return value, ", ".join(filter(None, ("lower bound of BS 7910 Annex J", strong, wall)))


def _wall(thickness: float, units: System) -> tuple[float, str]:
    """The thickness that counts, mm, and what to say of it."""
    if thickness < THIN:
        return THIN, f"thickness counted as {show(THIN, 'length', units)}"
    far = f"its thickness effect carried on to {show(thickness, 'length', units)}, which lowers it"
    return thickness, far if thickness > THICK else ""
