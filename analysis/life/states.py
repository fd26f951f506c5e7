"""Which S-N curve holds at each node: by the state of its surface, by fretting in a tight bore, by a weld all over a region."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from analysis.life import iiwclass, weldclass
from analysis.life.curve import Curve
from analysis.life.fretting import fretted
from analysis.life.meanstress import MeanRule, mean_rule
from analysis.life.surface import curve, endurance
from analysis.life.variants import Variant
from params.bores import Bores, Region, Weld

Ints = NDArray[np.int64]


@dataclass(frozen=True)
class States:
    """Curves with the mean-stress rule of each, and by node (n,) the number of its curve."""

    curves: tuple[Curve, ...]
    rules: tuple[MeanRule, ...]
    names: tuple[str, ...]  # of the curves, in words
    which: Ints


def surface_curve(bores: Bores, variant: Variant, region: Region, tight: bool) -> tuple[Curve, str]:
    """Curve of a region's unwelded surface and its name; `tight` where an interference fit rubs in it."""
    steel, finish = variant.material, variant.finish[region]
    made = endurance(steel.tensile_strength, finish, bores.reliability, bores.size_factor)
    plain = curve(steel.tensile_strength, made)
    if tight and bores.fretting is not None:
        return fretted(plain, bores.fretting.used), f"{finish}, fretting {bores.fretting.used:g}"
    return plain, finish


def weld_curve(weld: Weld, variant: Variant) -> Curve:
    """Curve of a weld class with its partial factor."""
    factor = weldclass.PARTIAL_FACTOR[(weld.assessment, weld.consequence)]
    if weld.fat is not None:
        return iiwclass.curve(weld.fat, partial_factor=factor)
    if weld.category is None:
        raise ValueError("weld with neither category nor fat")
    return weldclass.direct(weld.category, factor, weld.thickness, variant.material.yield_strength)


def rule_of(bores: Bores, variant: Variant) -> MeanRule:
    """The file's mean-stress rule with the material's strengths."""
    said, steel = bores.mean_stress, variant.material
    return mean_rule(
        said.rule,
        steel.tensile_strength,
        steel.yield_strength,
        said.true_fracture_strength,
        said.walker_exponent,
    )


def states(
    bores: Bores, variant: Variant, regions: Mapping[Region, Ints], tight: Sequence[str], nodes: int
) -> States:
    """The curve of every node; one in two regions takes the weaker. `tight` names the bores with interference."""
    made: list[tuple[Curve, MeanRule, str, Ints]] = []
    for region, at in regions.items():
        found, name = surface_curve(bores, variant, region, region.removesuffix("_bore") in tight)
        made.append((found, rule_of(bores, variant), name, at))
    for weld in bores.welds:
        if weld.arm is None:
            name = f"weld {weld.category:g}" if weld.category else f"weld FAT {weld.fat:g}"
            made.append((weld_curve(weld, variant), mean_rule("none"), name, regions[weld.region]))
    made.sort(key=lambda one: -one[0].knee)  # the weakest is written last
    which = np.zeros(nodes, np.int64)
    for number, (_, _, _, at) in enumerate(made):
        which[at] = number
    curves, rules, names, _ = zip(*made, strict=True)
    return States(curves, rules, names, which)
