"""What is known of a steel's toughness: what the arm's file says of its own and of the old one, else the steel's Charpy minimum."""

from __future__ import annotations

from analysis.fracture.charpy import counts
from params.schema.arm import Arm
from params.schema.cracks import CharpyPoint, Toughness
from params.schema.material import Material


def toughness_data(arm: Arm, material: Material) -> tuple[Toughness | None, str]:
    """What is known of a material's Charpy energy at the arm's coldest temperature, and where it comes from."""
    cracks = arm.cracks
    if cracks is None:
        return None, "the arm's file has no section cracks"
    if material.name == arm.material:
        return cracks.toughness, counts(cracks.toughness, material, cracks.coldest, arm.units)
    if cracks.old_arm and material.name == cracks.old_arm.material:
        differs = counts(cracks.old_arm.toughness, material, cracks.coldest, arm.units)
        return cracks.old_arm.toughness, "; ".join(filter(None, ("Charpy of the old arm", differs)))
    charpy = material.charpy_for(cracks.coldest)
    if charpy is None:
        return None, "no Charpy energy specified at the coldest temperature"
    point = CharpyPoint.model_construct(temperature=charpy.temperature, energy=charpy.energy)
    said = Toughness.model_construct(
        charpy=(point,), held_when_warmer=True, method="lower bound", reference_temperature=None
    )
    return (
        said,
        "specified minimum Charpy"
        if charpy == material.charpy
        else "Charpy energy to be specified at purchase",
    )
