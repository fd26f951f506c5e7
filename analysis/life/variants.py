"""The arms that the bores' tables compare: this arm, this arm with the other fit, and the cracked arm.

The cracked arm has the shape of this file's, its own material, and the other fit where there is one: the old arm that this
one replaces.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import get_args

from params.arm import Arm
from params.bores import BoreFit, BoreName, Finish, Region, Sizes
from params.cracks import Toughness
from params.material import Material
from params.read import read_material

THIS, OTHER, CRACKED = "this arm", "this arm, other fit", "cracked arm"
CAST: Finish = "as-cast"


@dataclass(frozen=True)
class Variant:
    """One arm of the comparison; `contact` names the solved fit whose stresses are its own."""

    name: str
    material: Material
    sizes: dict[BoreName, Sizes]  # of the fit in each bore that has one
    finish: dict[Region, Finish]  # of each region
    contact: str  # fit or compare
    toughness: Toughness | None
    residual: float  # MPa

    @property
    def fits(self) -> str:
        """The fits in words, for a table."""
        told = (f"{bore} {sizes.fit or 'as measured'}" for bore, sizes in self.sizes.items())
        return ", ".join(told)


def variants(arm: Arm) -> list[Variant]:
    """This arm, then those that the file gives cause to compare it with."""
    bores, cracks = arm.bores, arm.cracks
    fits: dict[BoreName, BoreFit] = bores.fits if bores else {}
    own: dict[BoreName, Sizes] = {name: fit.fit for name, fit in fits.items()}
    other: dict[BoreName, Sizes] = {name: fit.compare or fit.fit for name, fit in fits.items()}
    finish = finishes(arm)
    steel, tough = read_material(arm.material), cracks.toughness if cracks else None
    residual = cracks.residual_stress if cracks else 0.0
    found = [Variant(THIS, steel, own, finish, "fit", tough, residual)]
    contact = "compare" if any(fit.compare for fit in fits.values()) else "fit"
    if contact == "compare":
        found.append(Variant(OTHER, steel, other, finish, contact, tough, residual))
    if cracks and cracks.old_arm:
        old = cracks.old_arm
        cast = read_material(old.material)
        skin: dict[Region, Finish] = {region: as_made(state, cast) for region, state in finish.items()}
        found.append(Variant(CRACKED, cast, other, skin, contact, old.toughness, old.residual_stress))
    return found


REGIONS: tuple[Region, ...] = (
    "pivot_bore", "input_bore", "output_bore", "pivot_faces", "input_faces", "output_faces", "outside",
)  # fmt: skip
ROUGHEST: tuple[Finish, ...] = get_args(Finish)  # the file's words stand from smooth to rough


def finishes(arm: Arm) -> dict[Region, Finish]:
    """State of every region's surface; one that the file leaves out is as rough as the roughest it names."""
    told: dict[Region, Finish] = {}
    if arm.bores:
        told |= {surface.region: surface.finish for surface in arm.bores.surfaces}
    worst = ROUGHEST[max((ROUGHEST.index(finish) for finish in told.values()), default=-1)]
    return {region: told.get(region, worst) for region in REGIONS}


def as_made(state: Finish, material: Material) -> Finish:
    """The skin of an unmachined face follows from how the material comes to be."""
    return CAST if material.form == "cast" and state not in ("ground", "machined") else state
