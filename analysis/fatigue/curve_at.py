"""Which S-N curve and mean-stress rule hold at each place: by the state of its surface, by fretting in a bore, by a weld all over a
region. The hand calculation, the mesh and the table of materials all ask here."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from analysis.fatigue import iiwclass, weldclass
from analysis.fatigue.curve import Curve
from analysis.fatigue.environment import curve_in
from analysis.fatigue.fretting import factors, fretted
from analysis.fatigue.meanstress import MeanRule, compression_credit, mean_rule
from analysis.fatigue.surface import curve, endurance
from analysis.fatigue.variants import CRACKED, Variant
from params.schema.bores import Bores, Region, Weld

Ints = NDArray[np.int64]


@dataclass(frozen=True)
class NodeCurves:
    """Curves with the mean-stress rule of each, and by node (n,) the number of its curve."""

    curves: tuple[Curve, ...]
    rules: tuple[MeanRule, ...]
    names: tuple[str, ...]  # of the curves, in words
    which: Ints


@dataclass(frozen=True)
class Law:
    """What cycles do to an unwelded surface: its curve, its mean-stress rule, and its state in words."""

    curve: Curve
    rule: MeanRule
    name: str


def surface_law(
    bores: Bores, variant: Variant, region: Region, tight: Collection[str], at_factor: int = 1
) -> Law:
    """The law of a region's unwelded surface; `tight` names the bores with interference, `at_factor` as `at` of
    `surface_curve`.
    """
    pressed = region.removesuffix("_bore") in tight
    smooth, name = surface_curve(bores, variant, region, pressed, at_factor)
    return Law(smooth, rule_of(bores, variant, region), name)


def surface_curve(
    bores: Bores, variant: Variant, region: Region, tight: bool, at: int = 1
) -> tuple[Curve, str]:
    """Curve of a region's unwelded surface and its name; every bore rubs, `tight` says whether under an interference fit or a
    pin with play; `at` 0, 1, 2: the fretting factor at least, as used, at most.

    Local elastic stress counts, notch sensitivity 1: the safe side.
    """
    material, finish = variant.material, variant.finish[region]
    strength = endurance(material.tensile_strength, finish, bores.reliability, bores.size_factor)
    plain = curve(material.tensile_strength, strength)
    if region in variant.wet and variant.environment != "air":
        plain, finish = curve_in(variant.environment, plain), f"{finish}, {variant.environment}"
    factor = factors(bores.fretting, tight)[at] if region.endswith("_bore") else 1.0
    if factor == 1.0:
        return plain, finish
    return fretted(plain, factor), f"{finish}, fretting {factor:g}"


def weld_curve(weld: Weld, variant: Variant, varying: bool) -> Curve:
    """Curve of a weld: EN 1993-1-9 category with size effect and partial factor, or IIW FAT class.

    The FAT class takes the thickness with the exponent 0.3 of a toe as welded, the partial factor of the EN table,
    and where the ranges vary half the cycles, which is IIW's Miner sum of 0.5. Weld classes have no mean-stress
    effect: residual stress of the weld already sits near yield.
    """
    factor = weldclass.PARTIAL_FACTOR[(weld.assessment, weld.consequence)]
    if weld.category is not None:
        return weldclass.direct(weld.category, factor, weld.thickness, variant.material.yield_strength)
    if weld.fat is None:
        raise ValueError("weld: has neither category nor fat; write one")
    fat_curve = iiwclass.curve(weld.fat, "direct", factor, varying)
    if weld.thickness is not None:
        fat_curve = fat_curve.weakened(iiwclass.thickness_factor(weld.thickness, 0.3), "thickness")
    return fat_curve.shortened(iiwclass.damage_limit(varying))


def rule_of(bores: Bores, variant: Variant, region: Region) -> MeanRule:
    """The file's mean-stress rule with the material's strengths; with the file's credit for compression in a region whose surface
    is not as deposited, which keeps the stresses of its making.
    """
    said, material = bores.mean_stress, variant.material
    lessened = said.compression == "lessened" and variant.finish[region] != "as-deposited"
    return mean_rule(
        said.rule,
        material.tensile_strength,
        material.yield_strength,
        said.true_fracture_strength,
        said.walker_exponent,
        compression_credit(material.tensile_strength, material.form == "cast") if lessened else 0.0,
    )


def welds_of(bores: Bores, variant: Variant) -> tuple[Weld, ...]:
    """The welds of an arm: the file's belong to the arm that it describes, not to the cracked one that it replaces."""
    return () if variant.name == CRACKED else bores.welds


def curves_at_nodes(
    bores: Bores,
    variant: Variant,
    regions: Mapping[Region, Ints],
    tight: Collection[str],
    nodes: int,
    varying: bool,
    at_factor: int = 1,
) -> NodeCurves:
    """The curve of every node; one in two regions takes the weaker (smaller range at 2e6 cycles).

    `tight` names the bores with interference; `varying` where a year has more than one kind of cycle; `at_factor` as `at` of
    `surface_curve`. The welds of the file are those of its own arm: the cracked one has none of them.
    """
    choices: list[tuple[Curve, MeanRule, str, Ints]] = []
    for region, at in regions.items():
        law = surface_law(bores, variant, region, tight, at_factor)
        choices.append((law.curve, law.rule, law.name, at))
    for weld in welds_of(bores, variant):
        if weld.arm is None:
            name = f"weld {weld.category:g}" if weld.category else f"weld FAT {weld.fat:g}"
            choices.append(
                (weld_curve(weld, variant, varying), mean_rule("none"), name, regions[weld.region])
            )
    choices.sort(key=lambda one: -float(one[0].allowable(2e6)))  # the weakest is written last
    which = np.zeros(nodes, np.int64)
    for number, (_, _, _, at) in enumerate(choices):
        which[at] = number
    curves, rules, names, _ = zip(*choices, strict=True)
    return NodeCurves(curves, rules, names, which)
