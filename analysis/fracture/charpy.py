"""Which Charpy energy counts, in words: the arm's file before the material's."""

from __future__ import annotations

import numpy as np

from params.schema.cracks import Toughness
from params.schema.material import Material
from params.schema.units import System, show


def energies(said: Toughness, coldest: float) -> tuple[float, float]:
    """Mean and counted Charpy energy at the coldest temperature, J."""
    at = [point.temperature for point in said.charpy]
    mean = np.interp(coldest, at, [point.energy for point in said.charpy])
    return float(mean), float(np.interp(coldest, at, said.counted))


def counts(said: Toughness, material: Material, coldest: float, units: System) -> str:
    """A note where the arm's file and the material's give different energies; empty where they do not."""
    specified = material.charpy_for(coldest)
    if said.reference_temperature is not None:
        return "toughness from T0 in the arm's file; Charpy energies do not count"
    mean, _ = energies(said, coldest)
    if specified is None or abs(specified.energy - mean) <= 0.01 * mean:
        return ""
    energy = f"{show(mean, 'energy', units)} at {show(coldest, 'temperature', units)}"
    other = (
        f"{show(specified.energy, 'energy', units)} at {show(specified.temperature, 'temperature', units)}"
    )
    return f"Charpy of the arm's file counts ({energy}), not that of the material's file ({other})"
