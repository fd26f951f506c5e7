"""The arms that the bores' tables compare: this arm, this arm with the other fit, and the cracked arm.

The cracked arm has the shape of this file's, its own material, and the other fit where there is one: the old arm that this
one replaces.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import get_args

from params.files.read import read_material
from params.schema.arm import Arm
from params.schema.bores import BoreFit, BoreName, Finish, Region, Sizes
from params.schema.cracks import Environment, Toughness
from params.schema.material import Material

BY_HAND = "nominal stress by hand"  # so says the note of a life that comes from no place of the mesh
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
    residual: float | None  # MPa; None where the file does not say
    environment: Environment = "air"  # at its found cracks
    wet: frozenset[Region] = frozenset()  # the regions of these cracks

    @property
    def fits(self) -> str:
        """The fits in words, for a table."""
        texts = (f"{bore} {sizes.fit or 'as measured'}" for bore, sizes in self.sizes.items())
        return ", ".join(texts)


def this_arm(arm: Arm, material: Material) -> Variant:
    """The arm as its file says."""
    own: dict[BoreName, Sizes] = {name: fit.fit for name, fit in fits_of(arm).items()}
    tough = arm.cracks.toughness if arm.cracks else None
    residual = arm.cracks.residual_stress if arm.cracks else None
    return Variant(THIS, material, own, finishes(arm), "fit", tough, residual)


def variants(arm: Arm) -> list[Variant]:
    """This arm, then those that the file gives cause to compare it with."""
    this = this_arm(arm, read_material(arm.material, arm.library))
    fits, compared = fits_of(arm), [this]
    other: dict[BoreName, Sizes] = {name: fit.compare or fit.fit for name, fit in fits.items()}
    contact = "compare" if any(fit.compare for fit in fits.values()) else "fit"
    if contact == "compare":
        compared.append(replace(this, name=OTHER, sizes=other, contact=contact))
    if arm.cracks and arm.cracks.old_arm:
        old = arm.cracks.old_arm
        cast = read_material(old.material, arm.library)
        skin: dict[Region, Finish] = {
            region: unmachined_finish(finish, cast) for region, finish in this.finish.items()
        }
        cracked = Variant(CRACKED, cast, other, skin, contact, old.toughness, old.residual_stress)
        wet = frozenset(crack.region for crack in arm.found_cracks)
        compared.append(replace(cracked, environment=old.environment, wet=wet))
    return compared


def fits_of(arm: Arm) -> dict[BoreName, BoreFit]:
    """The fits that the file names, by bore."""
    return arm.bores.fits if arm.bores else {}


REGIONS: tuple[Region, ...] = (
    "pivot_bore",
    "input_bore",
    "output_bore",
    "pivot_faces",
    "input_faces",
    "output_faces",
    "outside",
)
ROUGHEST: tuple[Finish, ...] = get_args(Finish)  # the file's words stand from smooth to rough


def finishes(arm: Arm) -> dict[Region, Finish]:
    """State of every region's surface; one that the file leaves out is as rough as the roughest it names."""
    given: dict[Region, Finish] = {}
    if arm.bores:
        given |= {surface.region: surface.finish for surface in arm.bores.surfaces}
    worst = ROUGHEST[max((ROUGHEST.index(finish) for finish in given.values()), default=-1)]
    return {region: given.get(region, worst) for region in REGIONS}


def unmachined_finish(finish: Finish, material: Material) -> Finish:
    """The skin of an unmachined face follows from how the material comes to be."""
    return CAST if material.form == "cast" and finish not in ("ground", "machined") else finish
