"""From the parameter file to curves: which S-N curve and mean-stress rule stand at each named region.

Unwelded surfaces take the Marin curve of their finish on the local elastic stress (notch sensitivity 1, on
the safe side); bores with an interference fit take it times the fretting factor. Weld classes have no
mean-stress effect: residual stress of the weld already sits near yield.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from analysis.life import fretting, iiwclass, surface, weldclass
from analysis.life.curve import Curve
from analysis.life.meanstress import MeanRule, mean_rule
from analysis.life.plane import Search
from params.bores import Bores, Finish, Weld
from params.material import Material

Ints = NDArray[np.int64]
Factor = Literal["least", "used", "most"]


@dataclass(frozen=True)
class Strength:
    """Curve and mean-stress rule of a place, and the Miner sum at which its life ends."""

    curve: Curve
    rule: MeanRule
    limit: float = 1.0


def at_region(
    bores: Bores, material: Material, region: str, pressed: bool = False, factor: Factor = "used"
) -> Strength:
    """Strength of an unwelded surface; `pressed` where an interference fit rubs on it, with the fretting
    factor to use.

    Raises
    ------
    ValueError
        where the file gives the region no finish, or a pressed bore no fretting factor.
    """
    finish = _finish(bores, region)
    tensile = material.tensile_strength
    made = surface.endurance(tensile, finish, bores.reliability, bores.size_factor)
    curve = surface.curve(tensile, made)
    if pressed:
        if bores.fretting is None:
            raise ValueError(f"{region}: has an interference fit but bores.fretting is missing; add it")
        curve = fretting.fretted(curve, getattr(bores.fretting, factor))
    wanted = bores.mean_stress
    number = (wanted.true_fracture_strength, wanted.walker_exponent)
    return Strength(curve, mean_rule(wanted.rule, tensile, material.yield_strength, *number))


def _finish(bores: Bores, region: str) -> Finish:
    for one in bores.surfaces:
        if one.region == region:
            return one.finish
    known = ", ".join(one.region for one in bores.surfaces)
    raise ValueError(f"{region}: bores.surfaces gives it no finish, only {known}; add it")


def at_weld(weld: Weld, material: Material, varying: bool = True) -> Strength:
    """Strength at a weld: EN 1993-1-9 category with size effect and partial factor, or IIW FAT class.

    The FAT class takes the thickness with the exponent 0.3 of a toe as welded and the partial factor of the
    EN table.
    """
    share = weldclass.PARTIAL_FACTOR[weld.assessment, weld.consequence]
    rule = mean_rule("none")
    if weld.category is not None:
        return Strength(weldclass.direct(weld.category, share, weld.thickness, material.yield_strength), rule)
    if weld.fat is None:
        raise ValueError("weld: has neither category nor fat; write one")
    curve = iiwclass.curve(weld.fat, "direct", share, varying)
    if weld.thickness is not None:
        curve = curve.weakened(iiwclass.thickness_factor(weld.thickness, 0.3), "thickness")
    return Strength(curve, rule, iiwclass.damage_limit(varying))


def of_nodes(
    regions: Mapping[str, Ints], strengths: Mapping[str, Strength], count: int
) -> tuple[list[Strength], Ints]:
    """Strengths in a list and the number of its own for every one of `count` nodes, -1 where no region holds
    the node.

    `regions` are node numbers by name. A node on the border of regions takes the weaker one (smaller range at
    2e6 cycles).
    """
    listed = [strengths[name] for name in regions]
    at = np.array([float(one.curve.allowable(2e6)) for one in listed])
    which = np.full(count, -1)
    for number in np.argsort(-at, kind="stable"):
        which[list(regions.values())[number]] = number
    return listed, which


def beyond(found: Search, curves: list[Curve], which: Ints) -> NDArray[np.bool_]:
    """Nodes whose largest range is beyond what their curve holds for: their life is out of range, not a
    number.
    """
    return found.equivalent > np.array([curve.most for curve in curves])[which]
